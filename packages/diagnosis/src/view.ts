import { ASSUMPTIONS, type MeterRange } from '@halfsplit/core'
import {
  type Belief,
  belief,
  canonicalOrder,
  type Branch,
  type Cell,
  cellLogPriors,
  type CellState,
  type GroupEvidence,
  type LeftBehind,
  leftAside,
  likelihoodOf,
  type OrderedGroup,
  roughLog,
} from '@halfsplit/inference'
import { complaintBranches, complaintEvidence, heard } from './complaint.js'
import type { Consequences } from './consequences.js'
import type { Complaint, Done, Group } from './evidence.js'
import type { SizedFault } from './faults.js'
import { allStray, type Hope, leftBehindIn, stillHopeful } from './hopes.js'
import { ABSENT_NOW, type Hypothesis, NOTHING_WRONG, type SizedHypothesis } from './hypotheses.js'
import { type Course, courses, underCourse } from './life.js'
import type { Setup } from './setup.js'
import type { TestProbe } from './probe.js'
import { type Moved, renewals, renewed } from './renewal.js'
import { type RepairBelief, repairsOf } from './repair-belief.js'
import type { PredictionStore } from './store.js'

/** What is believed after a log, and all that later questions need. */
export interface Standing {
  hypotheses: readonly Hypothesis[]
  sized: readonly SizedHypothesis[]
  belief: Belief
  /** What each sized hypothesis predicts for a group of evidence. */
  predict: (sized: number, group: number) => readonly Branch[]
  /** What each sized hypothesis predicts for probes taken next, after all that was done so far. */
  next: (sized: number, setup: Setup, probes: readonly TestProbe[]) => readonly Branch[]
  evidence: readonly GroupEvidence[]
  groups: readonly Group[]
  actions: readonly Done[]
  prior: readonly number[]
  /** Each repair with the probability that it is among those needed, likeliest first. */
  repairs: readonly RepairBelief[]
  nothingWrong: number
  absentNow: number
  /** *Something this description does not contain.* */
  notDescribed: number
  /** Estimated share of hypotheses (pairs) that were not looked at. */
  leftOut: number
  /** What the readings made hopeless and is not followed any more. */
  leftBehind: LeftBehind
  complaint: Complaint | undefined
}

/** Ways a list of readings may have come about that are followed for each sized hypothesis: two misreads are as many as a job bears. */
export const LIMITS = { misreads: 2, paths: 48, share: 1e-7 } as const

/** How far behind the best a quick look must put a hypothesis for it to be left aside [neper], and one more for each record. */
const FAR_BEHIND = 34

/** What was done before a segment of the log, and the latents drawn anew by it. */
interface Segment {
  done: readonly Done[]
  times: ReadonlyMap<number, number>
  moved: Moved
}

/** Where predictions come from. */
export interface Source {
  store: PredictionStore
  consequences: Consequences
}

/** The hypotheses of a complaint with all their sizes, before any reading. */
export interface Start {
  hypotheses: Hypothesis[]
  sized: readonly SizedHypothesis[]
  leftOut: number
}

/** Evidence as one hypothesis set sees it: the complaint, then the groups of the log. */
export class View {
  private readonly evidence: GroupEvidence[]
  private readonly leftBehind: LeftBehind
  private readonly states = new Map<SizedHypothesis, CellState>()
  private readonly segments: Segment[]

  constructor(
    private readonly source: Source,
    private readonly start: Start,
    private readonly groups: readonly Group[],
    private readonly actions: readonly Done[],
    private readonly complaint: Complaint | undefined,
    private readonly hope: Hope,
  ) {
    this.evidence = [...complaintEvidence(complaint), ...groups.map(({ id, records }) => ({ id, records }))]
    this.leftBehind = leftBehindIn(hope, this.evidence)
    const { machine } = source.store
    this.segments = Array.from({ length: actions.length + 1 }, (_, segment) => {
      const done = actions.slice(0, segment)
      return { done, times: renewals(machine.system, done), moved: new Map() }
    })
  }

  /** What a belief in all that was followed so far leaves to follow. */
  stillHopeful(result: Belief): Hope {
    return stillHopeful(this.hope, this.evidence, result, this.start.hypotheses, wholeOf(this.start))
  }

  /** Belief over these sizes. What was worked out for a size before is not worked out again. */
  believe(hypotheses: readonly Hypothesis[], sized: readonly SizedHypothesis[]): Belief {
    const cells: Cell[] = sized.map(({ hypothesis, weight }) => ({ hypothesis, weight }))
    const prior = priorOf(hypotheses, keptShares(this.start, sized))
    const predict = this.predictFor(sized)
    this.sift(cells, prior, sized, predict)
    const { leftBehind } = this
    const result = belief(cells, prior, this.evidence, predict, {
      unknown: ASSUMPTIONS.notDescribed,
      leftBehind,
      limits: LIMITS,
      known: (cell) => this.states.get(sized[cell]),
    })
    sized.forEach((one, cell) => this.states.set(one, result.states[cell]))
    return result
  }

