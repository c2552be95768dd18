/** Places of a step at which every node is known: its begin, two of its stages, its end. */
export const PLACES = [0, 83 / 250, 31 / 50, 1] as const
/** The stages (see `tableau.ts`) that these are. */
export const PLACE_STAGES = [0, 2, 3, 5] as const

/** Weights of the cubic through the four places, at share s of the step. */
export function weightsAt(s: number): [number, number, number, number] {
  const weight = (k: number) =>
    PLACES.reduce((product, place, j) => (j === k ? product : (product * (s - place)) / (PLACES[k] - place)), 1)
  return [weight(0), weight(1), weight(2), weight(3)]
}

export type Four = readonly [number, number, number, number]

export function cubicAt(values: Four, s: number): number {
  const w = weightsAt(s)
  return w[0] * values[0] + w[1] * values[1] + w[2] * values[2] + w[3] * values[3]
}

/** Parts of a step looked at for a rise and fall within it. */
const PARTS = 12

/**
 * The first share of a step at which a quantity that begins below zero gets above it, by the cubic through four places; undefined when it
 * stays below. Its turning points are looked for by the sign of its slope, so that a way over and back within the step is not missed.
 */
export function firstCrossing(values: Four): number | undefined {
  if (values[0] >= 0 && values[1] > values[0]) return 0
  let low = 0
  for (let part = 1; part <= PARTS; part += 1) {
    const high = part / PARTS
    const top = turningPoint(values, low, high)
    for (const end of top === undefined ? [high] : [top, high]) {
      if (cubicAt(values, end) >= 0) return bisect(values, low, end)
      low = end
    }
  }
  return undefined
}

/** Where the cubic stands highest between two shares, if it rises into them and falls out of them. */
function turningPoint(values: Four, low: number, high: number): number | undefined {
  const slope = (s: number) => (cubicAt(values, s + 1e-4) - cubicAt(values, s - 1e-4)) / 2e-4
  if (!(slope(low) > 0 && slope(high) < 0)) return undefined
  let [a, b] = [low, high]
  for (let n = 0; n < 30; n += 1) {
    const middle = (a + b) / 2
    if (slope(middle) > 0) a = middle
    else b = middle
  }
  return (a + b) / 2
}

function bisect(values: Four, low: number, high: number): number {
  let [a, b] = [low, high]
  for (let n = 0; n < 50; n += 1) {
    const middle = (a + b) / 2
    if (cubicAt(values, middle) < 0) a = middle
    else b = middle
  }
  return b
}

/** Highest value of the cubic inside the step, if that is neither its begin nor its end. */
export function highestInside(values: Four): { share: number; value: number } | undefined {
  for (let part = 0; part < PARTS; part += 1) {
    const share = turningPoint(values, part / PARTS, (part + 1) / PARTS)
    if (share !== undefined) return { share, value: cubicAt(values, share) }
  }
  return undefined
}
