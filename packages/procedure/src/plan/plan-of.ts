import { type Bench, decisionTable, type DecisionTable, type Standpoint } from '@halfsplit/diagnosis'
import {
  DEFAULT_PLAN_TREE,
  planEndings,
  type PlanTreeBudget,
  type TroublePlan,
  troublePlan,
  troublePlanFigures,
} from '@halfsplit/inference'
import type { Complaint } from '@halfsplit/system'
import { chooseTests } from './choose-tests.js'
import { alikeRepairs, coverageOfAll, coverageOfPlan, unseenFaults } from './coverage.js'
import type { JobFigures, Plan } from './model.js'
import { startOfPlan } from './start.js'
import { Numbering } from './steps.js'

export interface PlanOptions {
  /** Tests that can't be done here, by id: tools that are not at hand. */
  excluded?: ReadonlySet<string>
  /** Steps worked out at most. */
  steps?: number
  /** Places that a smaller share of the jobs comes to are not worked out. */
  least?: number
  /** Sized hypotheses, and tests, that the plan is made of. */
  mostCells?: number
  mostTests?: number
}

/** A plan with the table it was made from, for whoever follows it. */
export interface WorkedPlan {
  plan: Plan
  table: DecisionTable
  tree: TroublePlan
}

const MOST_CELLS = 120
const MOST_TESTS = 80
const SHARE = 0.985
/** To choose tests and find blind spots all tests are worked out, under a few sizes of each repair. */
const CELLS_PER_REPAIR = 2
const CELLS_FOR_ALL = 64

/**
 * The whole procedure for a complaint that has been seen, or for a machine of which nothing is known but that one of its faults is there.
 * A sound machine is no job of the plan: it only says what is expected at each step. Figures are sums over the table's chances, all ways counted: where it was not worked out, repairs in order of chance per cost.
 * Cost: every test under some 60 sized hypotheses, the chosen ones under 120, and a decision for each of up to 120 steps.
 */
export function planOf(bench: Bench, complaint?: Complaint, options: PlanOptions = {}): Plan {
  return workPlan(bench, complaint, options).plan
}

export function workPlan(bench: Bench, complaint?: Complaint, options: PlanOptions = {}): WorkedPlan {
  const start = startOfPlan(bench, complaint)
  const excluded = new Set([...(options.excluded ?? []), ...start.taken])
  const common = { from: start.from, excluded, share: SHARE, faultyOnly: true, withSound: true }
  const all = decisionTable(bench, start.standing, { ...common, mostCells: CELLS_FOR_ALL, perRepair: CELLS_PER_REPAIR })
  const tests = chooseTests(all, options.mostTests ?? MOST_TESTS)
  const table = decisionTable(bench, start.standing, { ...common, tests, mostCells: options.mostCells ?? MOST_CELLS })
  const tree = troublePlan(table.task, budgetOf(options))
  const proofAt = proofStandpoint(bench, complaint, start.from)
  const numbering = new Numbering(table, tree.root, proofAt)
  const first = numbering.next(tree.root, start.from)
  const byPlan = coverageOfPlan(table, tree.root)
  const byAll = coverageOfAll(all)
  const plan: Plan = {
    complaint: complaint?.id,
    steps: numbering.steps,
    first,
    figures: figuresOf(tree, start.minutes),
    detected: byPlan.detected,
    isolated: byPlan.isolated,
    detectable: byAll.detected,
    isolable: byAll.isolated,
    unseen: unseenFaults(all),
    alike: alikeRepairs(all),
    faults: new Set(table.suspects.flatMap(({ members }) => members.flatMap(({ faults }) => faults))).size,
    tests: table.tests.length,
    leftOut: table.leftOut,
    notDescribed: table.notDescribed,
    proof: { minutes: table.task.proof.time, looks: table.proofLooks },
  }
  return { plan, table, tree }
}

const budgetOf = ({ steps, least }: PlanOptions): PlanTreeBudget => ({
  ...DEFAULT_PLAN_TREE,
  steps: steps ?? DEFAULT_PLAN_TREE.steps,
  least: least ?? DEFAULT_PLAN_TREE.least,
})

/** After a proof look one stands where the complaint was seen; without a complaint, at no place, the machine as it began. */
const proofStandpoint = (bench: Bench, complaint: Complaint | undefined, from: Standpoint): Standpoint => {
  if (complaint) return from
  const live = [...bench.system.states.values()].filter(({ dead }) => !dead)
  return { setup: { state: live.at(-1)?.name ?? from.setup.state }, places: [] }
}

function figuresOf(tree: TroublePlan, before: number): JobFigures {
  const { task, lowerBound } = tree
  const endings = planEndings(tree)
  const sum = troublePlanFigures(endings)
  const money = before * task.timeCost
  return {
    meanMinutes: sum.meanTime + before,
    q90Minutes: sum.q90Time + before,
    worstMinutes: sum.worstTime + before,
    meanMoney: sum.meanCost + money,
    worstMoney: sum.worstCost + money,
    bound: lowerBound + money,
    firstRepairRight: sum.firstRepairRight,
    wrongEnd: sum.wrongEnd,
    rest: sum.rest,
    goodPartsPer100: 100 * sum.wrongPriced,
  }
}
