/** Sets of suspects: rising lists of numbers, split by what a test shows, and named by their bits. */

/** A set as a short text, 16 suspects a character: equal for equal sets, and for these only. */
export function setKey(members: readonly number[]): string {
  let key = ''
  let word = 0
  let end = 16
  for (const member of members) {
    for (; member >= end; end += 16) {
      key += String.fromCharCode(word)
      word = 0
    }
    word |= 1 << (member - end + 16)
  }
  return key + String.fromCharCode(word)
}

/** The parts of a set by outcome, in rising order of the outcome; `row[member]` is the outcome number, 0 to `outcomes` - 1. */
export function splitSet(
  members: readonly number[],
  row: ArrayLike<number>,
  outcomes: number,
): { outcome: number; members: number[] }[] {
  const parts: number[][] = []
  for (const member of members) {
    const outcome = row[member]
    if (parts[outcome] === undefined) parts[outcome] = [member]
    else parts[outcome].push(member)
  }
  const found: { outcome: number; members: number[] }[] = []
  for (let outcome = 0; outcome < outcomes; outcome++) if (parts[outcome]) found.push({ outcome, members: parts[outcome] })
  return found
}

/** Whether a row tells any two members of a set apart. */
export function splits(members: readonly number[], row: ArrayLike<number>): boolean {
  const first = row[members[0]]
  for (let i = 1; i < members.length; i++) if (row[members[i]] !== first) return true
  return false
}

/** Whether everything that `coarse` tells apart within a set, `fine` tells apart too. */
export function isFiner(members: readonly number[], fine: ArrayLike<number>, coarse: ArrayLike<number>): boolean {
  const seen: (number | undefined)[] = []
  for (const member of members) {
    const known = seen[fine[member]]
    if (known === undefined) seen[fine[member]] = coarse[member]
    else if (known !== coarse[member]) return false
  }
  return true
}
