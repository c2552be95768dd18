/** A bath whose temperature is linear between knots, and a body that follows it with a first-order lag. */

/** What a body does at an instant: its temperature [K] and rate [K/s]. */
export interface BodyState {
  readonly temperature: number
  readonly rate: number
}

/**
 * Temperature of a body in a bath, as a function of time.
 *     lag · dT/dt = bath − T,  T = bath at the first knot
 * @param knots times [s], rising   @param bath temperature at each knot [K], linear in between
 * @param lag time constant [s], >= 0; with 0 the body is the bath The function throws a RangeError for a time outside the
 * knots. Solved in closed form by stretch.  Checked in lagged-bath.test.ts.
 */
export function laggedBody(knots: readonly number[], bath: readonly number[], lag: number): (time: number) => BodyState {
  const stretches = knots.slice(1).map((end, i) => ({
    from: knots[i],
    bath: bath[i],
    slope: (bath[i + 1] - bath[i]) / (end - knots[i]),
    start: bath[i],
  }))
  const at = ({ from, bath: there, slope, start }: (typeof stretches)[number], time: number): BodyState => {
    // The body runs slope·lag behind the bath once what it started with has died away.
    const behind = slope * lag
    const ahead = (start - there + behind) * decayOf(time - from, lag)
    return { temperature: there + slope * (time - from) - behind + ahead, rate: slope - (lag === 0 ? 0 : ahead / lag) }
  }
  for (let i = 1; i < stretches.length; i++) stretches[i].start = at(stretches[i - 1], knots[i]).temperature
  return (time) => at(stretches[stretchAt(knots, time)], time)
}

const decayOf = (time: number, lag: number): number => (lag === 0 ? 0 : Math.exp(-time / lag))

/** The stretch between two knots in which a time lies. */
function stretchAt(knots: readonly number[], time: number): number {
  const last = knots.length - 1
  if (!(time >= knots[0] && time <= knots[last]))
    throw new RangeError(`the time ${time} s is outside the bath's knots, ${knots[0]} to ${knots[last]} s`)
  let [low, high] = [0, last]
  while (high - low > 1) {
    const middle = (low + high) >> 1
    if (knots[middle] <= time) low = middle
    else high = middle
  }
  return low
}

/** The answers of a body to a bath that is 1 at one knot and 0 at all others, knot by knot: any bath is a sum of these. */
export function knotResponses(knots: readonly number[], lag: number): ((time: number) => BodyState)[] {
  return knots.map((_, knot) =>
    laggedBody(
      knots,
      knots.map((_, other) => (other === knot ? 1 : 0)),
      lag,
    ),
  )
}
