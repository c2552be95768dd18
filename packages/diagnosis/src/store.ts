import type { MeterRange } from '@halfsplit/core'
import type { Branch, Prediction } from '@halfsplit/inference'
import { type SizedFault, sizedKeys } from './faults.js'
import type { Machine } from './machine.js'
import { type Setup, setupKey } from './setup.js'
import { predictAll } from './predict.js'
import { probeKey, type TestProbe } from './probe.js'

interface Kept {
  branches: readonly Branch[]
  /** By probe and range: one prediction per branch. */
  known: Map<string, Prediction[]>
  /** Branches as they were last asked for: the same probes are asked again at every reading of a job. */
  last?: { keys: readonly string[]; branches: readonly Branch[] }
}

/** Predictions by setup, faults, probe and range, worked out once: the description does not change under a job. */
export class PredictionStore {
  private readonly bySetup = new Map<string, Map<string, Kept>>()

  constructor(readonly machine: Machine) {}

  get(
    faults: readonly SizedFault[],
    setup: Setup,
    probes: readonly TestProbe[],
    ranges: readonly (MeterRange | undefined)[] = [],
  ): readonly Branch[] {
    return this.ask(setup, probes, ranges)(faults)
  }

  /** The same question for many hypotheses, one after the other. */
  ask(
    setup: Setup,
    probes: readonly TestProbe[],
    ranges: readonly (MeterRange | undefined)[] = [],
  ): (faults: readonly SizedFault[]) => readonly Branch[] {
    const place = setupKey(setup)
    let inSetup = this.bySetup.get(place)
    if (!inSetup) {
      inSetup = new Map()
      this.bySetup.set(place, inSetup)
    }
    const kept = inSetup
    const keys = probes.map((probe, i) => `${probeKey(probe)}|${ranges[i]?.top ?? ''}`)
    return (faults) => this.answer(kept, faults, setup, probes, ranges, keys)
  }

  private answer(
    inSetup: Map<string, Kept>,
    faults: readonly SizedFault[],
    setup: Setup,
    probes: readonly TestProbe[],
    ranges: readonly (MeterRange | undefined)[],
    keys: readonly string[],
  ): readonly Branch[] {
    const key = sizedKeys(faults)
    let entry = inSetup.get(key)
    if (entry?.last && same(entry.last.keys, keys)) return entry.last.branches
    const missing = entry ? keys.map((_, i) => i).filter((i) => !entry?.known.has(keys[i])) : [...keys.keys()]
    if (missing.length > 0 || !entry) {
      const branches = predictAll(
        this.machine,
        faults,
        setup,
        missing.map((i) => probes[i]),
        missing.map((i) => ranges[i]),
      )
      entry ??= { branches: branches.map(({ conditions }) => ({ conditions, predictions: [] })), known: new Map() }
      for (const [at, i] of missing.entries())
        entry.known.set(
          keys[i],
          branches.map((branch) => branch.predictions[at]),
        )
      inSetup.set(key, entry)
    }
    const { branches, known } = entry
    const lists = keys.map((name) => known.get(name) as Prediction[])
    const answer = branches.map(({ conditions }, b) => ({ conditions, predictions: lists.map((list) => list[b]) }))
    entry.last = { keys, branches: answer }
    return answer
  }
}

function same(a: readonly string[], b: readonly string[]): boolean {
  if (a === b) return true
  if (a.length !== b.length) return false
  for (let i = 0; i < a.length; i += 1) if (a[i] !== b[i]) return false
  return true
}
