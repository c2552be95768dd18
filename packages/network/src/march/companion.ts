import { chargeAt } from '../charge.js'
import type { Element, Law } from '../types.js'

export type StoreElement = Extract<Element, { type: 'store' | 'inertance' }>

type Companion = Extract<Law, { law: 'linear' | 'charging' }>

/**
 * The branch that stands for a store in one implicit stage (its companion): with h gamma the length of the stage's own share,
 *     flow = (q(v) - q*) / (h gamma)      store, q* what the earlier stages leave in it
 *     flow = (v + L i* / (h gamma)) / (R + L / (h gamma))      inductance, i* likewise
 * so every stage is an operating point of a network of branches, and its matrix keeps the form that needs no subtraction.
 */
export function companionOf(element: StoreElement): Companion {
  if (element.type === 'store' && element.charge.charge !== 'linear')
    return { law: 'charging', charge: element.charge, rate: 1, from: 0 }
  return { law: 'linear', g: 0 }
}

/** Sets the companion for a stage. @returns the flow it carries besides its conductance, from a to b */
export function prepare(element: StoreElement, companion: Companion, left: number, share: number): number {
  if (companion.law === 'charging') {
    companion.rate = 1 / share
    companion.from = left
    return 0
  }
  if (element.type === 'store') {
    companion.g = capacityOf(element) / share
    return -left / share
  }
  const reactance = element.inertance / share
  companion.g = 1 / (element.resistance + reactance)
  return companion.g * reactance * left
}

/** What the element holds when `v` stands across it at the end of a stage prepared with `left`: charge, or current for an inductance. */
export function heldAt(element: StoreElement, companion: Companion, v: number, left: number, share: number): number {
  if (element.type === 'store') return chargeAt(element.charge, v).q
  return companion.law === 'linear' ? companion.g * (v + (element.inertance / share) * left) : 0
}

function capacityOf(element: Extract<StoreElement, { type: 'store' }>): number {
  return element.charge.charge === 'linear' ? element.charge.capacity : 0
}
