import type { Circuit } from './circuit.js'
import { NetworkError, nodeAt } from './errors.js'
import { unfitLaw } from './laws.js'
import type { Element, Law } from './types.js'

type Ended = Extract<Element, { a: string }>

/** Adds what an element means for the balance equations: branches, injections, borders. Ideal sources that hold a node add none. */
export function addElement(circuit: Circuit, element: Element, position: number, floating: ReadonlySet<number>): void {
  switch (element.type) {
    case 'law':
      addBranch(circuit, position, element, element.law, -1, element.law)
      break
    case 'gate': {
      const signal = circuit.signalIndex.get(element.signal)
      if (signal === undefined) {
        const message = `gate '${element.id}' follows the unknown signal '${element.signal}'`
        throw new NetworkError('UNKNOWN_SIGNAL', message, [element.id])
      }
      addBranch(circuit, position, element, element.on, signal, element.off)
      break
    }
    case 'inertance':
      addResistance(circuit, position, element, element.resistance)
      break
    case 'across':
      addAcross(circuit, position, element, floating.has(position))
      break
    case 'through':
      inject(circuit, element, element.value)
      break
    case 'motor':
      addMotor(circuit, position, element)
      break
    case 'store':
    case 'heat':
      break
  }
}

function addAcross(circuit: Circuit, position: number, element: Extract<Element, { type: 'across' }>, floats: boolean): void {
  const { value, resistance } = element
  if (!(Number.isFinite(value) && resistance >= 0)) throw unfit(element, `the value ${value} and the resistance ${resistance}`)
  if (resistance > 0) {
    addResistance(circuit, position, element, resistance)
    inject(circuit, element, value / resistance)
  } else if (floats) {
    const nodes = [nodeAt(circuit.index, element.a, element), nodeAt(circuit.index, element.b, element)]
    circuit.borders.push({ element: position, nodes, injection: [1, -1], constraint: [1, -1], rho: 0, value })
  }
}

function addMotor(circuit: Circuit, position: number, element: Extract<Element, { type: 'motor' }>): void {
  const { constant: k, resistance } = element
  if (!(Number.isFinite(k) && resistance >= 0 && Number.isFinite(resistance)))
    throw unfit(element, `the constant ${k} and the resistance ${resistance}`)
  const nodes = [element.a, element.b, element.shaft].map((name) => nodeAt(circuit.index, name, element))
  const injection = [-1, 1, k]
  circuit.borders.push({ element: position, nodes, injection, constraint: [1, -1, -k], rho: -resistance, value: 0 })
}

function inject(circuit: Circuit, element: Ended, value: number): void {
  if (!Number.isFinite(value)) throw unfit(element, `the value ${value}`)
  circuit.injection[nodeAt(circuit.index, element.a, element)] += value
  circuit.injection[nodeAt(circuit.index, element.b, element)] -= value
}

function addResistance(circuit: Circuit, position: number, element: Ended, resistance: number): void {
  const law: Law = { law: 'linear', g: 1 / resistance }
  addBranch(circuit, position, element, law, -1, law)
}

function addBranch(circuit: Circuit, position: number, element: Ended, law: Law, signal: number, off: Law): void {
  const wrong = unfitLaw(law) ?? (off === law ? undefined : unfitLaw(off))
  if (wrong) throw unfit(element, wrong)
  const a = nodeAt(circuit.index, element.a, element)
  const b = nodeAt(circuit.index, element.b, element)
  const branch = { element: position, a, b, law, signal, off, slotAB: -1, slotBA: -1 }
  circuit.branches.push(branch)
  if (a === b) return
  const straight = law.law === 'linear' && off.law === 'linear'
  ;(straight ? circuit.straight : circuit.curved).push(branch)
}

const unfit = (element: Element, what: string): NetworkError =>
  new NetworkError('ELEMENT_VALUE', `element '${element.id}' has ${what}, which no part can have`, [element.id])
