import { ASSUMPTIONS } from '@halfsplit/core'
import {
  type Belief,
  belief,
  type Branch,
  type Cell,
  type GroupEvidence,
  type LeftBehind,
  type MarginCondition,
  type Sensitivities,
} from '@halfsplit/inference'
import type { Mode } from '@halfsplit/kinds'
import type { Fault, Part, System } from '@halfsplit/system'
import { type Complaint, type Done, type Group, groupsOf, type LogItem } from './evidence.js'
import { type FaultMode, faultModes, repairOf, type SizedFault, sizedKey, stretches } from './faults.js'
import {
  ABSENT_NOW,
  absentNow,
  coarser,
  type Hypothesis,
  NOTHING_WRONG,
  nothingWrong,
  pairOf,
  presence,
  refined,
  type SizedHypothesis,
  sizedHypotheses,
} from './hypotheses.js'
import { allFollowed, type Hope, leftBehindIn, stillHopeful } from './hopes.js'
import { courses, underCourse } from './life.js'
import { Machine, setupKey } from './machine.js'
import { Notice } from './notice.js'
import { probeKey } from './probe.js'
import { PredictionStore } from './store.js'
import { generateTests, type Test } from './tests.js'
import { Worth } from './worth.js'

/** What is believed after a log, and all that later questions need. */
export interface Standing {
  hypotheses: readonly Hypothesis[]
  sized: readonly SizedHypothesis[]
  belief: Belief
  /** What each sized hypothesis predicts for a group of evidence. */
  predict: (sized: number, group: number) => readonly Branch[]
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

export interface RepairBelief {
  repair: string
  probability: number
  /** The hypotheses behind it, likeliest first. */
  hypotheses: readonly { id: string; probability: number }[]
}

/** Most pairs looked at; the weight of the rest is stated. */
const MOST_PAIRS = 400
/** Ways a list of readings may have come about that are followed for each sized hypothesis: two misreads are as many as a job bears. */
export const LIMITS = { misreads: 2, paths: 48, share: 1e-7 } as const
/** Stretches of size looked at for each fault of a pair. */
const PAIR_STRETCHES = 3
/** Rounds of learning a size more closely, and the share of belief from which a hypothesis is worth it. */
const REFINE_ROUNDS = 3
const REFINE_FROM = 0.004
const REFINE_PAIR_FROM = 0.02
/** Neighbouring stretches whose log likelihoods differ by more than this want a closer look. */
const REFINE_STEP = 1

/**
 * The bench for one described system: belief over all its faults from a complaint and a log, a pure function of both.
 * Predictions are kept between calls, so a second question about the same machine is quick.
 */
export class Bench {
  readonly machine: Machine
  readonly store: PredictionStore
  readonly tests: readonly Test[]
  /** Every failure mode of the described parts, those left by someone's hands included. */
  readonly faults: readonly FaultMode[]
  private readonly singles: Single[]
  private readonly byHandSingles: Single[]
  private readonly starts = new Map<string, Start>()
  private readonly blown = new Map<string, readonly SizedFault[]>()
  private readonly hopes = new Map<string, Hope>()

  constructor(readonly system: System) {
    this.machine = new Machine(system)
    this.store = new PredictionStore(this.machine)
    this.tests = new Worth(this.machine).kept(generateTests(system))
    const notice = new Notice(this.machine)
    this.faults = faultModes(system, { byHand: true })
    const all = this.faults.map((fault) => single(fault, notice))
    this.singles = all.filter(({ hypothesis }) => !hypothesis.faults[0].mode.byHand)
    this.byHandSingles = all
  }

  /** Belief after a complaint and a log. Between two actions the order of readings is irrelevant, but for what was hopeless before. */
  standing(log: readonly LogItem[], complaint?: Complaint): Standing {
    const start = this.start(complaint)
    const { groups, actions } = groupsOf(log)
    const hope = this.hopeful(log, complaint)
    const view = new View(this, start, groups, actions, complaint, hope)
    let { sized } = hope
    let result = view.believe(start.hypotheses, sized)
    this.hopes.set(logKey(log, complaint), view.stillHopeful(result))
    for (let round = 0; round < REFINE_ROUNDS && groups.length > 0; round += 1) {
      const closer = refine(start.hypotheses, sized, result)
      if (closer === sized) break
      sized = closer
      result = view.believe(start.hypotheses, sized)
    }
    return view.standing(sized, result)
  }

