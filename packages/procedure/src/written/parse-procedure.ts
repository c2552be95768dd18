import { type Issue } from '@halfsplit/core'
import { checkRawText, Fields, IssueList, named, readTree, section, type System } from '@halfsplit/system'
import { checkWays } from './check-ways.js'
import type { Procedure, Step } from './model.js'
import { readStep } from './read-step.js'

/** Version of the form of written procedures that this project reads. */
export const PROCEDURE_VERSION = '1'

const TOP_KEYS = ['procedure', 'title', 'about', 'invented', 'complaint', 'warnings', 'steps'] as const
const EXAMPLE = 'procedure: 1'
const STEP_EXAMPLE = 'lamp: { in: on, look: H1.light, expect: bright, pass: nothing found, fail: replace H1 }'

/** What `parseProcedure` returns: the procedure, or what is wrong with it. */
export interface ParsedProcedure {
  /** Undefined if any issue is an error. */
  procedure?: Procedure
  issues: Issue[]
}

/**
 * Reads a written procedure for a described machine.
 * @param text the file's text   @param file its name, for the positions of issues
 * @param system the machine it is for: its states, points, looks and repairs are the names a procedure may use
 * @returns the procedure, limits in SI, and every mistake found; never throws on account of the text.
 * Codes: docs/reference/issues.md; the form: docs/reference/procedure.md.  Checked in tests/system/malformed/procedures.
 */
export function parseProcedure(text: string, file: string, system: System): ParsedProcedure {
  const issues = new IssueList()
  if (text.split('\n').every((line) => /^\s*(#|$)/.test(line))) {
    const fix = `begin with "procedure: ${PROCEDURE_VERSION}" and a list of steps`
    issues.add('FILE_EMPTY', 'the procedure is empty', { file, line: 1, column: 1, length: 1 }, { fix })
    return { issues: issues.sorted() }
  }
  checkRawText(text, file, issues)
  const tree = issues.hasErrors ? undefined : readTree(text.replace(/^\ufeff/, ''), file, issues)
  const top = tree && Fields.of(issues, tree, 'the procedure', TOP_KEYS, EXAMPLE)
  const procedure = top && readProcedure(issues, top, system, file)
  return issues.hasErrors ? { issues: issues.sorted() } : { procedure, issues: issues.sorted() }
}

function readProcedure(issues: IssueList, top: Fields, system: System, file: string): Procedure {
  checkVersion(issues, top)
  if (!top.get('steps'))
    issues.add('KEY_MISSING', 'the procedure has no steps', top.at, {
      expected: `"steps: { ${STEP_EXAMPLE} }"`,
      fix: 'add "steps:"',
    })
  const entries = section(issues, top.get('steps'), STEP_EXAMPLE)
  const ids = new Set(entries.map(({ key }) => key))
  const steps: Step[] = []
  for (const [i, entry] of entries.entries()) {
    const first = entries.findIndex(({ key }) => key === entry.key)
    if (first < i) {
      const related = [{ position: entries[first].keyAt, message: 'first given here' }]
      issues.add('DUPLICATE_NAME', `the step "${entry.key}" is given twice`, entry.keyAt, {
        related,
        fix: 'give one of them another name',
      })
      continue
    }
    const step = readStep(issues, entry, system, ids)
    if (step) steps.push(step)
  }
  if (!issues.hasErrors) checkWays(issues, steps)
  return {
    title: top.text('title') ?? file.replace(/^.*[/\\]/, ''),
    about: top.text('about') ?? '',
    invented: top.yes('invented'),
    complaint: complaintOf(issues, top, system),
    warnings: top.texts('warnings'),
    steps,
  }
}

function checkVersion(issues: IssueList, top: Fields): void {
  const entry = top.get('procedure')
  const version = top.text('procedure')
  if (version === PROCEDURE_VERSION) return
  const details = {
    expected: `version ${PROCEDURE_VERSION} of the form of procedures`,
    fix: `begin the file with "procedure: ${PROCEDURE_VERSION}"`,
  }
  if (!entry) issues.add('VERSION_MISSING', 'the version of the form is missing', top.at, details)
  else if (version !== undefined)
    issues.add('VERSION_UNKNOWN', 'this version of the form is not known', entry.value.at, {
      ...details,
      received: named(version),
    })
}

function complaintOf(issues: IssueList, top: Fields, system: System): string | undefined {
  const entry = top.get('complaint')
  const id = top.text('complaint')
  if (!entry || id === undefined) return undefined
  const ids = system.complaints.map((one) => one.id)
  if (ids.includes(id)) return id
  issues.add('UNKNOWN_COMPLAINT', 'the description has no such complaint', entry.value.at, {
    expected: ids.length ? `one of ${ids.join(', ')}` : 'a complaint; the description has none',
    received: named(id),
    nearest: issues.nearest(id, ids),
  })
  return undefined
}
