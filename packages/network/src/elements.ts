import type { Circuit } from './circuit.js'
import { unfitCharge } from './charge.js'
import { NetworkError, nodeAt } from './errors.js'
import { compileGains, type Follower } from './gains.js'
import { idealValue } from './ideal-sources.js'
import { unfitLaw } from './laws.js'
import type { Element, Law } from './types.js'

type Ended = Extract<Element, { a: string }>

/** Adds what an element means for the balance equations: branches, injections, borders. Ideal sources that hold a node add none. */
export function addElement(circuit: Circuit, element: Element, position: number, floating: ReadonlySet<number>): void {
  switch (element.type) {
    case 'law':
      addBranch(circuit, position, element, element.law, -1, element.law, followersOf(circuit, element))
      break
    case 'gate': {
      const signal = circuit.signalIndex.get(element.signal)
      if (signal === undefined) {
        const message = `gate '${element.id}' follows the unknown signal '${element.signal}'`
        throw new NetworkError('UNKNOWN_SIGNAL', message, [element.id])
      }
      addBranch(circuit, position, element, element.on, signal, element.off, followersOf(circuit, element))
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
    case 'pump':
      addPump(circuit, position, element)
      break
    case 'store':
      addStore(circuit, position, element, floating.has(position))
      break
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
    addFloating(circuit, position, element, value)
  }
}

function addFloating(circuit: Circuit, position: number, element: Ended, value: number): void {
  const nodes = [nodeAt(circuit.index, element.a, element), nodeAt(circuit.index, element.b, element)]
  circuit.borders.push({ element: position, nodes, injection: [1, -1], constraint: [1, -1], rho: 0, value })
}

function addStore(circuit: Circuit, position: number, element: Extract<Element, { type: 'store' }>, floats: boolean): void {
  const wrong = unfitCharge(element.charge)
  if (wrong) throw unfit(element, wrong)
  const value = idealValue(element)
  if (value !== undefined && !Number.isFinite(value)) throw unfit(element, `the held value ${value}`)
  if (floats && value !== undefined) addFloating(circuit, position, element, value)
}

/** A gyrator: flow by speed, torque by pressure, each a bordered flow of its own (the first is the pump's). */
function addPump(circuit: Circuit, position: number, element: Extract<Element, { type: 'pump' }>): void {
  const { displacement: d } = element
  if (!Number.isFinite(d)) throw unfit(element, `the displacement ${d}`)
  const nodes = [element.a, element.b, element.shaft].map((name) => nodeAt(circuit.index, name, element))
  const common = { element: position, nodes, rho: -1, value: 0 }
  circuit.borders.push({ ...common, injection: [-1, 1, 0], constraint: [0, 0, d] })
  circuit.borders.push({ ...common, injection: [0, 0, -1], constraint: [-d, d, 0] })
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

const followersOf = ({ index }: Circuit, element: Extract<Element, { type: 'law' | 'gate' }>): Follower[] =>
  compileGains(element.gains, index, element.id)

function addBranch(
  circuit: Circuit,
  position: number,
  element: Ended,
  law: Law,
  signal: number,
  off: Law,
  gains: Follower[] = [],
): void {
  const wrong = unfitLaw(law) ?? (off === law ? undefined : unfitLaw(off))
  if (wrong) throw unfit(element, wrong)
  const a = nodeAt(circuit.index, element.a, element)
  const b = nodeAt(circuit.index, element.b, element)
  const branch = { element: position, a, b, law, signal, off, gains, slotAB: -1, slotBA: -1 }
  circuit.branches.push(branch)
  if (a === b) return
  const straight = law.law === 'linear' && off.law === 'linear' && gains.length === 0
  ;(straight ? circuit.straight : circuit.curved).push(branch)
}

const unfit = (element: Element, what: string): NetworkError =>
  new NetworkError('ELEMENT_VALUE', `element '${element.id}' has ${what}, which no part can have`, [element.id])
