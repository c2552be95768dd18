import { ASSUMPTIONS } from '@halfsplit/core'
import { type PredictionStore, probeKey, type Setup, type SizedFault, setupKey, type TestProbe } from '@halfsplit/diagnosis'
import type { Branch, MarginCondition, NumberPrediction, Prediction } from '@halfsplit/inference'
import { displayedBy, type TakenAtStep } from '../written/passes.js'
import type { Columns } from './columns.js'

/** A fault as it stands in the machines of an audit, with what it blew when the owner used the machine. */
export interface Present {
  faults: readonly SizedFault[]
  /** It comes and goes. */
  intermittent: boolean
}

export const SOUND: Present = { faults: [], intermittent: false }

/**
 * What each drawn specimen shows at a probe. A specimen's own values and its meter's errors are drawn once, so that its readings
 * hang together; a threshold falls on the side the specimen's own values put it. Slips of the reader are left out.
 */
export class Takings {
  private readonly sound = new Map<string, TakenAtStep[]>()

  constructor(
    private readonly store: PredictionStore,
    readonly columns: Columns,
  ) {}

  /** What is taken of each specimen, in their order. Kept for the sound machine. */
  of({ faults, intermittent }: Present, setup: Setup, probe: TestProbe): readonly TakenAtStep[] {
    const sound = () => this.kept(setup, probe)
    if (faults.length === 0) return sound()
    const faulty = this.taken(faults, setup, probe)
    if (!intermittent) return faulty
    const there = this.columns.uniform(`present ${setupKey(setup)}`)
    const well = sound()
    return faulty.map((one, n) => (there[n] < ASSUMPTIONS.intermittentPresent ? one : well[n]))
  }

  /** Display of each specimen of the sound machine [SI], before its meter's ranges end it; none for words. */
  private kept(setup: Setup, probe: TestProbe): TakenAtStep[] {
    const key = `${setupKey(setup)}: ${probeKey(probe)}`
    let known = this.sound.get(key)
    if (!known) {
      known = this.taken([], setup, probe)
      this.sound.set(key, known)
    }
    return known
  }

  private taken(faults: readonly SizedFault[], setup: Setup, probe: TestProbe): TakenAtStep[] {
    const branches = this.store.get(faults, setup, [probe])
    const key = `${setupKey(setup)}: ${probeKey(probe)}`
    const shown = branches.map(({ predictions: [one] }) => this.shown(one, probe, key))
    const which = this.branchOf(branches)
    return Array.from(which, (b, n) => shown[b](n))
  }

  private shown(one: Prediction, probe: TestProbe, key: string): (n: number) => TakenAtStep {
    const chance = this.columns.uniform(`chance ${key}`)
    if (one.kind === 'words') {
      const words = probe.kind === 'look' ? probe.look.words : []
      return (n) => ({ word: words[wordAt(one.probabilities, chance[n])] })
    }
    if (probe.kind === 'look') throw new RangeError('a look shows no number')
    const values = this.values(one, key)
    const broad = one.broad
    return (n) => {
      // A machine that finds no rest shows any number at all.
      if (broad && broad.weight >= 1) return 'unsteady'
      if (broad && chance[n] < broad.weight)
        return displayedBy(probe.meter, broad.low + ((broad.high - broad.low) * chance[n]) / broad.weight)
      return displayedBy(probe.meter, values[n])
    }
  }

  private values({ mean, sensitivities, freshSd }: NumberPrediction, key: string): Float64Array {
    const values = this.columns.line(mean, sensitivities)
    const fresh = this.columns.normal(`fresh ${key}`)
    for (let n = 0; n < values.length; n += 1) values[n] += freshSd * fresh[n]
    return values
  }

  /** The branch each specimen is in: the one whose margins its own values break least, and not at all where one holds. */
  private branchOf(branches: readonly Branch[]): Int32Array {
    const which = new Int32Array(this.columns.count)
    if (branches.length < 2) return which
    const least = new Float64Array(this.columns.count).fill(Number.POSITIVE_INFINITY)
    branches.forEach(({ conditions }, b) => {
      const broken = this.broken(conditions)
      for (let n = 0; n < which.length; n += 1) {
        if (broken[n] >= least[n]) continue
        least[n] = broken[n]
        which[n] = b
      }
    })
    return which
  }

  /** By how much each specimen breaks a list of conditions, in their standard deviations; 0 where all hold. */
  private broken(conditions: readonly MarginCondition[]): Float64Array {
    const sum = new Float64Array(this.columns.count)
    for (const { mean, sensitivities, side } of conditions) {
      const sd = Math.hypot(...Array.from(sensitivities.value))
      const margin = this.columns.line(mean, sensitivities)
      for (let n = 0; n < sum.length; n += 1) if (margin[n] * side < 0) sum[n] += Math.abs(margin[n]) / (sd || 1)
    }
    return sum
  }
}

function wordAt(probabilities: ArrayLike<number>, chance: number): number {
  let passed = 0
  for (let w = 0; w < probabilities.length; w += 1) {
    passed += probabilities[w]
    if (chance < passed) return w
  }
  return probabilities.length - 1
}
