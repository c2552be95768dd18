/** Repair now, or test on: what the two cost from here, and the belief at which they cost the same. All costs in one unit of money. */
export interface TwoWays {
  /** Belief in the likeliest repair, 0 to 1. */
  belief: number
  /** What is lost where it was the wrong one: its part, its minutes, the proof that failed, and the share of comebacks it makes. */
  wasted: number
  /** Expected cost to a proven repair if it is made now. */
  repairNow: number
  /** The same if the best test is done first. */
  testOn: number
}

/**
 * Belief at which repairing now costs as much as testing on. With p the belief, W what a wrong repair wastes and T the tests that would
 * tell first, the one costs (1 - p) W more than the other saves of T:
 *     repairNow - testOn = (1 - p) W - T,   so   p* = 1 - T / W = p + (repairNow - testOn) / W
 * with T and W as they are now. Source: expected cost, as any text on decision theory has it.  Checked by hand in break-even.test.ts
 * @returns 0 to 1; 0: repair whatever the belief, tests cost more than a wrong repair   Throws RangeError where nothing is wasted
 */
export function breakEven({ belief, wasted, repairNow, testOn }: TwoWays): number {
  if (!(wasted > 0)) throw new RangeError(`a wrong repair costs something; received ${wasted}`)
  return Math.min(1, Math.max(0, belief + (repairNow - testOn) / wasted))
}

/**
 * Both ways where only the next tests are known: after a wrong repair, and after tests that spoke against it, the rest costs the same.
 * @param tests expected cost of the tests that would tell first   @param rest expected cost from there on if it is another repair
 */
export function twoWays(belief: number, wasted: number, tests: number, rest = 0): TwoWays {
  const wrong = 1 - belief
  return { belief, wasted, repairNow: wasted + wrong * rest, testOn: tests + belief * wasted + wrong * rest }
}
