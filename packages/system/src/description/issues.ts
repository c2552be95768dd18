import { type Issue, issue, nearestNames, type Position } from '@halfsplit/core'

const MOST_SHOWN = 100

/** The mistakes found in one file, in the order of the text when handed over. */
export class IssueList {
  private readonly found = new Map<string, Issue>()

  /** Adds an issue; the same mistake at the same place (in an assembly used twice, say) counts once. */
  add(code: string, message: string, position: Position, details: Partial<Issue> = {}): void {
    const key = `${code}|${details.expected}|${position.line}:${position.column}`
    if (!this.found.has(key)) this.found.set(key, issue(code, message, { position, ...details }))
  }

  warn(code: string, message: string, position: Position, details: Partial<Issue> = {}): void {
    this.add(code, message, position, { severity: 'warning', ...details })
  }

  get hasErrors(): boolean {
    return [...this.found.values()].some((one) => one.severity === 'error')
  }

  /** Names like a wrong one, for the issues that will be shown: looking through many names costs time. */
  nearest(word: string, names: Iterable<string>): string[] {
    return this.found.size < MOST_SHOWN ? nearestNames(word, names) : []
  }

  /** By line and column, at most a hundred, errors before warnings if there are more; one more says how many were left out. */
  sorted(): Issue[] {
    const all = [...this.found.values()].sort((p, q) => order(p) - order(q))
    if (all.length <= MOST_SHOWN) return all
    const errorsFirst = [...all.filter((one) => one.severity === 'error'), ...all.filter((one) => one.severity !== 'error')]
    const shown = errorsFirst.slice(0, MOST_SHOWN).sort((p, q) => order(p) - order(q))
    const message = `${all.length - MOST_SHOWN} more issues are not shown`
    const { position } = errorsFirst[MOST_SHOWN]
    return [
      ...shown,
      issue('MORE_ISSUES', message, {
        position,
        severity: errorsFirst[MOST_SHOWN].severity,
        fix: 'mend those above and check again',
      }),
    ]
  }
}

const order = ({ position }: Issue): number => (position ? position.line * 1e6 + Math.min(position.column, 1e6 - 1) : 0)
