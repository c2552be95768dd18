import { within } from './require.js'

/**
 * Value of a curve given by points, on straight lines between them.
 * @param points [x, y] by rising x   @param what the x axis, as in "the charge"
 * @throws HalfsplitError VALUE_IMPOSSIBLE outside the points
 */
export function interpolate(points: readonly (readonly [number, number])[], x: number, what: string): number {
  within(x, points[0][0], points[points.length - 1][0], what)
  const last = points.length - 1
  const upper = points.findIndex(([at], i) => i > 0 && (at >= x || i === last))
  const [[x0, y0], [x1, y1]] = [points[upper - 1], points[upper]]
  return y0 + ((x - x0) / (x1 - x0)) * (y1 - y0)
}

/**
 * Where a function that rises over an interval reaches a value, by halving, to the last bits.
 * The caller makes sure that it does reach it there.
 */
export function whereReaches(rising: (x: number) => number, value: number, low: number, high: number): number {
  let [below, above] = [low, high]
  for (let n = 0; n < 200; n += 1) {
    const middle = (below + above) / 2
    if (middle === below || middle === above) break
    if (rising(middle) < value) below = middle
    else above = middle
  }
  return (below + above) / 2
}
