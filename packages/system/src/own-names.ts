import type { PartView } from '@halfsplit/kinds'
import { type Probe, REFERENCE } from '@halfsplit/network'
import { AIR_NODE, partView, portName } from './fragment.js'
import type { Fault, Part, System } from './model.js'

/** A part as its label and the machine's settings say it is, every tolerance in the middle, with the fault that is in it. */
export const labelView = (part: Part, settings: ReadonlyMap<string, string | number>, fault?: Fault): PartView =>
  partView(part, settings, fault, [], () => 0)

/** A probe in a part's own names (its ports, its inner nodes, `air`, `frame`, its elements), as one of the machine's network. */
export function probeOfPart(system: System, part: Part, probe: Probe): Probe {
  if ('through' in probe) return { through: `${part.name}:${probe.through}` }
  const across: Record<string, number> = {}
  for (const [name, weight] of Object.entries(probe.across)) {
    const node = nodeOfPart(system, part, name)
    across[node] = (across[node] ?? 0) + weight
  }
  return { across }
}

function nodeOfPart(system: System, part: Part, name: string): string {
  if (part.kind.ports.some((port) => port.name === name)) return system.nodeOf.get(portName(part, name)) ?? REFERENCE
  if (name === 'air') return AIR_NODE
  if (name === 'frame') return part.frame
  return `${part.name}~${name}`
}
