/** Ranking planned tests, and the first decision rule. */

/** A planned test: expected information [bit] and its price (minutes with set-up changes, or any one unit), > 0. */
export interface PlannedTest {
  readonly id: string
  readonly information: number
  readonly cost: number
}

/** A planned test with its information per cost. */
export type RankedTest<T extends PlannedTest> = T & { readonly score: number }

/** Digits kept before ranking, so that machines that round differently rank alike. */
const DIGITS = 9

/** Information below this is none: rounding of the sums. */
const NO_INFORMATION = 1e-12

/**
 * Tests by information per cost, best first; scores are rounded to nine significant digits before ranking, ties go by id.
 * @returns the same tests with `score` [bit per unit of cost]; a test with no information has score 0
 */
export function rankTests<T extends PlannedTest>(tests: readonly T[]): RankedTest<T>[] {
  return tests
    .map((test) => ({
      ...test,
      score: test.information < NO_INFORMATION ? 0 : Number((test.information / test.cost).toPrecision(DIGITS)),
    }))
    .sort((a, b) => b.score - a.score || (a.id < b.id ? -1 : a.id > b.id ? 1 : 0))
}

/** The test to do next: the first of `rankTests`, or undefined where none has any information. */
export function bestTest<T extends PlannedTest>(tests: readonly T[]): RankedTest<T> | undefined {
  const [first] = rankTests(tests)
  return first !== undefined && first.score > 0 ? first : undefined
}

/** What to do, with the likeliest repair and the belief it covers. */
export type Decision =
  | { readonly kind: 'repair'; readonly id: string; readonly probability: number }
  | { readonly kind: 'test-on'; readonly id: string | null; readonly probability: number }

/**
 * Repair when one repair covers the belief beyond the threshold, else test on.
 * @param groups each repair with the probability of the faults it cures   @param threshold 0 to 1
 * @returns the likeliest repair in either case (ties by id); null where there is none
 */
export function decide(groups: readonly { readonly id: string; readonly probability: number }[], threshold: number): Decision {
  const [first] = [...groups].sort((a, b) => b.probability - a.probability || (a.id < b.id ? -1 : a.id > b.id ? 1 : 0))
  if (first === undefined) return { kind: 'test-on', id: null, probability: 0 }
  return { kind: first.probability >= threshold ? 'repair' : 'test-on', id: first.id, probability: first.probability }
}
