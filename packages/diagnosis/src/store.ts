import type { MeterRange } from '@halfsplit/core'
import type { Branch, Prediction } from '@halfsplit/inference'
import { type SizedFault, sizedKey } from './faults.js'
import type { Machine } from './machine.js'
import { type Setup, setupKey } from './setup.js'
import { predictAll } from './predict.js'
import { probeKey, type TestProbe } from './probe.js'

interface Kept {
  branches: readonly Branch[]
  /** By probe and range: one prediction per branch. */
  known: Map<string, Prediction[]>
}

/** Predictions by faults, setup, probe and range, worked out once: the description does not change under a job. */
export class PredictionStore {
  private readonly kept = new Map<string, Kept>()

  constructor(readonly machine: Machine) {}

  get(
    faults: readonly SizedFault[],
    setup: Setup,
    probes: readonly TestProbe[],
    ranges: readonly (MeterRange | undefined)[] = [],
  ): Branch[] {
    const key = `${setupKey(setup)}|${faults.map(sizedKey).join('|')}`
    const keys = probes.map((probe, i) => `${probeKey(probe)}|${ranges[i]?.top ?? ''}`)
    let entry = this.kept.get(key)
    const missing = keys.map((_, i) => i).filter((i) => !entry?.known.has(keys[i]))
    if (missing.length > 0 || !entry) {
      const branches = predictAll(
        this.machine,
        faults,
        setup,
        missing.map((i) => probes[i]),
        missing.map((i) => ranges[i]),
      )
      entry ??= { branches, known: new Map() }
      for (const [at, i] of missing.entries())
        entry.known.set(
          keys[i],
          branches.map((branch) => branch.predictions[at]),
        )
      this.kept.set(key, entry)
    }
    const { branches, known } = entry
    return branches.map(({ conditions }, b) => ({
      conditions,
      predictions: keys.map((name) => (known.get(name) as Prediction[])[b]),
    }))
  }
}
