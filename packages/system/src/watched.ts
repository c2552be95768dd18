import type { Dimension } from '@halfsplit/core'
import type { Look } from '@halfsplit/kinds'
import { type Domain, type Element, flowOf, type Probe, type Seen } from '@halfsplit/network'
import { portName } from './fragment.js'
import type { Fault, Part, System, Watched } from './model.js'
import { labelView, probeOfPart } from './own-names.js'
import { nodeAt } from './realise.js'

/** What stands at a point: a voltage against battery minus, a gauge pressure, a temperature, a speed. */
const ACROSS: Record<Domain, Dimension> = {
  electrical: 'voltage',
  gas: 'absolutePressure',
  liquid: 'absolutePressure',
  thermal: 'temperature',
  rotation: 'angularSpeed',
}
const DIFFERENCE: Record<Domain, Dimension> = {
  electrical: 'voltage',
  gas: 'pressureDifference',
  liquid: 'pressureDifference',
  thermal: 'temperatureDifference',
  rotation: 'angularSpeed',
}
const INTO: Record<Domain, Dimension> = {
  electrical: 'current',
  gas: 'massFlow',
  liquid: 'volumeFlow',
  thermal: 'power',
  rotation: 'torque',
}

type Named = Pick<Part, 'name' | 'kind' | 'connector'>

/**
 * What a name stands for: `CL1.air` (volts against battery minus, gauge pressure, temperature, speed), `SV1.coil_a to SV1.coil_b` (the
 * difference), `into SV1.coil_a` (amps, kg/s, m3/s, W or N.m that go into the part there), `CL1.drive` (a look).
 * @returns undefined where it stands for nothing in these parts
 */
export function watchedOf(parts: ReadonlyMap<string, Named>, text: string): Watched | undefined {
  const name = text.trim().replace(/\s+/g, ' ')
  const into = /^into (.+)$/.exec(name)
  if (into) {
    const point = pointOf(parts, into[1])
    return point && { name, watch: 'into', part: point.part.name, port: point.port, dimension: INTO[point.domain] }
  }
  const [first, second, ...more] = name.split(' to ')
  if (more.length > 0) return undefined
  const point = pointOf(parts, first)
  if (second !== undefined) {
    const less = pointOf(parts, second)
    if (!point || less?.domain !== point.domain) return undefined
    return { name, watch: 'across', at: first, less: second, dimension: DIFFERENCE[point.domain] }
  }
  if (point) return { name, watch: 'across', at: first, dimension: ACROSS[point.domain] }
  const dot = name.lastIndexOf('.')
  const part = parts.get(name.slice(0, dot))
  const look = part?.kind.looks?.find((one) => one.name === name.slice(dot + 1))
  return part && look && { name, watch: 'look', part: part.name, look }
}

function pointOf(parts: ReadonlyMap<string, Named>, text: string) {
  const cut = Math.max(text.lastIndexOf('.'), text.lastIndexOf('/'))
  const part = parts.get(text.slice(0, cut))
  const port = part?.kind.ports.find((one) => portName(part, one.name) === text)
  return part && port && { part, port: port.name, domain: port.domain }
}

/** Every name that can be watched in these parts, but for differences and what goes into a port. */
export function watchableNames(parts: Iterable<Named>): string[] {
  return [...parts].flatMap((part) => [
    ...part.kind.ports.map((port) => portName(part, port.name)),
    ...(part.kind.looks ?? []).map((look) => `${part.name}.${look.name}`),
  ])
}

/** Settings in force and faults that are there. */
interface Condition {
  settings: ReadonlyMap<string, string | number>
  faults: readonly Fault[]
}

/** Value of what is watched in a solved network [SI]; of a look its quantity, which `wordOf` puts in words. */
export function readWatched(system: System, watched: Watched, seen: Seen, condition: Condition): number {
  if (watched.watch === 'look') return readLook(system, system.parts.get(watched.part) as Part, watched.look, seen, condition)
  if (watched.watch === 'into') return flowInto(system, watched.part, watched.port, seen)
  const less = watched.less === undefined ? {} : { [nodeAt(system, watched.less)]: -1 }
  const at = nodeAt(system, watched.at)
  return at in less ? 0 : valueOf(seen, { across: { [at]: 1, ...less } })
}

/** A probe read without what a gradient needs besides: a run is read a thousand times and more. */
function valueOf(seen: Seen, probe: Probe): number {
  if ('through' in probe) return flowOf(seen, probe.through)
  let value = 0
  for (const [name, weight] of Object.entries(probe.across)) {
    value += weight * seen.point.across[seen.circuit.index.get(name) as number]
  }
  return value
}

/** Quantity of a look: in its levels' unit, or 0 and 1 where it shows a signal. */
export function readLook(system: System, part: Part, look: Look, seen: Seen, { settings, faults }: Condition): number {
  const fault = faults.find((one) => one.part === part.name)
  const quantity = look.quantity(labelView(part, settings, fault))
  if ('signal' in quantity) return seen.bits[seen.circuit.signalIndex.get(`${part.name}:${quantity.signal}`) as number]
  const scale = (seen.storeFlow && quantity.scaleOverTime) ?? quantity.scale
  const value = scale * valueOf(seen, probeOfPart(system, part, quantity.probe))
  return quantity.absolute ? Math.abs(value) : value
}

/** The word a look reads: an observer changes his in the middle of the levels between which he wavers. */
export const wordOf = ({ levels }: Look, value: number): number =>
  levels.filter(([low, high]) => value >= (low + high) / 2).length

/** What goes into a part at one of its ports: the sum over its elements there. */
function flowInto(system: System, part: string, port: string, seen: Seen): number {
  const node = nodeAt(system, portName(system.parts.get(part) as Part, port))
  const own = seen.circuit.network.elements.filter((element) => element.id.startsWith(`${part}:`))
  return own.reduce((sum, element) => sum + flowAtNode(element, node, seen), 0)
}

function flowAtNode(element: Element, node: string, seen: Seen): number {
  if (element.type === 'heat') return element.node === node ? -flowOf(seen, element.id) : 0
  if ('shaft' in element && element.shaft === node) return -torqueInto(element, seen)
  const side = element.a === element.b ? 0 : element.a === node ? 1 : element.b === node ? -1 : 0
  if (side === 0) return 0
  // A source tells what it delivers out of its first end.
  const delivers = element.type === 'across' || element.type === 'through'
  return (delivers ? -side : side) * flowOf(seen, element.id)
}

/** Torque that a pump or motor puts into its shaft [N.m]. */
function torqueInto(element: Extract<Element, { shaft: string }>, seen: Seen): number {
  if (element.type === 'motor') return element.constant * flowOf(seen, element.id)
  return element.displacement * valueOf(seen, { across: { [element.a]: 1, [element.b]: -1 } })
}
