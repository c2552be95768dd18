import type { Element, Network, Signal } from '../types.js'

/** What a fault changes in a network: elements by position, further ones between its nodes, thresholds and other signals. */
export interface NetworkFault {
  id: string
  changes: { position: number; element: Element }[]
  added?: Element[]
  /** Signals by position: a threshold whose levels have drifted, an input that is stuck. */
  signals?: { position: number; signal: Signal }[]
}

/** Both faults at once; where both change the same element or signal, the second has the last word. */
export function bothFaults(first: NetworkFault, second: NetworkFault): NetworkFault {
  return {
    id: `${first.id} + ${second.id}`,
    changes: [...first.changes, ...second.changes],
    added: [...(first.added ?? []), ...(second.added ?? [])],
    signals: [...(first.signals ?? []), ...(second.signals ?? [])],
  }
}

/** The network with a fault in it, as `settle` takes it. @throws RangeError for a position the network does not have */
export function faulted(network: Network, { id, changes, added = [], signals = [] }: NetworkFault): Network {
  const elements = [...network.elements]
  for (const { position, element } of changes) {
    if (!(position in elements)) throw new RangeError(`fault '${id}' changes element ${position} of ${elements.length}`)
    elements[position] = element
  }
  const all = [...network.signals]
  for (const { position, signal } of signals) {
    if (!(position in all)) throw new RangeError(`fault '${id}' changes signal ${position} of ${all.length}`)
    all[position] = signal
  }
  return { nodes: network.nodes, elements: [...elements, ...added], signals: all }
}
