import type { System } from '@halfsplit/system'
import { Consequences } from './consequences.js'
import { type Complaint, groupsOf, type LogItem } from './evidence.js'
import { type FaultMode, faultModes } from './faults.js'
import { allFollowed, type Hope } from './hopes.js'
import { absentNow, coarser, nothingWrong, type SizedHypothesis, sizedHypotheses } from './hypotheses.js'
import { Machine } from './machine.js'
import { setupKey } from './setup.js'
import { Notice } from './notice.js'
import { fitOf, heaviestPairs } from './pairs.js'
import { probeKey } from './probe.js'
import { refine } from './refine.js'
import { type Single, single, timesPrior } from './singles.js'
import { PredictionStore } from './store.js'
import { generateTests, type Test } from './tests.js'
import { type Source, type Standing, type Start, View } from './view.js'
import { Worth } from './worth.js'

/** Stretches of size looked at for each fault of a pair. */
const PAIR_STRETCHES = 2
/** Rounds of learning a size more closely. */
const REFINE_ROUNDS = 3

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
  private readonly allSingles: Single[]
  private readonly source: Source
  private readonly starts = new Map<string, Start>()
  private readonly hopes = new Map<string, Hope>()

  constructor(readonly system: System) {
    this.machine = new Machine(system)
    this.store = new PredictionStore(this.machine)
    this.source = { store: this.store, consequences: new Consequences(this.machine) }
    this.tests = new Worth(this.machine).kept(generateTests(system))
    const notice = new Notice(this.machine)
    this.faults = faultModes(system, { byHand: true })
    this.allSingles = this.faults.map((fault) => single(fault, notice))
  }

  /** Belief after a complaint and a log. Between two actions the order of readings is irrelevant. */
  standing(log: readonly LogItem[], complaint?: Complaint): Standing {
    const start = this.start(complaint)
    const { groups, actions } = groupsOf(log)
    const hope = this.hopeful(log, complaint)
    const view = new View(this.source, start, groups, actions, complaint, hope)
    let { sized } = hope
    let result = view.believe(start.hypotheses, sized)
    for (let round = 0; round < REFINE_ROUNDS && groups.length > 0; round += 1) {
      const closer = refine(start.hypotheses, sized, result)
      if (closer === sized) break
      sized = closer
      result = view.believe(start.hypotheses, sized)
    }
    return view.standing(sized, result)
  }

  /** What the log up to its last action left any hope: within a segment nothing is given up, so that order does not matter. */
  private hopeful(log: readonly LogItem[], complaint: Complaint | undefined): Hope {
    const action = log.findLastIndex((item) => item.kind !== 'taken')
    if (action < 0) return allFollowed(this.start(complaint).sized)
    const before = log.slice(0, action)
    const key = logKey(before, complaint)
    let known = this.hopes.get(key)
    if (!known) {
      const start = this.start(complaint)
      const { groups, actions } = groupsOf(before)
      const hope = this.hopeful(before, complaint)
      const view = new View(this.source, start, groups, actions, complaint, hope)
      known = view.stillHopeful(view.believe(start.hypotheses, hope.sized))
      this.hopes.set(key, known)
    }
    return known
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

  /** Single faults with their priors: all with what hands leave where somebody worked on it, and as an earlier job makes of them. */
  private singlesFor(complaint: Complaint | undefined): Single[] {
    const factors = complaint?.priorFactors ?? {}
    const counts = ({ hypothesis }: Single) =>
      complaint?.workedOn || !hypothesis.faults[0].mode.byHand || factors[hypothesis.id] !== undefined
    return this.allSingles.filter(counts).map((one) => timesPrior(one, factors[one.hypothesis.id] ?? 1))
  }

  private makeStart(complaint: Complaint | undefined): Start {
    const singles = this.singlesFor(complaint)
    const hypotheses = [nothingWrong(), absentNow(), ...singles.map((one) => one.hypothesis)]
    const sized = [0, 1].flatMap((h) => sizedHypotheses(h, []))
    singles.forEach((one, i) => sized.push(...one.sized.map((cell) => ({ ...cell, hypothesis: i + 2 }))))
    const alone = new View(this.source, { hypotheses, sized, leftOut: 0 }, [], [], complaint, allFollowed(sized)).believe(
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