  /**
   * Leaves aside the sizes that a quick look at the records puts far behind the best: setup by setup, so that what is hopeless after
   * one need not be worked out for the others; plain states first, which are shared by many jobs. The order in which readings were
   * taken has no part in it.
   */
  private sift(
    cells: readonly Cell[],
    prior: readonly number[],
    sized: readonly SizedHypothesis[],
    predict: (cell: number, group: number) => readonly Branch[],
  ): void {
    let open = cells.map((_, cell) => cell).filter((cell) => !this.states.has(sized[cell]))
    const priorLog = cellLogPriors(cells, prior, 1)
    const log = Float64Array.from(priorLog)
    const stray = allStray(this.evidence)
    let reach = FAR_BEHIND
    const order = this.siftingOrder()
    order.forEach((ordered, n) => {
      const { group, records } = ordered
      let best = this.bestSifted
      for (const cell of open) {
        log[cell] += roughLog(ordered, predict(cell, group))
        best = Math.max(best, log[cell])
      }
      reach += records.length
      if (n === order.length - 1) this.bestSifted = best
      open = open.filter((cell) => {
        if (log[cell] >= best - reach) return true
        this.states.set(
          sized[cell],
          leftAside(log[cell] - priorLog[cell], stray, () => likelihoodOf(this.evidence, (one) => predict(cell, one), LIMITS)),
        )
        return false
      })
    })
  }

  private siftingOrder(): OrderedGroup[] {
    const first = this.evidence.length - this.groups.length
    const handled = ({ group }: OrderedGroup) =>
      Number(group >= first && this.groups[group - first].setup.intervention !== undefined)
    return canonicalOrder(this.evidence).sort((p, q) => handled(p) - handled(q))
  }

  /** The best that the quick look at the whole list has found so far. */
  private bestSifted = Number.NEGATIVE_INFINITY

  private predictFor(sized: readonly SizedHypothesis[]) {
    const first = this.evidence.length - this.groups.length
    const asked = this.groups.map(({ segment, setup, taken }) =>
      this.asked(
        segment,
        setup,
        taken.map((item) => item.probe),
        taken.map((item) => item.range),
      ),
    )
    return (cell: number, group: number): readonly Branch[] =>
      group < first ? this.complaintBranches(sized[cell]) : asked[group - first](sized[cell].faults)
  }

  private complaintBranches({ hypothesis, faults }: SizedHypothesis): Branch[] {
    if (this.start.hypotheses[hypothesis].absent)
      return [{ conditions: [], predictions: [heard(1, this.source.store.machine.system.complaints.length)] }]
    return complaintBranches(this.source.store, this.complaint as Complaint, faults)
  }

  /** What faults predict for probes in a segment of the log: as they have fared by then, in a machine with the parts it has by then. */
  private asked(
    segment: number,
    setup: Setup,
    probes: readonly TestProbe[],
    ranges?: readonly (MeterRange | undefined)[],
  ): (faults: readonly SizedFault[]) => readonly Branch[] {
    const { store, consequences } = this.source
    const { space } = store.machine
    const { done, times, moved } = this.segments[segment]
    const ask = store.ask(setup, probes, ranges)
    return (faults) => {
      const ways = courses(faults, this.actions, segment, space, this.complaint?.howOften)
      const under = (course: Course) =>
        underCourse(course, renewed(ask(consequences.added(course.faults, this.complaint, done)), times, space, moved))
      return ways.length === 1 ? under(ways[0]) : ways.flatMap(under)
    }
  }

  standing(sized: readonly SizedHypothesis[], result: Belief): Standing {
    const { hypotheses, leftOut } = this.start
    const at = (id: string) => result.probability[hypotheses.findIndex((one) => one.id === id)] ?? 0
    return {
      hypotheses,
      sized,
      belief: result,
      predict: this.predictFor(sized),
      next: (cell, setup, probes) => this.asked(this.actions.length, setup, probes)(sized[cell].faults),
      evidence: this.evidence,
      groups: this.groups,
      actions: this.actions,
      prior: priorOf(hypotheses, keptShares(this.start, sized)),
      repairs: repairsOf(hypotheses, result),
      nothingWrong: at(NOTHING_WRONG),
      absentNow: at(ABSENT_NOW),
      notDescribed: result.unknown,
      leftOut,
      leftBehind: this.leftBehind,
      complaint: this.complaint,
    }
  }
}

const priorOf = (hypotheses: readonly Hypothesis[], kept: Float64Array): number[] =>
  hypotheses.map(({ weight }, h) => weight * kept[h])

/** Share of each hypothesis' prior that its remaining sizes hold. */
function keptShares(start: Start, sized: readonly SizedHypothesis[]): Float64Array {
  const whole = wholeOf(start)
  return weightsOf(start.hypotheses, sized).map((share, h) => (whole[h] > 0 ? Math.min(share / whole[h], 1) : 0))
}

/** Sum of the weights of all sizes of each hypothesis. */
const wholeOf = (start: Start): Float64Array => weightsOf(start.hypotheses, start.sized)

function weightsOf(hypotheses: readonly Hypothesis[], sized: readonly SizedHypothesis[]): Float64Array {
  const total = new Float64Array(hypotheses.length)
  for (const { hypothesis, weight } of sized) total[hypothesis] += weight
  return total
}