  /** What the log before its last entry left any hope: the rest is not followed further. */
  private hopeful(log: readonly LogItem[], complaint: Complaint | undefined): Hope {
    if (log.length === 0) return allFollowed(this.start(complaint).sized)
    // Only what came before the last action sinks a size for good: within a segment the order must not matter.
    const before = log.slice(
      0,
      Math.max(
        log.findLastIndex((item) => item.kind !== 'taken'),
        0,
      ),
    )
    const key = logKey(before, complaint)
    let known = this.hopes.get(key)
    if (!known) {
      const start = this.start(complaint)
      const { groups, actions } = groupsOf(before)
      const hope = this.hopeful(before, complaint)
      const view = new View(this, start, groups, actions, complaint, hope)
      known = view.stillHopeful(view.believe(start.hypotheses, hope.sized))
      this.hopes.set(key, known)
    }
    return known
  }

  /** The faults with what they opened for good while the owner made his complaint: it stays so in every state until it is repaired. */
  withConsequences(
    faults: readonly SizedFault[],
    complaint: Complaint | undefined,
    done: readonly Done[],
  ): readonly SizedFault[] {
    if (!complaint || faults.length === 0) return faults
    const key = `${JSON.stringify(complaint.shows)}|${faults.map(sizedKey).join('|')}`
    let blown = this.blown.get(key)
    if (!blown) {
      const states = [...new Set(complaint.shows.map((show) => show.state))]
      blown = states.flatMap((state) => this.machine.arrivePlain(faults, state).blown.map((one) => this.openFor(one)))
      this.blown.set(key, blown)
    }
    const repaired = new Set(done.flatMap((action) => (action.kind === 'repaired' ? action.repairs : [])))
    const parts = new Set(faults.map(({ fault }) => fault.part.name))
    const still = blown.filter(
      ({ fault }, i) => !repaired.has(fault.repair) && !parts.has(fault.part.name) && first(blown ?? [], fault.id) === i,
    )
    return still.length > 0 ? [...faults, ...still] : faults
  }

  private openFor({ part: name, mode: id }: Fault): SizedFault {
    const part = this.system.parts.get(name) as Part
    const mode = part.kind.modes.find((one) => one.id === id) as Mode
    return { fault: { id: `${name}.${id}`, part, mode, rate: 0, repair: repairOf(part, mode) }, sd: 0 }
  }

  /** Hypotheses for a complaint: singles, then the pairs that could weigh most. */
  private start(complaint: Complaint | undefined): Start {
    const key = JSON.stringify(complaint ?? null)
    let start = this.starts.get(key)
    if (!start) {
      start = this.makeStart(complaint)
      this.starts.set(key, start)
    }
    return start
  }

