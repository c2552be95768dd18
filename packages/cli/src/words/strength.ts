/** Under this a reading says nothing of a suspect [deciban]. */
export const SAYS_NOTHING = 1

/** How far a change of odds speaks, in words with the factor first: "8 times likelier", "30 times less likely". */
export function strengthWords(decibans: number): string {
  const size = Math.abs(decibans)
  if (!(size >= SAYS_NOTHING)) return 'no change'
  const factor = 10 ** (size / 10)
  const direction = decibans > 0 ? 'likelier' : 'less likely'
  if (factor > 1000) return `over 1000 times ${direction}`
  return `${rounded(factor)} times ${direction}`
}

/** One or two honest digits: 1.3, 2.5, 8, 30, 400. */
function rounded(factor: number): string {
  if (factor < 3) return factor.toFixed(1).replace(/\.0$/, '')
  return String(Number(factor.toPrecision(factor < 20 ? 2 : 1)) < 20 ? Math.round(factor) : Number(factor.toPrecision(1)))
}
