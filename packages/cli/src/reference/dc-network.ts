import type { Element, Law, Network, Signal } from '@halfsplit/network'

/** An element of a `dc-network/1` file: neutral JSON, values in SI with the unit in the key. */
export interface DcElement {
  id: string
  kind: string
  a: string
  b: string
  [key: string]: string | number | undefined
}

/** kT/q at 27 degC, the temperature the circuit simulator used for the files [V]. */
const THERMAL_VOLTAGE = 0.0258649

/** The same network in our primitives; undefined with the kind's name when it has none of ours at rest. */
export function toNetwork(nodes: string[], elements: DcElement[], insulationOhm: number | null): Network | { unknown: string } {
  const signals: Signal[] = []
  const out: Element[] = []
  const insulation = insulationOhm === null ? 0 : 1 / insulationOhm
  for (const element of elements) {
    const made = primitive(element, elements, signals)
    if (!made) return { unknown: element.kind }
    out.push(made)
  }
  return { nodes: nodes.map((id) => ({ id, domain: 'electrical', insulation, rest: 0 })), elements: out, signals }
}

function primitive(element: DcElement, all: DcElement[], signals: Signal[]): Element | undefined {
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
    case 'contact': {
      const coil = all.find((other) => other.id === element.coil)
      if (!coil) return undefined
      const fall = element.drop_out_volt === undefined ? n('pull_in_volt') : n('drop_out_volt')
      signals.push({ type: 'threshold', id, a: coil.a, b: coil.b, scale: 1, rise: n('pull_in_volt'), fall })
      const gate = (ohm: number): Law => ({ law: 'linear', g: 1 / ohm })
      return { type: 'gate', id, a, b, on: gate(n('closed_ohm')), off: gate(n('open_ohm')), signal: id }
    }
    default:
      return undefined
  }
}