  private makeStart(complaint: Complaint | undefined): Start {
    const singles = complaint?.workedOn ? this.byHandSingles : this.singles
    const hypotheses = [nothingWrong(), absentNow(), ...singles.map((one) => one.hypothesis)]
    const sized = [0, 1].flatMap((h) => sizedHypotheses(h, []))
    singles.forEach((one, i) => sized.push(...one.sized.map((cell) => ({ ...cell, hypothesis: i + 2 }))))
    const alone = new View(this, { hypotheses, sized, leftOut: 0 }, [], [], complaint, allFollowed(sized)).believe(
      hypotheses,
      sized,
    )
    const fit = fitOf(hypotheses, sized, alone)
    const visible = singles.map(({ hypothesis, seen }, i) => ({
      hypothesis: { ...hypothesis, weight: seen.reduce((sum, one) => sum + one.weight, 0) },
      fit: fit[i + 2],
    }))
    const explained = hypotheses.reduce((sum, { weight }, h) => sum + weight * fit[h], 0)
    const { pairs, leftOut } = heaviestPairs(visible, explained)
    const coarse = new Map(singles.map(({ hypothesis, seen }) => [hypothesis.id, coarser(seen.map(weighed), PAIR_STRETCHES)]))
    for (const pair of pairs) {
      const h = hypotheses.push(pair) - 1
      sized.push(...sizedHypotheses(h, pair.faults, (fault) => coarse.get(fault.id) ?? []))
    }
    return { hypotheses, sized, leftOut }
  }
}

const first = (list: readonly SizedFault[], id: string): number => list.findIndex((one) => one.fault.id === id)

/** Text of a log for a key: what was taken where, what it showed, what was done. */
function logKey(log: readonly LogItem[], complaint: Complaint | undefined): string {
  const items = log.map((item) =>
    item.kind === 'taken'
      ? [setupKey(item.taken.setup), probeKey(item.taken.probe), item.taken.outcome, item.taken.range?.top, item.taken.error]
      : item,
  )
  return JSON.stringify([complaint ?? null, items])
}

const weighed = ({ stretches: [stretch], weight }: SizedHypothesis) => ({ ...stretch, share: weight })

interface Start {
  hypotheses: Hypothesis[]
  sized: readonly SizedHypothesis[]
  leftOut: number
}

/** A single fault's prior by size: what would have been noticed has had a month to come, what hides has had two years. */
function single(fault: FaultMode, notice: Notice): Single {
  const cells = sizedHypotheses(0, [fault])
  const noticed = noticedSizes(cells, fault, notice)
  const sized = cells.map((one, i) => {
    const years = noticed[i] ? ASSUMPTIONS.noticedExposure : ASSUMPTIONS.hiddenExposure
    return { ...one, weight: presence(fault.rate * one.weight, years) }
  })
  const chance = sized.reduce((sum, one) => sum + one.weight, 0)
  const weight = chance / (1 - Math.min(chance, 0.5))
  const seen = sized.filter((_, i) => noticed[i])
  return { hypothesis: { id: fault.id, faults: [fault], absent: false, weight }, sized, seen }
}

/** A fault alone: all its sizes, and those an operator would notice. */
interface Single {
  hypothesis: Hypothesis
  sized: SizedHypothesis[]
  seen: SizedHypothesis[]
}

/** Which sizes would be noticed. On a log scale a worse size shows no less, so the first that shows is found by halving. */
function noticedSizes(cells: readonly SizedHypothesis[], fault: FaultMode, notice: Notice): boolean[] {
  const shows = (i: number) => notice.noticed(cells[i].faults)
  if (fault.severity?.scale !== 'log') return cells.map((_, i) => shows(i))
  const last = cells.length - 1
  const [atFirst, atLast] = [shows(0), shows(last)]
  if (atFirst === atLast) return cells.map(() => atFirst)
  let low = 0
  let high = last
  while (high - low > 1) {
    const middle = (low + high) >> 1
    if (shows(middle) === atFirst) low = middle
    else high = middle
  }
  return cells.map((_, i) => (i <= low ? atFirst : atLast))
}

/** How well each hypothesis alone fits the complaint, 0 to 1. */
function fitOf(hypotheses: readonly Hypothesis[], sized: readonly SizedHypothesis[], result: Belief): Float64Array {
  const fit = new Float64Array(hypotheses.length)
  const total = new Float64Array(hypotheses.length)
  sized.forEach(({ hypothesis, weight }, i) => {
    fit[hypothesis] += weight * Math.exp(result.logLikelihood[i])
    total[hypothesis] += weight
  })
  return fit.map((value, h) => value / total[h])
}

/**
 * Pairs of faults that an operator would notice, in different parts, heaviest first by prior and by how well the better of the two
 * fits, until little is left. A second fault that nobody notices is no rival to the first and changes no verdict here: it is
 * for the proof after the repair to find.
 */
function heaviestPairs(
  visible: readonly { hypothesis: Hypothesis; fit: number }[],
  alone: number,
): { pairs: Hypothesis[]; leftOut: number } {
  const found: { p: Hypothesis; q: Hypothesis; weight: number }[] = []
  for (let i = 0; i < visible.length; i += 1) {
    for (let j = i + 1; j < visible.length; j += 1) {
      const p = visible[i].hypothesis
      const q = visible[j].hypothesis
      const weight = p.weight * q.weight * Math.max(visible[i].fit, visible[j].fit)
      if (weight > 0 && p.faults[0].part !== q.faults[0].part) found.push({ p, q, weight })
    }
  }
  found.sort((a, b) => b.weight - a.weight || (a.p.id + a.q.id < b.p.id + b.q.id ? -1 : 1))
  let left = found.reduce((sum, one) => sum + one.weight, 0)
  const whole = alone + left
  const pairs: Hypothesis[] = []
  for (const { p, q, weight } of found) {
    if (left < ASSUMPTIONS.leftOut * whole || pairs.length >= MOST_PAIRS) break
    pairs.push(pairOf(p, q))
    left -= weight
  }
  return { pairs, leftOut: Math.max(left, 0) / whole }
}

/** Evidence as one hypothesis set sees it: the complaint, then the groups of the log. */
class View {
  private readonly evidence: GroupEvidence[]
  private readonly leftBehind: LeftBehind

