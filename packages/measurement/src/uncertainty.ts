/** Standard uncertainty [unit of the value] of a limit within which a value may be anywhere:  half/sqrt 3. Source: GUM, JCGM 100:2008, 4.3.7. */
export function rectangular(halfWidth: number): number {
  return Math.abs(halfWidth) / Math.sqrt(3)
}

/** Combined standard uncertainty of independent contributions, the root of the sum of squares. Source: GUM, JCGM 100:2008, 5.1.2. */
export function combine(...contributions: number[]): number {
  return Math.hypot(...contributions)
}

/**
 * Mean of repeated readings and the standard uncertainty of that mean:  s/sqrt n, s with n − 1.
 * One reading has no spread of its own: u is 0. Small n gets no Student factor.
 * @param readings at least one   Source: GUM, JCGM 100:2008, 4.2.3.
 */
export function meanOf(readings: readonly number[]): { value: number; u: number } {
  const n = readings.length
  const value = readings.reduce((sum, x) => sum + x, 0) / n
  if (n < 2) return { value, u: 0 }
  const squares = readings.reduce((sum, x) => sum + (x - value) ** 2, 0)
  return { value, u: Math.sqrt(squares / (n - 1) / n) }
}

/** Limits of a − b when each may be anywhere within its own limits: the hysteresis between an opening and a closing range. */
export function differenceLimits(
  a: { low: number; high: number },
  b: { low: number; high: number },
): { low: number; high: number } {
  return { low: a.low - b.high, high: a.high - b.low }
}
