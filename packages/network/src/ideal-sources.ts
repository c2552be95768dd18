import { NetworkError } from './errors.js'
import type { Element, Network } from './types.js'

type Source = Extract<Element, { type: 'across' | 'store' }>

/** The value at which an element holds its ends apart whatever flows: an ideal source, or a store looked at at rest. */
export function idealValue(element: Element): number | undefined {
  if (element.type === 'store') return element.holds
  return element.type === 'across' && element.resistance === 0 ? element.value : undefined
}

/** A node held at a known value by an ideal source, counted from the node the source stands on. */
export interface Held {
  node: number
  /** Position of the source among the elements. */
  element: number
  /** The node it is counted from: the reference, or one held before it. */
  from: number
  /** +1 when the source holds its end a, -1 when it holds its end b. */
  sign: 1 | -1
}

interface Ideal {
  element: Source
  value: number
  position: number
  a: number
  b: number
}

export interface IdealSources {
  heldValue: Float64Array
  /** In an order in which each is counted from the reference or from an earlier one. */
  held: Held[]
  /** Positions of the ideal sources between nodes that nothing holds. */
  floating: number[]
}

/**
 * Follows ideal sources out from the reference, each holding the node at its far end; then through the groups that float.
 * A source in parallel with an equal one carries nothing; one that contradicts the others is an error that names the loop.
 */
export function followIdealSources(network: Network, at: (name: string, element: Element) => number): IdealSources {
  const value = new Float64Array(network.nodes.length + 1)
  const held: Held[] = []
  const floating: number[] = []
  let left: Ideal[] = []
  network.elements.forEach((element, position) => {
    const known = idealValue(element)
    if (known === undefined || (element.type !== 'across' && element.type !== 'store')) return
    left.push({ element, value: known, position, a: at(element.a, element), b: at(element.b, element) })
  })
  if (left.length > 0) left = follow(network, left, 0, value, held)
  const heldValue = Float64Array.from(value)
  while (left.length > 0) {
    const group: Held[] = []
    left = follow(network, left, left[0].b, value, group)
    floating.push(...group.map((one) => one.element))
  }
  return { heldValue, held, floating: floating.sort((p, q) => p - q) }
}

/** One group, from its first node; returns the sources that do not touch it. */
function follow(network: Network, ideal: Ideal[], first: number, value: Float64Array, group: Held[]): Ideal[] {
  const reached = new Set([first])
  let left = ideal
  for (let grew = true; grew; ) {
    grew = false
    const next: Ideal[] = []
    for (const one of left) {
      const { value: known, position, a, b } = one
      if (reached.has(a) && reached.has(b)) {
        const gap = value[a] - value[b] - known
        if (!(Math.abs(gap) <= 1e-9 * (1 + Math.abs(known)))) throw conflict(network, one, group)
      } else if (reached.has(a) || reached.has(b)) {
        const sign = reached.has(b) ? 1 : -1
        const node = sign > 0 ? a : b
        const from = sign > 0 ? b : a
        value[node] = value[from] + sign * known
        reached.add(node)
        group.push({ node, element: position, from, sign })
        grew = true
      } else {
        next.push(one)
      }
    }
    left = next
  }
  return left
}

function conflict(network: Network, { element, a, b }: Ideal, group: Held[]): NetworkError {
  const up = (start: number): number[] => {
    const path: number[] = []
    for (let at = start; ; ) {
      const step = group.find((one) => one.node === at)
      if (!step) return path
      path.push(step.element)
      at = step.from
    }
  }
  const [pathA, pathB] = [up(a), up(b)]
  const loop = [...pathA.filter((p) => !pathB.includes(p)), ...pathB.filter((p) => !pathA.includes(p))]
  const others = loop.map((position) => network.elements[position].id)
  const message = others.length
    ? `source '${element.id}' contradicts ${others.map((id) => `'${id}'`).join(', ')}: together they hold two points at two values`
    : `source '${element.id}' has both its ends on one point`
  return new NetworkError('SOURCES_CONFLICT', message, [element.id, ...others])
}
