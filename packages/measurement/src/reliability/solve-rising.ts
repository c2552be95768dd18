/** The place where a distribution reaches a probability. */

/** Both tails of a distribution and its density, at a place. */
export interface Tails {
  readonly below: number
  readonly above: number
  readonly slope: number
}

const STEPS = 400

/**
 * Solves below(u) = p on the whole line: Newton's method, held in a bracket and halved where it would leave it.
 * @param p probability, 0 < p < 1; in the upper half the upper tail is matched, which keeps its precision
 * @param start anywhere   @param at a continuous distribution that rises from 0 to 1
 */
export function solveRising(p: number, start: number, at: (u: number) => Tails): number {
  const miss = ({ below, above }: Tails) => (p < 0.5 ? below - p : 1 - p - above)
  let [low, high] = bracket(start, (u) => miss(at(u)))
  let u = Math.min(Math.max(start, low), high)
  for (let step = 0; step < STEPS; step++) {
    const here = at(u)
    const error = miss(here)
    if (error === 0) return u
    if (error < 0) low = u
    else high = u
    const newton = u - error / here.slope
    const next = newton > low && newton < high ? newton : (low + high) / 2
    if (Math.abs(next - u) <= Number.EPSILON * Math.max(1, Math.abs(u))) return next
    u = next
  }
  return u
}

function bracket(start: number, error: (u: number) => number): [number, number] {
  let low = start - 1
  let high = start + 1
  for (let width = 1; error(low) > 0; width *= 2) low -= width
  for (let width = 1; error(high) < 0; width *= 2) high += width
  return [low, high]
}
