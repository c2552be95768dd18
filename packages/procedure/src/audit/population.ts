import { ASSUMPTIONS } from '@halfsplit/core'
import {
  Consequences,
  type FaultMode,
  faultModes,
  type Machine,
  type SizedFault,
  sized,
  stretches,
  type TestProbe,
} from '@halfsplit/diagnosis'
import type { Complaint, System } from '@halfsplit/system'
import { type Present, SOUND, type Takings } from './taken-by.js'

/** Machines with one fault, or none: one for each drawn specimen, each with the weight it has among all that come in. */
export interface Cell {
  /** Missing for the sound machine. */
  fault?: FaultMode
  present: Present
  /** Of each specimen; 0 where it does not show the complaint. */
  weights: Float64Array
}

/** Everything that may come in with the complaint: the sound machine first, then every fault that shows it, by size. */
export interface Population {
  sound: Cell
  cells: readonly Cell[]
  /** Faults that show the complaint in some size and specimen. */
  faults: readonly FaultMode[]
}

/**
 * Every single fault in every stretch of its size, weighed by how often it comes and by whether its specimen shows all of the
 * complaint (all looks in their states, as the bench has it). A sound machine is complained of as seldom as the bench assumes.
 * Slips of hands are not among them. Without a complaint every fault counts by its rate.
 */
export function populationOf(machine: Machine, takings: Takings, complaint: Complaint | undefined): Population {
  const { system } = machine
  const consequences = new Consequences(machine)
  const { count } = takings.columns
  const cells = faultModes(system).flatMap((fault) =>
    stretches(fault.severity).flatMap((stretch) => {
      const own = sized(fault, stretch)
      const presence = -Math.expm1(-fault.rate * stretch.share * ASSUMPTIONS.noticedExposure)
      const faults = consequences.added([own], complaint, [])
      const shown = shownBy(system, takings, faults, complaint)
      const each = (presence * ASSUMPTIONS.complaintIfShown) / count
      const weights = shown.map((one) => one * each)
      if (!weights.some((weight) => weight > 0)) return []
      return [{ fault, present: { faults, intermittent: fault.mode.intermittent ?? false }, weights }]
    }),
  )
  const sound = { present: SOUND, weights: new Float64Array(count).fill(ASSUMPTIONS.complaintIfNot / count) }
  return { sound, cells, faults: [...new Set(cells.map(({ fault }) => fault))] }
}

/** 1 for each specimen that shows every look of the complaint. What comes and goes was there when the owner saw it. */
function shownBy(
  system: System,
  takings: Takings,
  faults: readonly SizedFault[],
  complaint: Complaint | undefined,
): Float64Array {
  const shown = new Float64Array(takings.columns.count).fill(1)
  for (const { state, part: name, look: lookName, word } of complaint?.shows ?? []) {
    const taken = takings.of({ faults, intermittent: false }, { state }, lookOf(system, name, lookName))
    taken.forEach((one, n) => {
      if (typeof one === 'string' || !('word' in one) || one.word !== word) shown[n] = 0
    })
    if (!shown.includes(1)) break
  }
  return shown
}

function lookOf(system: System, name: string, lookName: string): TestProbe {
  const part = system.parts.get(name)
  const look = part?.kind.looks?.find((one) => one.name === lookName)
  if (!part || !look) throw new RangeError(`'${name}.${lookName}' is no look of this machine`)
  return { kind: 'look', part, look }
}
