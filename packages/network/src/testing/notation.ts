import { type Domain, type Element, type Law, type Network, REFERENCE, type Signal } from '../types.js'

/** Short words for the networks of the tests, so that a case fits on one screen. */
export const law = (id: string, a: string, b: string, value: Law): Element => ({ type: 'law', id, a, b, law: value })

export const resistor = (id: string, a: string, b: string, ohm: number): Element => law(id, a, b, conductance(1 / ohm))

export const conductance = (g: number): Law => ({ law: 'linear', g })

export const source = (id: string, a: string, b: string, value: number, resistance = 0): Element => ({
  type: 'across',
  id,
  a,
  b,
  value,
  resistance,
})

export const store = (id: string, a: string, capacity: number, holds?: number, b = REFERENCE): Element => ({
  type: 'store',
  id,
  a,
  b,
  charge: { charge: 'linear', capacity },
  ...(holds === undefined ? {} : { holds }),
})

export const drive = (id: string, a: string, b: string, value: number): Element => ({ type: 'through', id, a, b, value })

/** A contact: `closed` ohm while `signal` is on, open otherwise. */
export const contact = (id: string, a: string, b: string, signal: string, closed = 0.01): Element => ({
  type: 'gate',
  id,
  a,
  b,
  on: conductance(1 / closed),
  off: conductance(0),
  signal,
})

/** The rest contact of the same relay: closed while `signal` is off. */
export const restContact = (id: string, a: string, b: string, signal: string, closed = 0.01): Element => ({
  type: 'gate',
  id,
  a,
  b,
  on: conductance(0),
  off: conductance(1 / closed),
  signal,
})

/** Filament of a lamp: cold resistance a tenth of the hot one, as tungsten has it (common practice, no source). */
export const lamp = (id: string, a: string, b: string, watt: number, volt: number): Element => {
  const knee = volt / 20
  const cold = (volt * volt) / watt / (1 + (volt / knee) ** 2) ** 0.385
  return law(id, a, b, { law: 'filament', cold, knee, exponent: 0.385 })
}

/** Rectifier diode: saturation and series resistance of an ordinary size, at 300 K. */
export const diode = (id: string, a: string, b: string): Element =>
  law(id, a, b, { law: 'diode', saturation: 1e-9, thermalVoltage: 1.8 * 0.025852, series: 0.02 })

export const threshold = (id: string, a: string, rise: number, fall: number, b = REFERENCE, scale = 1): Signal => ({
  type: 'threshold',
  id,
  a,
  b,
  scale,
  rise,
  fall,
})

/** A network whose nodes are those the elements and thresholds name, all of one domain unless `domains` says otherwise. */
export function network(
  elements: Element[],
  signals: Signal[] = [],
  { insulation = 1e-9, rest = 0, domain = 'electrical' as Domain, domains = {} as Record<string, Domain> } = {},
): Network {
  const names = new Set<string>()
  for (const element of elements) {
    if ('a' in element) for (const name of [element.a, element.b]) names.add(name)
    if (element.type === 'motor' || element.type === 'pump') names.add(element.shaft)
    if (element.type === 'heat') names.add(element.node)
  }
  names.delete(REFERENCE)
  const nodes = [...names].map((id) => ({ id, domain: domains[id] ?? domain, insulation, rest }))
  return { nodes, elements, signals }
}
