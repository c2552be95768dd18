import type { Bench } from './bench.js'
import { isLook, type NextOptions, type WeighedTest, weighTests } from './next.js'
import { probeKey } from './probe.js'
import { decisionTable } from './table/decision-table.js'
import { type NextStep, nextStep } from './table/next-step.js'
import { testId } from './tests.js'
import type { Standing } from './view.js'

export interface Proposal {
  best: WeighedTest | undefined
  alternatives: readonly WeighedTest[]
  reason: 'see the complaint' | 'least expected cost' | 'nothing left to tell'
  /** The plan behind it: expected cost to a proved repair, and its bound. Missing where the complaint has not been seen. */
  plan?: NextStep
}

const ALTERNATIVES = 2
/** Tests put before the plan: the best by information a minute, and the most telling ones. */
const PLANNED = 28
const PLANNED_TELLING = 8

/**
 * The next test with two alternatives. The complaint is looked at first, since nothing else is worth a minute until it has been
 * seen (TM 9-2350-277-20-1, WP 0005 00: verify that the reported problem is present); then the expected cost to a proved repair decides
 * among the tests that tell most for their minutes.
 * @param ranked all tests as `weighTests` ranks them, if that has been worked out
 */
export function propose(
  bench: Bench,
  standing: Standing,
  options: NextOptions,
  ranked: readonly WeighedTest[] = weighTests(bench, standing, options),
): Proposal {
  const seen = complaintTest(standing, ranked)
  const taken = takenNow(standing)
  const telling = ranked.filter((test) => test !== seen && !test.blind && test.score > 0 && !taken.has(test.id))
  if (seen) return { best: seen, alternatives: distinct(seen, telling), reason: 'see the complaint' }
  if (telling.length === 0) return { best: undefined, alternatives: [], reason: 'nothing left to tell' }
  const considered = candidates(telling)
  const { from, excluded } = options
  const table = decisionTable(bench, standing, { from, excluded, tests: considered.map(({ test }) => test) })
  const plan = nextStep(table)
  const [first, ...rest] = inOrderOf(plan, considered, telling)
  return { best: first, alternatives: distinct(first, rest), reason: 'least expected cost', plan }
}

/** Those the plan is made of: a test that tells much may be worth its minutes, though another tells more for each. */
function candidates(telling: readonly WeighedTest[]): WeighedTest[] {
  const few = telling.slice(0, PLANNED)
  const most = telling.slice(PLANNED).sort((p, q) => q.information - p.information || (p.id < q.id ? -1 : 1))
  return [...few, ...most.slice(0, PLANNED_TELLING)]
}

/** The tests the plan tried by their expected cost, then the others by information a minute. */
function inOrderOf(plan: NextStep, considered: readonly WeighedTest[], telling: readonly WeighedTest[]): readonly WeighedTest[] {
  const tried = [plan, ...plan.alternatives].flatMap(({ step }) => {
    const found = step.kind === 'test' ? considered.find(({ id }) => id === step.test.id) : undefined
    return found ? [found] : []
  })
  return [...tried, ...telling.filter((one) => !tried.includes(one))]
}

/** Tests taken since the last action: the same look or the same leads again would tell next to nothing. */
const takenNow = (standing: Standing): Set<string> =>
  new Set(
    standing.groups
      .filter((group) => group.segment === standing.actions.length)
      .flatMap((group) => group.taken.map((one) => testId(one.setup, one.probe))),
  )

/** The look of the complaint that is soonest had, if nobody has looked at any of it yet: once it was seen, the others compete. */
function complaintTest(standing: Standing, ranked: readonly WeighedTest[]): WeighedTest | undefined {
  const shows = standing.complaint?.shows ?? []
  const taken = standing.groups.flatMap((group) => group.taken)
  if (shows.some((show) => taken.some((one) => isLook(one, show)))) return undefined
  // A look that would be the same whatever is wrong is no way to see the complaint.
  const looks = ranked.filter(({ test, blind }) => !blind && shows.some((show) => isLook(test, show)))
  return looks.reduce<WeighedTest | undefined>((soonest, one) => (soonest && soonest.cost <= one.cost ? soonest : one), undefined)
}

/** Alternatives that are other things to do, not the same points in another state. */
function distinct(first: WeighedTest | undefined, rest: readonly WeighedTest[]): WeighedTest[] {
  const found: WeighedTest[] = []
  const seen = new Set(first ? [probeKey(first.test.probe)] : [])
  for (const test of rest) {
    const key = probeKey(test.test.probe)
    if (seen.has(key)) continue
    seen.add(key)
    found.push(test)
    if (found.length === ALTERNATIVES) break
  }
  return found
}
