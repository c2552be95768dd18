import type { Meter } from '@halfsplit/core'
import type { Look } from '@halfsplit/kinds'
import type { Part } from '@halfsplit/system'

/** What is taken at the machine in a setup: a meter between two points, a gauge, a clamp, a part's own resistance, or a look. */
export type TestProbe =
  | { kind: 'volts'; red: string; black: string; meter: Meter }
  | { kind: 'pressure'; at: string; meter: Meter }
  | { kind: 'amps'; part: string; element: string; meter: Meter }
  /** Part isolated, machine dead; `reversed`: leads changed over. */
  | { kind: 'ohms'; part: string; red: string; black: string; meter: Meter }
  | { kind: 'look'; part: Part; look: Look }

/** Stable text of a probe: its key in logs and caches, and how it is written in a job. */
export function probeKey(probe: TestProbe): string {
  switch (probe.kind) {
    case 'volts':
      return `volts ${probe.red} ${probe.black}${isLowImpedance(probe.meter) ? ' low-impedance' : ''}`
    case 'pressure':
      return `pressure ${probe.at}`
    case 'amps':
      return `amps ${probe.part}`
    case 'ohms':
      return `ohms ${probe.part} ${probe.red} ${probe.black}`
    case 'look':
      return `look ${probe.part.name}.${probe.look.name}`
  }
}

export const isLowImpedance = (meter: Meter): boolean => (meter.inputResistance ?? Number.POSITIVE_INFINITY) < 1e5
