import { createRandom, type Random } from '@halfsplit/core'
import type { FaultMode } from '@halfsplit/diagnosis'
import { type Kind, modeIncidence } from '@halfsplit/kinds'
import type { System } from '@halfsplit/system'
import { type Making, USUAL_MAKING } from '../draws.js'

/** In what the machines drawn differ from what the bench is told of them. */
export const MISMATCHES = ['tolerances', 'rates', 'meter', 'missing'] as const
export type Mismatch = (typeof MISMATCHES)[number]

/** A part value lies anywhere up to one and a half times its limits, which stand at two standard deviations. */
const WIDE_SD = 1.5 * 2
/** A true rate is this many times the described one, or this part of it. */
const RATE_FACTOR = 3
/** Share of the faults that the bench is not told of. */
export const MISSING_SHARE = 0.03

/** How specimens and meters come off the line under a mismatch. A meter that is off is off the same way in all its ranges. */
export function makingOf(mismatch: Mismatch | undefined, random: Random): Making {
  if (mismatch === 'tolerances') return { ...USUAL_MAKING, spread: (draw) => WIDE_SD * (2 * draw.uniform() - 1) }
  if (mismatch !== 'meter') return USUAL_MAKING
  const side = random.uniform() < 0.5 ? -1 : 1
  return { ...USUAL_MAKING, meterError: () => side }
}

/** True rates of the machines drawn, each failure mode of each kind too high or too low in the description. */
export const wrongRates =
  (seed: string) =>
  ({ part, mode }: FaultMode): number =>
    createRandom(`${seed}/rate of ${part.kind.name} ${mode.id}`).uniform() < 0.5 ? RATE_FACTOR : 1 / RATE_FACTOR

/** A failure mode of one part: `GL.open`. */
export const modeKey = (part: string, mode: string): string => `${part}.${mode}`

/** Failure modes of parts taken out of a description: every one as likely, and together a share of them all, one at least. */
export function takenOut(faults: readonly FaultMode[], seed: string): ReadonlySet<string> {
  const names = [...new Set(faults.map(({ part, mode }) => modeKey(part.name, mode.id)))]
  const random = createRandom(`${seed}/taken out`)
  const shuffled = names.map((name) => ({ name, at: random.uniform() })).sort((p, q) => p.at - q.at)
  return new Set(shuffled.slice(0, Math.max(1, Math.round(MISSING_SHARE * names.length))).map(({ name }) => name))
}

/** The system as somebody describes it who does not know some of its failure modes; the rates of the others stay. */
export function without(system: System, missing: ReadonlySet<string>): System {
  const parts = [...system.parts.values()].map((part) => {
    const modes = part.kind.modes.filter(({ id }) => !missing.has(modeKey(part.name, id)))
    return modes.length === part.kind.modes.length ? part : { ...part, kind: withModes(part.kind, modes) }
  })
  const hash = `${system.hash} without ${[...missing].sort().join(' ')}`
  return { ...system, hash, parts: new Map(parts.map((part) => [part.name, part])) }
}

function withModes(kind: Kind, modes: Kind['modes']): Kind {
  return { ...kind, modes, incidence: modes.reduce((sum, { id }) => sum + modeIncidence(kind, id), 0) }
}
