/** Rows in columns, two blanks apart; the last column is not padded. */
export function columns(rows: readonly (readonly string[])[], indent = '  '): string[] {
  const widths = rows.reduce<number[]>((most, row) => row.map((cell, i) => Math.max(most[i] ?? 0, cell.length)), [])
  const width = (i: number) => Math.max(...rows.map((row) => (row[i] ?? '').length), widths[i] ?? 0)
  return rows.map((row) =>
    (indent + row.map((cell, i) => (i === row.length - 1 ? cell : cell.padEnd(width(i)))).join('  ')).trimEnd(),
  )
}

/** Text broken at blanks to a width; a number never parts from what follows it. */
export function wrap(text: string, width = 92, indent = ''): string[] {
  const words = text
    .replace(/(\d)\s+(?=\S)/g, '$1\u00a0')
    .split(/[ \n]+/)
    .filter((word) => word !== '')
  const lines: string[] = []
  let line = ''
  for (const word of words) {
    if (line !== '' && line.length + 1 + word.length > width - indent.length) {
      lines.push(line)
      line = word
    } else line = line === '' ? word : `${line} ${word}`
  }
  if (line !== '') lines.push(line)
  return lines.map((one) => (indent + one).replace(/\u00a0/g, ' '))
}

/** A label and its text on each row; long texts go on below their beginning. */
export function labelled(rows: readonly (readonly [string, string])[], width = 100): string[] {
  const label = Math.max(0, ...rows.map(([name]) => name.length))
  return columns(
    rows.flatMap(([name, text]) => wrap(text, width - label - 4).map((line, i) => [i === 0 ? name : ''.padEnd(label), line])),
  )
}

/** "one", "one and two", "one, two and three". */
export function listed(words: readonly string[], joint = 'and'): string {
  if (words.length < 2) return words.join('')
  return `${words.slice(0, -1).join(', ')} ${joint} ${words[words.length - 1]}`
}

export const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1)
