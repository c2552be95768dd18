import type { TestProbe } from '@halfsplit/diagnosis'
import { compile, type Network, type Node, probeValue, settle } from '@halfsplit/network'
import { nodeAt, portName, type Realiser, type System } from '@halfsplit/system'
import { asBuilt } from './draws.js'
import type { Specimen } from './run-recipe.js'

/** Volts at open leads, and current into a short, of an ohmmeter that does not say [V], [A]. Assumptions. */
const OPEN_VOLTS = 3
const TEST_CURRENT = 1e-3

/**
 * Resistance an ohmmeter makes of a part that stands alone, in one of its ranges: the meter's source is put across the part's own
 * primitives, and the reading is what their divider says.
 * @returns [ohm]; infinite where next to nothing flows, or where the part finds no rest
 */
export function ohmsOfPart(
  system: System,
  realiser: Realiser,
  settings: ReadonlyMap<string, string | number>,
  { faults, draw }: Specimen,
  { part: name, red, black, meter }: Extract<TestProbe, { kind: 'ohms' }>,
  range: number,
): number {
  const part = system.parts.get(name)
  const own = faults.filter((fault) => fault.part === name && fault.other === undefined)
  const { network, elementsOf } = realiser.realise({ settings, faults: own, draw })
  const place = elementsOf.get(name)
  if (!part || !place) return Number.POSITIVE_INFINITY
  const volts = meter.openVoltage ?? OPEN_VOLTS
  const inside = volts / (meter.testCurrents?.[range] ?? TEST_CURRENT)
  const a = nodeAt(system, portName(part, red))
  const b = nodeAt(system, portName(part, black))
  const { elements, signals } = place.fragment
  const followed = elements.flatMap((one) => ('gains' in one ? (one.gains ?? []) : []).flatMap(({ node, less }) => [node, less]))
  const named = new Set<unknown>([a, b, ...followed, ...[...elements, ...signals].flatMap((one) => Object.values(one))])
  const nodes = network.nodes.filter((node) => named.has(node.id))
  const settled = settle(
    compile({
      nodes: followed.length > 0 ? nodes.map(restingOn({ ...network, signals: asBuilt(network.signals) })) : nodes,
      elements: [...elements, { type: 'across', id: 'meter', a, b, value: volts, resistance: inside }],
      signals: asBuilt(signals),
    }),
  )
  if (settled.status !== 'settled') return Number.POSITIVE_INFINITY
  const left = probeValue(settled, { across: { [a]: 1, [b]: -1 } })
  return left < volts ? (left * inside) / (volts - left) : Number.POSITIVE_INFINITY
}

/** A node as it stands on the machine, unless current reaches it: what a part's numbers follow is as warm there as it is. */
function restingOn(machine: Network): (node: Node) => Node {
  const settled = settle(compile(machine))
  if (settled.status !== 'settled') return (node) => node
  return (node) => (node.domain === 'electrical' ? node : { ...node, rest: probeValue(settled, { across: { [node.id]: 1 } }) })
}
