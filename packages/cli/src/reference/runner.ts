/** What came of one case of a reference file. A case that a runner cannot do yet is skipped with the reason, never passed. */
export interface CaseResult {
  id: string
  outcome: 'passed' | 'failed' | 'skipped'
  detail?: string
}

/** Runs all cases of one kind in a folder. */
export type Runner = (directory: string) => CaseResult[]
