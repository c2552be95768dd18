import type { PartView } from '@halfsplit/kinds'
import { REFERENCE, type Probe } from '@halfsplit/network'
import { AIR_NODE, type Fault, type Part, portName, SURROUNDINGS, type System } from '@halfsplit/system'

/** A part as its label and the machine's state say it is, with the fault that is in it: what a look is judged by. */
export function labelView(part: Part, settings: ReadonlyMap<string, string | number>, fault: Fault | undefined): PartView {
  const setting = (name: string) => settings.get(`${part.name}.${name}`)
  return {
    name: part.name,
    value: (rating) => part.ratings.get(rating)?.value ?? Number.NaN,
    has: (rating) => part.ratings.has(rating),
    word: (choice) => part.choices[choice],
    setting: (name) => String(setting(name)),
    imposed: (name) => Number(setting(name)),
    temperature: Number(setting('temperature') ?? SURROUNDINGS),
    fault: (mode) => (fault?.mode === mode ? (fault.severity ?? 1) : undefined),
  }
}

/** A probe in a part's own names, as one of the machine's network. */
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
  const bare = name.replace(/^@/, '')
  if (part.kind.ports.some((port) => port.name === name)) return system.nodeOf.get(portName(part, name)) ?? REFERENCE
  if (bare === 'air') return AIR_NODE
  if (bare === 'frame') return part.frame
  return `${part.name}~${name}`
}
