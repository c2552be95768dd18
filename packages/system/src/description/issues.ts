import { type Issue, issue, type Position } from '@halfsplit/core'

const MOST_SHOWN = 100

/** The mistakes found in one file, in the order of the text when handed over. */
export class IssueList {
  private readonly found = new Map<string, Issue>()

  /** Adds an issue; the same mistake met twice (an assembly used twice, say) counts once. */
  add(code: string, message: string, position: Position, details: Partial<Issue> = {}): void {
    const key = `${code}|${message}|${position.line}:${position.column}`
    if (!this.found.has(key)) this.found.set(key, issue(code, message, { position, ...details }))
  }

  warn(code: string, message: string, position: Position, details: Partial<Issue> = {}): void {
    this.add(code, message, position, { severity: 'warning', ...details })
  }

  get hasErrors(): boolean {
    return [...this.found.values()].some((one) => one.severity === 'error')
  }

  /** At most a hundred, by line and column; one more says how many were left out. */
  sorted(): Issue[] {
    const all = [...this.found.values()].sort((p, q) => order(p) - order(q))
    if (all.length <= MOST_SHOWN) return all
    const rest = all.length - MOST_SHOWN
    const message = `${rest} more mistakes are not shown`
    const last = issue('MORE_ISSUES', message, { position: all[MOST_SHOWN].position, fix: 'mend those above and check again' })
    return [...all.slice(0, MOST_SHOWN), last]
  }
}

const order = ({ position }: Issue): number => (position ? position.line * 1e6 + Math.min(position.column, 1e6 - 1) : 0)
