import { parseQuantity, STANDARD_ATMOSPHERE } from '@halfsplit/core'
import { type Domain, type Element, type Law, type Network, type Node, REFERENCE, type Signal } from '@halfsplit/network'
import type { Builder, Kind, PartView } from '../kind.js'

/** What a part on the bench is given; ratings as in a description, temperatures and pressures of settings too. */
export interface Fitted {
  ratings?: Readonly<Record<string, string>>
  choices?: Readonly<Record<string, string>>
  settings?: Readonly<Record<string, string>>
  /** Mode and its size [SI]; 1 for one without a size. */
  fault?: readonly [string, number?]
}

const INSULATION: Record<Domain, number> = { electrical: 1e-9, gas: 1e-18, liquid: 1e-20, thermal: 1e-12, rotation: 1e-6 }
const REST: Partial<Record<Domain, number>> = { gas: STANDARD_ATMOSPHERE, liquid: STANDARD_ATMOSPHERE, thermal: 293.15 }

/** A number with its unit, in SI. */
export function si(text: string, dimension: Parameters<typeof parseQuantity>[1]): number {
  const parsed = parseQuantity(text, dimension)
  if (!parsed.ok) throw new Error(`${text}: ${parsed.message}`)
  return parsed.value.value
}

/** A part of a kind with everything else at its default. */
export function viewOf(kind: Kind, name: string, fitted: Fitted = {}): PartView {
  const text = (rating: string) => fitted.ratings?.[rating] ?? kind.ratings[rating]?.default
  const value = (rating: string): number => {
    const given = text(rating)
    if (given === undefined) throw new Error(`${kind.name} asks for the rating ${rating}`)
    return si(given, kind.ratings[rating].dimension)
  }
  const setting = (of: string) => fitted.settings?.[of] ?? kind.settings?.[of].default ?? ''
  const imposed = (of: string): number => {
    const known = kind.settings?.[of]
    if (!known || 'words' in known) throw new Error(`${kind.name} asks for the number ${of}`)
    return si(setting(of), known.dimension)
  }
  return {
    name,
    value,
    has: (rating) => text(rating) !== undefined,
    word: (choice) => fitted.choices?.[choice] ?? kind.choices?.[choice].default ?? '',
    setting,
    imposed,
    temperature: kind.settings?.temperature ? imposed('temperature') : 293.15,
    fault: (mode) => (fitted.fault?.[0] === mode ? (fitted.fault[1] ?? 1) : undefined),
  }
}

/** Parts joined port to node on the test bench: a small stand-in for a described machine. */
export class Bench implements Network {
  readonly nodes: Node[] = [{ id: 'air', domain: 'gas', insulation: 1, rest: STANDARD_ATMOSPHERE }]
  readonly elements: Element[] = []
  readonly signals: Signal[] = []

  /** Adds a part; ports left out of `joined` get a node of their own, `NAME.port`. */
  fit(kind: Kind, name: string, joined: Readonly<Record<string, string>> = {}, fitted: Fitted = {}): this {
    for (const port of kind.ports) this.node(joined[port.name] ?? `${name}.${port.name}`, port.domain)
    kind.build(viewOf(kind, name, fitted), this.builder(name, joined))
    return this
  }

  private node(id: string, domain: Domain, rest?: number): string {
    if (id === REFERENCE || this.nodes.some((node) => node.id === id)) return id
    this.nodes.push({ id, domain, insulation: INSULATION[domain], rest: rest ?? REST[domain] ?? 0 })
    return id
  }

  private builder(part: string, joined: Readonly<Record<string, string>>): Builder {
    const own = (name: string) => `${part}:${name}`
    const lawOf = (value: Law | number): Law => (typeof value === 'number' ? { law: 'linear', g: value } : value)
    const signal: Builder['signal'] = (name, make) => {
      this.signals.push(make(own(name)))
      return own(name)
    }
    return {
      port: (name) => joined[name] ?? `${part}.${name}`,
      inner: (name, domain, rest) => this.node(`${part}~${name}`, domain, rest),
      frame: REFERENCE,
      air: 'air',
      conductance: (name, a, b, g) => this.elements.push({ type: 'law', id: own(name), a, b, law: { law: 'linear', g } }),
      law: (name, a, b, law) => this.elements.push({ type: 'law', id: own(name), a, b, law }),
      gate: (name, a, b, on, off, by) =>
        this.elements.push({ type: 'gate', id: own(name), a, b, on: lawOf(on), off: lawOf(off), signal: by }),
      add: (element) => this.elements.push({ ...element, id: own(element.id) }),
      threshold: (name, a, b, scale, rise, fall) => signal(name, (id) => ({ type: 'threshold', id, a, b, scale, rise, fall })),
      signal,
    }
  }
}
