import { ASSUMPTIONS } from '@halfsplit/core'
import { displayInformation, entropyBits, mix, type Predictive, withMisread } from '@halfsplit/inference'
import type { Bench } from '../bench.js'
import { money, type RepairCost, repairCost } from '../cost.js'
import { minutesFor, type Standpoint } from '../effort.js'
import { misreadRange } from '../evidence.js'
import { displayOf, type WeighedTest } from '../next.js'
import { testOf } from '../tests.js'
import type { Standing } from '../view.js'
import { breakEven, twoWays } from './break-even.js'
import type { PlanCosts } from './plan-costs.js'

/** Whether to repair now or to test on, with what it hangs on. */
export interface RepairDecision {
  repair: string
  belief: number
  /** The repair itself, with the way from where the technician stands. */
  cost: RepairCost
  /** Money lost if it is the wrong one. */
  wasted: number
  /** Money that the tests that would tell first are expected to cost, estimated; Infinity where no test tells. */
  tests: number
  /** Expected cost to a proved repair both ways, where a plan weighed them. */
  plan?: PlanCosts
  /** Belief at which repairing now costs as much as testing on. */
  breakEven: number
  advice: 'repair' | 'test on'
}

/** What else is known: where one stands, the tests that can be done, best first, and the expected costs of both ways from a plan. */
export interface DecisionView {
  from: Standpoint
  ranked: readonly WeighedTest[]
  plan?: PlanCosts
}

/** Chance that the proof lets a wrong repair pass: what comes and goes is looked at until 1 time in 20 hides it by luck. */
const PASSES_WRONGLY = 0.05
/** Tests tried for the cheapest way to be told. */
const MOST_TRIED = 12

/**
 * The likeliest repair, now or after more tests. Where a plan gives the expected costs of both ways they decide; else the tests that would
 * tell are estimated, and the break-even is 1 less their cost over what a wrong repair wastes: the cheapest test's minutes times the bits that are open about this repair, over the bits it gives of them.
 * @returns undefined where nothing is suspected, or the likeliest repair has been made
 */
export function repairDecision(
  bench: Bench,
  standing: Standing,
  { from, ranked, plan }: DecisionView,
): RepairDecision | undefined {
  const [top] = standing.repairs
  if (!top || standing.actions.some((action) => action.kind === 'repaired' && action.repairs.includes(top.repair)))
    return undefined
  const { repair, probability: belief } = top
  const cost = repairCost(bench.system, repair, from.places)
  const comeback = ASSUMPTIONS.comebackMoney + money(ASSUMPTIONS.comebackMinutes)
  const wasted = cost.money + money(proofMinutes(bench, standing, from)) + PASSES_WRONGLY * comeback
  const tests = cheapestTelling(ranked, repair, belief)
  const at = plan?.breakEven ?? breakEven(twoWays(belief, wasted, tests))
  const repairs = plan ? plan.repairNow <= plan.testOn : belief >= at
  return { repair, belief, cost, wasted, tests, plan, breakEven: at, advice: repairs ? 'repair' : 'test on' }
}

/** Minutes to see the complaint once more. */
function proofMinutes(bench: Bench, { complaint }: Standing, from: Standpoint): number {
  const [show] = complaint?.shows ?? []
  const part = show && bench.system.parts.get(show.part)
  const look = part?.kind.looks?.find(({ name }) => name === show.look)
  if (!part || !look) return 0
  return minutesFor(bench.system, testOf(bench.system, { state: show.state }, { kind: 'look', part, look }), from)
}

/** Money of the tests that tell whether it is this repair, if one test of this sort were done until it is told. */
function cheapestTelling(ranked: readonly WeighedTest[], repair: string, belief: number): number {
  const open = entropyBits([belief, 1 - belief])
  const costs = ranked
    .filter(({ blind }) => !blind)
    .slice(0, MOST_TRIED)
    .map((weighed) => money(weighed.cost) * Math.max(1, open / bitsAbout(weighed, repair)))
  return Math.min(Number.POSITIVE_INFINITY, ...costs)
}

/** Bits a test gives on the question whether it is this repair. */
function bitsAbout({ test: { probe }, classes }: WeighedTest, repair: string): number {
  const sides = [classes.filter(({ id }) => id === repair), classes.filter(({ id }) => id !== repair)]
  if (sides.some((side) => side.length === 0)) return 0
  const written = (p: Predictive): Predictive =>
    probe.kind === 'look' ? withMisread(p, ASSUMPTIONS.lookError) : withMisread(p, ASSUMPTIONS.misread, misreadRange(probe))
  return displayInformation(
    sides.map((side) => ({
      probability: side.reduce((sum, one) => sum + one.probability, 0),
      predictive: written(mix(side.map(({ probability, predictive }) => ({ weight: probability, predictive })))),
    })),
    displayOf(probe, classes),
  )
}