  constructor(
    private readonly bench: Bench,
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

  private groupBranches(one: SizedHypothesis, { segment, setup, taken }: Group): Branch[] {
    const { machine, store } = this.bench
    const probes = taken.map((item) => item.probe)
    const ranges = taken.map((item) => item.range)
    const all = courses(one.faults, this.actions, segment, machine.space, this.complaint?.howOften)
    const branches = all.flatMap((course) =>
      underCourse(
        course,
        store.get(
          this.bench.withConsequences(course.faults, this.complaint, this.actions.slice(0, segment)),
          setup,
          probes,
          ranges,
        ),
      ),
    )
    return renewed(branches, this.renewals(segment), this.bench)
  }

  /** Latents of parts replaced before a segment, with how often: they have been drawn anew. */
  private renewals(segment: number): Map<number, number> {
    const times = new Map<number, number>()
    for (const action of this.actions.slice(0, segment)) {
      if (action.kind !== 'repaired') continue
      const parts = new Set(action.repairs.map((repair) => repair.slice(repair.indexOf(' ') + 1)))
      for (const latent of this.bench.system.latents) {
        if (parts.has(latent.part)) times.set(latent.index, (times.get(latent.index) ?? 0) + 1)
      }
    }
    return times
  }

  /** The complaint is heard more often where the machine shows all of it; what comes and goes was there when the owner saw it. */
  private complaintBranches(one: SizedHypothesis): Branch[] {
    const heard = (shown: number) => {
      const probability = shown * ASSUMPTIONS.complaintIfShown + (1 - shown) * ASSUMPTIONS.complaintIfNot
      return { kind: 'words', probabilities: [probability, 1 - probability] } as const
    }
    if (this.start.hypotheses[one.hypothesis].absent) return [{ conditions: [], predictions: [heard(1)] }]
    let all: { conditions: readonly MarginCondition[]; shown: number }[] = [{ conditions: [], shown: 1 }]
    for (const show of (this.complaint as Complaint).shows) {
      const seen = this.shown(one, show)
      all = all.flatMap((before) =>
        seen.flatMap(({ conditions, shown }) => {
          const both = joined(before.conditions, conditions)
          return both ? [{ conditions: both, shown: before.shown * shown }] : []
        }),
      )
    }
    return all.map(({ conditions, shown }) => ({ conditions, predictions: [heard(shown)] }))
  }

  /** How surely one look of the complaint would be seen, by branch. */
  private shown(one: SizedHypothesis, { state, part: name, look: lookName, word }: Complaint['shows'][number]) {
    const part = this.bench.system.parts.get(name)
    const look = part?.kind.looks?.find((candidate) => candidate.name === lookName)
    if (!part || !look) throw new RangeError(`the complaint speaks of '${name}.${lookName}', which is no look of this machine`)
    const branches = this.bench.store.get(one.faults, { state }, [{ kind: 'look', part, look }])
    return branches.map(({ conditions, predictions: [seen] }) => ({
      conditions,
      shown: seen.kind === 'words' ? seen.probabilities[look.words.indexOf(word)] : 0,
    }))
  }

  standing(sized: readonly SizedHypothesis[], result: Belief): Standing {
    const { hypotheses, leftOut } = this.start
    const at = (id: string) => result.probability[hypotheses.findIndex((one) => one.id === id)] ?? 0
    return {
      hypotheses,
      sized,
      belief: result,
      predict: this.predictFor(sized),
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

/** Both lists of conditions together, each once; undefined where one wants what the other excludes (states reached by the same way). */
function joined(p: readonly MarginCondition[], q: readonly MarginCondition[]): readonly MarginCondition[] | undefined {
  const fresh: MarginCondition[] = []
  for (const one of q) {
    const same = p.find((other) => other.mean === one.mean && other.sensitivities === one.sensitivities)
    if (!same) fresh.push(one)
    else if (same.side !== one.side) return undefined
  }
  return [...p, ...fresh]
}

/** The complaint is one record, whatever number of looks it ties together. */
const COMPLAINT = '  complaint'

function complaintEvidence(complaint: Complaint | undefined): GroupEvidence[] {
  if (!complaint || complaint.shows.length === 0) return []
  return [{ id: COMPLAINT, records: [{ id: 'complaint', outcome: { kind: 'word', word: 0, words: 2 }, error: 0 }] }]
}

function renewed(branches: Branch[], times: ReadonlyMap<number, number>, bench: Bench): Branch[] {
  if (times.size === 0) return branches
  const { space } = bench.machine
  const moved = (old: Sensitivities): Sensitivities => {
    const pairs = Array.from(old.index, (latent, i) => ({
      latent: space.redrawn(latent, times.get(latent) ?? 0),
      value: old.value[i],
    }))
    pairs.sort((p, q) => p.latent - q.latent)
    return { index: pairs.map((pair) => pair.latent), value: pairs.map((pair) => pair.value) }
  }
  return branches.map(({ conditions, predictions }) => ({
    conditions: conditions.map((condition) => ({ ...condition, sensitivities: moved(condition.sensitivities) })),
    predictions: predictions.map((one) => (one.kind === 'number' ? { ...one, sensitivities: moved(one.sensitivities) } : one)),
  }))
}

/** Each repair's probability of being among those needed; pairs count for both of theirs. */
export function repairsOf(hypotheses: readonly Hypothesis[], result: Belief): RepairBelief[] {
  const found = new Map<string, { probability: number; hypotheses: { id: string; probability: number }[] }>()
  hypotheses.forEach(({ id, faults }, h) => {
    for (const repair of new Set(faults.map((fault) => fault.repair))) {
      const entry = found.get(repair) ?? { probability: 0, hypotheses: [] }
      entry.probability += result.probability[h]
      entry.hypotheses.push({ id, probability: result.probability[h] })
      found.set(repair, entry)
    }
  })
  return [...found]
    .map(([repair, entry]) => ({
      repair,
      probability: entry.probability,
      hypotheses: entry.hypotheses.sort((a, b) => b.probability - a.probability || (a.id < b.id ? -1 : 1)),
    }))
    .sort((a, b) => b.probability - a.probability || (a.repair < b.repair ? -1 : 1))
}

/** Whether sizes next to this one have been left behind as hopeless: the likelihood falls steeply there. Sizes on a log scale join up. */
function besideGap({ faults, stretches: [own] }: SizedHypothesis, near: readonly SizedHypothesis[]): boolean {
  const [{ fault }] = faults
  if (faults.length > 1 || fault.severity?.scale !== 'log') return false
  const all = stretches(fault.severity)
  const ends = [own.middle - own.width / 2, own.middle + own.width / 2]
  const joined = [all[0], ...near.map((one) => one.stretches[0]), all[all.length - 1]].flatMap(({ middle, width }, k, list) =>
    k === 0 ? [middle - width / 2] : k === list.length - 1 ? [middle + width / 2] : [middle - width / 2, middle + width / 2],
  )
  return !ends.every((end) => joined.some((other) => Math.abs(end - other) < 1e-9))
}

/** Cuts the stretches that matter finer, where the likelihood changes much from one to the next. */
function refine(
  hypotheses: readonly Hypothesis[],
  sized: readonly SizedHypothesis[],
  result: Belief,
): readonly SizedHypothesis[] {
  const cut = new Set<number>()
  const byHypothesis = new Map<number, number[]>()
  sized.forEach(({ hypothesis }, i) => byHypothesis.set(hypothesis, [...(byHypothesis.get(hypothesis) ?? []), i]))
  for (const [h, cells] of byHypothesis) {
    const worth = hypotheses[h].faults.length > 1 ? REFINE_PAIR_FROM : REFINE_FROM
    if (!(result.probability[h] > worth) || !hypotheses[h].faults.some((fault) => fault.severity)) continue
    const best = Math.max(...cells.map((i) => result.logLikelihood[i]))
    cells.forEach((i, k) => {
      const near = [cells[k - 1], cells[k + 1]].filter((j) => j !== undefined)
      const heavy = (j: number) => result.logLikelihood[j] > best - 6
      const steep =
        besideGap(
          sized[i],
          near.map((j) => sized[j]),
        ) || near.some((j) => Math.abs(result.logLikelihood[i] - result.logLikelihood[j]) > REFINE_STEP)
      if (steep && (heavy(i) || near.some(heavy))) cut.add(i)
    })
  }
  if (cut.size === 0) return sized
  return sized.flatMap((one, i) => (cut.has(i) ? refined(one) : [one]))
}
