import { type Bench, type Complaint, decisionTable, nextStep, type Standing } from '@halfsplit/diagnosis'

/** What a job is expected to cost when it comes in, and what no plan can undercut [shop's money]. */
export interface PlanCost {
  expectedCost: number
  lowerBound: number
  /** The expected cost is the least there is. */
  exact: boolean
}

/**
 * Expected cost of the best plan found for a complaint, from the parked machine, with a bound on every plan. A trial draws no sound
 * machines, so the belief is that of the faults alone.
 * Cost: every test under the heaviest suspects, and the search.
 */
export function planCost(bench: Bench, complaint: Complaint): PlanCost {
  const [parked] = bench.system.states.keys()
  const standing = faultsAlone(bench.standing([], complaint))
  const table = decisionTable(bench, standing, { from: { setup: { state: parked }, places: [] } })
  const { expectedCost, lowerBound, exact } = nextStep(table)
  return { expectedCost, lowerBound, exact }
}

function faultsAlone(standing: Standing): Standing {
  const { hypotheses, sized, belief } = standing
  const own = sized.map(({ hypothesis }, cell) => (hypotheses[hypothesis].faults.length > 0 ? belief.cellProbability[cell] : 0))
  const whole = own.reduce((sum, one) => sum + one, 0)
  return { ...standing, notDescribed: 0, belief: { ...belief, cellProbability: Float64Array.from(own, (one) => one / whole) } }
}
