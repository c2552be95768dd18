/** A place in a file; line and column count from 1, length in characters. */
export interface Position {
  file: string
  line: number
  column: number
  length: number
}

/** A mistake in what the user wrote: collected and shown, never thrown. */
export interface Issue {
  code: string
  severity: 'error' | 'warning'
  message: string
  position?: Position
  expected?: string
  received?: string
  nearest?: string[]
  related?: { position: Position; message: string }[]
  fix?: string
  see?: string
}

/**
 * Builds an issue; the one place where issues are made.
 * @param code one of ISSUE_CODES   @param message 4 to 9 words, lower case, no full stop
 * @param details whatever else is known; severity is 'error' and `see` the code's place in the list of issues unless given
 */
export function issue(code: string, message: string, details: Partial<Omit<Issue, 'code' | 'message'>> = {}): Issue {
  return { severity: 'error', see: `docs/reference/issues.md#${code.toLowerCase()}`, ...details, code, message }
}

function place(position: Position | undefined): string {
  return position ? `${position.file}:${position.line}:${position.column}: ` : ''
}

/** The source line with the faulty part underlined; a tab stays a tab in the line below, so that the marks line up. */
function excerpt(position: Position, sourceLine: string): string[] {
  const margin = ' '.repeat(String(position.line).length)
  const before = sourceLine.slice(0, position.column - 1).replace(/[^\t]/g, ' ')
  const length = Math.max(1, Math.min(position.length, sourceLine.length - position.column + 1))
  return [`   ${position.line} | ${sourceLine}`, `   ${margin} | ${before}${'^'.repeat(length)}`]
}

function expectation(i: Issue): string[] {
  const parts = [i.expected && `expected ${i.expected}`, i.received && `received ${i.received}`].filter(Boolean)
  return parts.length ? [`  ${parts.join('; ')}`] : []
}

/**
 * An issue as text: `file:line:column: error: CODE: message`, then the source line, what was expected and received, nearest
 * names, second places, the fix, and where to read on. No line break at the end.
 * @param sourceLine the line of the file the position speaks of, without its line break
 * Source of the first line: GNU Coding Standards, 4.4.  Checked in issue.test.ts.
 */
export function printIssue(i: Issue, sourceLine?: string): string {
  const lines = [`${place(i.position)}${i.severity}: ${i.code}: ${i.message}`]
  if (i.position && sourceLine !== undefined) lines.push(...excerpt(i.position, sourceLine))
  lines.push(...expectation(i))
  if (i.nearest?.length) lines.push(`  nearest: ${i.nearest.map((name) => `"${name}"`).join(', ')}`)
  for (const other of i.related ?? []) lines.push(`  ${place(other.position)}${other.message}`)
  if (i.fix) lines.push(`  fix: ${i.fix}`)
  if (i.see) lines.push(`  see ${i.see}`)
  return lines.join('\n')
}

/** Fewest insertions, deletions, replacements and swaps of neighbours that turn one word into the other. */
function editDistance(a: string, b: string): number {
  let previous: number[] = []
  let current = Array.from({ length: b.length + 1 }, (_, j) => j)
  for (let i = 1; i <= a.length; i++) {
    const next = [i]
    for (let j = 1; j <= b.length; j++) {
      const replaced = current[j - 1] + (a[i - 1] === b[j - 1] ? 0 : 1)
      next[j] = Math.min(current[j] + 1, next[j - 1] + 1, replaced)
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) next[j] = Math.min(next[j], previous[j - 2] + 1)
    }
    previous = current
    current = next
  }
  return current[b.length]
}

/**
 * The names most like `word`, best first: none that would need more than half of its letters changed.
 * Letters' case counts a little, so that "kohm" finds "kOhm" first.  Cost: names x length².
 */
export function nearestNames(word: string, names: Iterable<string>, most = 3): string[] {
  const short = word.slice(0, 80)
  const lower = short.toLowerCase()
  return [...new Set(names)]
    .map((name) => ({ name, distance: editDistance(lower, name.toLowerCase()) + 0.01 * editDistance(short, name) }))
    .filter(({ name, distance }) => distance < Math.max(short.length, name.length) / 2 + 0.5)
    .sort((x, y) => x.distance - y.distance || (x.name < y.name ? -1 : 1))
    .slice(0, most)
    .map(({ name }) => name)
}
