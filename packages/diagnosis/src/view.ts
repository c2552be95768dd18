import { ASSUMPTIONS, type MeterRange } from '@halfsplit/core'
import { type Belief, belief, type Branch, type Cell, type GroupEvidence, type LeftBehind } from '@halfsplit/inference'
import { complaintBranches, complaintEvidence, heard } from './complaint.js'
import type { Consequences } from './consequences.js'
import type { Complaint, Done, Group } from './evidence.js'
import type { SizedFault } from './faults.js'
import { type Hope, leftBehindIn, stillHopeful } from './hopes.js'
import { ABSENT_NOW, type Hypothesis, NOTHING_WRONG, type SizedHypothesis } from './hypotheses.js'
import { courses, underCourse } from './life.js'
import type { Setup } from './setup.js'
import type { TestProbe } from './probe.js'
import { renewals, renewed } from './renewal.js'
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
  next: (sized: number, setup: Setup, probes: readonly TestProbe[]) => Branch[]
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
  }

  /** What a belief in all that was followed so far leaves to follow. */
  stillHopeful(result: Belief): Hope {
    return stillHopeful(this.hope, this.evidence, result, this.start.hypotheses, wholeOf(this.start))
  }

  believe(hypotheses: readonly Hypothesis[], sized: readonly SizedHypothesis[]): Belief {
    const cells: Cell[] = sized.map(({ hypothesis, weight }) => ({ hypothesis, weight }))
    const prior = priorOf(hypotheses, keptShares(this.start, sized))
    const { leftBehind } = this
    return belief(cells, prior, this.evidence, this.predictFor(sized), {
      unknown: ASSUMPTIONS.notDescribed,
      leftBehind,
      limits: LIMITS,
    })
  }

  private predictFor(sized: readonly SizedHypothesis[]) {
    const first = this.evidence.length - this.groups.length
    return (cell: number, group: number): readonly Branch[] =>
      group < first ? this.complaintBranches(sized[cell]) : this.groupBranches(sized[cell], this.groups[group - first])
  }

  private complaintBranches({ hypothesis, faults }: SizedHypothesis): Branch[] {
    if (this.start.hypotheses[hypothesis].absent) return [{ conditions: [], predictions: [heard(1)] }]
    return complaintBranches(this.source.store, this.complaint as Complaint, faults)
  }

  private groupBranches(one: SizedHypothesis, { segment, setup, taken }: Group): Branch[] {
    const probes = taken.map((item) => item.probe)
    const ranges = taken.map((item) => item.range)
    return this.branches(one.faults, segment, setup, probes, ranges)
  }

  /** What faults predict for probes in a segment of the log: as they have fared by then, in a machine with the parts it has by then. */
  private branches(
    faults: readonly SizedFault[],
    segment: number,
    setup: Setup,
    probes: readonly TestProbe[],
    ranges?: readonly (MeterRange | undefined)[],
  ): Branch[] {
    const { store, consequences } = this.source
    const { machine } = store
    const done = this.actions.slice(0, segment)
    const branches = courses(faults, this.actions, segment, machine.space, this.complaint?.howOften).flatMap((course) =>
      underCourse(course, store.get(consequences.added(course.faults, this.complaint, done), setup, probes, ranges)),
    )
    return renewed(branches, renewals(machine.system, done), machine.space)
  }

  standing(sized: readonly SizedHypothesis[], result: Belief): Standing {
    const { hypotheses, leftOut } = this.start
    const at = (id: string) => result.probability[hypotheses.findIndex((one) => one.id === id)] ?? 0
    return {
      hypotheses,
      sized,
      belief: result,
      predict: this.predictFor(sized),
      next: (cell, setup, probes) => this.branches(sized[cell].faults, this.actions.length, setup, probes),
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
