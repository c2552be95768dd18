import type { Element, Law, Network, Signal } from '@halfsplit/network'

/** An element of a `dc-network/1` file: neutral JSON, values in SI with the unit in the key. */
export interface DcElement {
  id: string
  kind: string
  a: string
  b: string
  [key: string]: string | number | undefined
}

export interface DcChange {
  element: string
  key?: string
  value?: number
  replace_by?: DcElement
}

interface DcCase {
  id: string
  changes: DcChange[]
  volt: Record<string, number | null> | null
  source_amp?: Record<string, number>
}

export interface DcFile {
  format: string
  name: string
  nodes: string[]
  elements: DcElement[]
  node_to_ground_ohm?: number | null
  transient?: { stop_s: number; at_s: number[] }
  cases?: DcCase[]
  faults?: { id: string; element: string; set: string; value: number }[]
  expected?: { healthy: number[] | null; faults: Record<string, number[] | null> }
}

/** kT/q at 27 degC, the temperature the circuit simulator used for the files [V]. */
const THERMAL_VOLTAGE = 0.0258649

/** Resistance of a winding that the file gives none [ohm]. */
const LEAST_WINDING = 1e-9

/** The same network in our primitives, its timed switches as at `time` [s]; with the kind's name when it has none of ours. */
export function toNetwork(
  nodes: string[],
  elements: DcElement[],
  insulationOhm: number | null,
  time = 0,
): Network | { unknown: string } {
  const signals: Signal[] = []
  const out: Element[] = []
  const insulation = insulationOhm === null ? 0 : 1 / insulationOhm
  for (const element of elements) {
    const made = primitive(element, elements, signals, time)
    if (!made) return { unknown: element.kind }
    out.push(made)
  }
  return { nodes: nodes.map((id) => ({ id, domain: 'electrical', insulation, rest: 0 })), elements: out, signals }
}

function primitive(element: DcElement, all: DcElement[], signals: Signal[], time: number): Element | undefined {
  const { id, a, b } = element
  const n = (key: string): number => Number(element[key])
  const law = (value: Law): Element => ({ type: 'law', id, a, b, law: value })
  switch (element.kind) {
    case 'resistor':
      return law({ law: 'linear', g: 1 / n('ohm') })
    case 'voltage_source':
      return { type: 'across', id, a, b, value: n('volt'), resistance: 0 }
    case 'filament':
      return law({ law: 'filament', cold: n('cold_ohm'), knee: n('knee_volt'), exponent: n('exponent') })
    case 'diode': {
      const breakdown = element.breakdown_volt === undefined ? undefined : n('breakdown_volt')
      return law({ law: 'diode', saturation: n('is'), thermalVoltage: n('n') * THERMAL_VOLTAGE, series: n('rs'), breakdown })
    }
    case 'capacitor':
      return {
        type: 'store',
        id,
        a,
        b,
        charge: { charge: 'linear', capacity: n('farad') },
        holds: Number(element.initial_volt ?? 0),
      }
    case 'inductor': {
      const resistance = element.ohm === undefined ? LEAST_WINDING : n('ohm')
      return { type: 'inertance', id, a, b, inertance: n('henry'), resistance, starts: Number(element.initial_amp ?? 0) }
    }
    case 'timed_switch': {
      signals.push({ type: 'imposed', id, value: closedAt(element, time) })
      return contact(element)
    }
    case 'contact': {
      const coil = all.find((other) => other.id === element.coil)
      if (!coil) return undefined
      const fall = element.drop_out_volt === undefined ? n('pull_in_volt') : n('drop_out_volt')
      signals.push({ type: 'threshold', id, a: coil.a, b: coil.b, scale: 1, rise: n('pull_in_volt'), fall })
      return contact(element)
    }
    default:
      return undefined
  }
}

function contact(element: DcElement): Element {
  const law = (key: string): Law => ({ law: 'linear', g: 1 / Number(element[key]) })
  return {
    type: 'gate',
    id: element.id,
    a: element.a,
    b: element.b,
    on: law('closed_ohm'),
    off: law('open_ohm'),
    signal: element.id,
  }
}

const closedAt = ({ closes_s, opens_s }: DcElement, time: number): boolean =>
  time >= Number(closes_s ?? 0) && time < Number(opens_s ?? Number.POSITIVE_INFINITY)

/** Times at which timed switches move [s]. */
export const switchingTimes = (elements: readonly DcElement[]): number[] =>
  elements
    .flatMap(({ kind, closes_s, opens_s }) => (kind === 'timed_switch' ? [closes_s, opens_s] : []))
    .flatMap((time) => (time === undefined ? [] : [Number(time)]))

/** The elements with a case's changes applied. */
export function changed(elements: DcElement[], changes: DcChange[]): DcElement[] {
  return elements.map((element) =>
    changes
      .filter((change) => change.element === element.id)
      .reduce((now, { replace_by, key, value }) => replace_by ?? (key ? { ...now, [key]: value } : now), element),
  )
}
