import { ASSUMPTIONS } from '@halfsplit/core'
import { type Mode, modeIncidence, type Severity } from '@halfsplit/kinds'
import { type Fault, labelView, type Part, portName, type System } from '@halfsplit/system'

/** A failure mode a part of this machine can have, before anything is known of the job. */
export interface FaultMode {
  id: string
  part: Part
  mode: Mode
  /** Neighbour it touches, for bridges. */
  other?: string
  severity?: Severity
  /** Failures per year. */
  rate: number
  /** The action that cures it: faults with one repair need not be told apart. */
  repair: string
}

/**
 * Every failure mode of every part, with its rate: incidence x exposure x share x base rate. Bridges run between neighbouring
 * pins of a plug and neighbouring wires of a harness, their share divided among them.
 */
export function faultModes(system: System, options: { byHand?: boolean } = {}): FaultMode[] {
  const found: FaultMode[] = []
  for (const part of system.parts.values()) {
    if (leadsNowhere(system, part)) continue
    for (const mode of part.kind.modes) {
      // A mode of no share is a consequence only: the network makes it (a fuse that blew), no prior does.
      if (mode.share === 0 || (mode.byHand && !options.byHand)) continue
      if (mode.when && part.choices[mode.when.choice] !== mode.when.word) continue
      const rate = modeIncidence(part.kind, mode.id) * part.exposure * ASSUMPTIONS.baseRatePerYear
      const severity = severityOf(system, part, mode)
      const neighbours = mode.bridges ? neighboursOf(system, part, mode.bridges) : [undefined]
      for (const other of neighbours) {
        const id = `${part.name}${other ? `+${other}` : ''}.${mode.id}`
        found.push({ id, part, mode, other, severity, rate, repair: repairOf(part, mode) })
      }
    }
  }
  return found
}

/** A pin or wire with an end that meets nothing carries nothing: no fault of it can matter, and none can be found. */
function leadsNowhere(system: System, part: Part): boolean {
  if (part.kind.ports.length !== 2) return false
  return part.kind.ports.some((port) => (system.portsAt.get(system.nodeOf.get(portName(part, port.name)) ?? '')?.length ?? 0) < 2)
}

/** Name of a repair action: what is done, to which part. A plug's pins are mended one by one. */
export const repairOf = (part: Part, mode: Mode): string => `${mode.repair} ${part.name}`

function severityOf(system: System, part: Part, mode: Mode): Severity | undefined {
  if (typeof mode.severity !== 'function') return mode.severity
  return mode.severity(labelView(part, system.defaults))
}

/** The next pin of the same plug, or the next wire of the same harness: each pair is named once. */
function neighboursOf(system: System, part: Part, by: 'pin' | 'harness'): string[] {
  if (by === 'pin') {
    const next = part.connector ? `${part.connector.name}.${part.connector.pin + 1}` : ''
    return system.parts.has(next) ? [next] : []
  }
  if (part.harness === undefined) return []
  const bundle = [...system.parts.values()].filter(
    (other) => other.harness === part.harness && other.kind.name === part.kind.name,
  )
  const next = bundle[bundle.indexOf(part) + 1]
  return next ? [next.name] : []
}

/** A fault at one node of its size, with the spread of the node's own stretch as a latent. */
export interface SizedFault {
  fault: FaultMode
  severity?: number
  /** One sd of the size within its stretch: in the logarithm or in its unit. */
  sd: number
}

/** A stretch of sizes: its middle, its width (in the logarithm or in the unit), its share of the prior. */
export interface Stretch {
  middle: number
  width: number
  share: number
}

/** The stretches of a fault's size, one per node; a fault without a size has a single one. */
export function stretches(severity: Severity | undefined): Stretch[] {
  if (!severity) return [{ middle: Number.NaN, width: 0, share: 1 }]
  const at = severity.scale === 'log' ? severity.nodes.map(Math.log) : [...severity.nodes]
  return at.map((middle, i) => {
    const below = i > 0 ? middle - at[i - 1] : (at[1] ?? middle + 0.1) - middle
    const above = i < at.length - 1 ? at[i + 1] - middle : below
    return { middle, width: Math.min(below, above), share: 1 / at.length }
  })
}

/** A stretch cut into equal parts. */
export function split(stretch: Stretch, into: number): Stretch[] {
  const width = stretch.width / into
  const first = stretch.middle - stretch.width / 2 + width / 2
  return Array.from({ length: into }, (_, i) => ({ middle: first + i * width, width, share: stretch.share / into }))
}

/** The fault at a stretch: a size uniform over it, taken as normal with the same variance. */
export function sized(fault: FaultMode, stretch: Stretch): SizedFault {
  if (!fault.severity) return { fault, sd: 0 }
  const severity = fault.severity.scale === 'log' ? Math.exp(stretch.middle) : stretch.middle
  return { fault, severity, sd: stretch.width / Math.sqrt(12) }
}

const KEYS = new WeakMap<SizedFault, string>()

/** A text that says which fault at which size: a key. */
export function sizedKey(sized: SizedFault): string {
  let key = KEYS.get(sized)
  if (key === undefined) {
    const { fault, severity, sd } = sized
    key = severity === undefined ? fault.id : `${fault.id}@${severity.toPrecision(8)}~${sd.toPrecision(3)}`
    KEYS.set(sized, key)
  }
  return key
}

const LIST_KEYS = new WeakMap<readonly SizedFault[], string>()

/** The same for several faults at once. */
export function sizedKeys(faults: readonly SizedFault[]): string {
  let key = LIST_KEYS.get(faults)
  if (key === undefined) {
    key = faults.map(sizedKey).join('|')
    LIST_KEYS.set(faults, key)
  }
  return key
}

/** The fault as the description's network knows it. */
export const asFault = ({ fault, severity }: SizedFault): Fault => ({
  part: fault.part.name,
  mode: fault.mode.id,
  severity,
  other: fault.other,
})
