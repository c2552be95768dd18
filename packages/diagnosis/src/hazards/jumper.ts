import { ASSUMPTIONS } from '@halfsplit/core'
import { BLADE_FUSE_SCOPE, bladeFuseFor, largestFuse } from '@halfsplit/kinds'
import type { System } from '@halfsplit/system'
import type { Setup } from '../setup.js'
import type { BelievedFaults } from './believed.js'
import type { HazardStudy } from './study.js'

/** What flows through a jumper and the fuse that belongs in it. */
export interface JumperHazard {
  /** In a sound machine, the contact beside it open [A]; undefined where the machine finds no rest with it. */
  normal: number | undefined
  /** The most over all that is believed, before any fuse has opened [A], and the repair of the fault that makes it so; none where sound. */
  worst: number
  worstUnder: string | undefined
  /** Smallest blade fuse that carries the normal current [A]; undefined where none does. */
  fuse: number | undefined
  /** Largest fuse that still protects the lead and the thinnest wire the current goes through [A], and that wire; none where the lead is thinner. */
  most: number
  thinnest: string | undefined
  /** There is a fuse that carries the normal current, protects lead and wires, and breaks the worst. */
  allowed: boolean
}

/** A wire that gets this share of the jumper's current is in its way. */
const IN_ITS_WAY = 0.5

/**
 * Worst current through a jumper over all that is believed, and its fuse. The fuse carries what flows in the sound machine and opens
 * before the lead in hand or the thinnest wire in its way is harmed.
 */
export function jumperHazard(system: System, study: HazardStudy, { cases }: BelievedFaults, setup: Setup): JumperHazard {
  const short = study.moment([], setup, { deadShort: true })
  const normal = short?.jumper
  const currents = cases.map(({ faults, repairs }) => ({ amps: study.moment(faults, setup)?.jumper ?? 0, repairs }))
  const worst = currents.reduce((most, one) => (one.amps > most.amps ? one : most), {
    amps: normal ?? 0,
    repairs: [] as readonly string[],
  })
  const without = study.moment([], { state: setup.state })
  const wires = [...(short?.wires ?? [])].filter(
    ([name, amps]) => Math.abs(amps - (without?.wires.get(name) ?? 0)) > IN_ITS_WAY * (normal ?? 0) && (normal ?? 0) > 0,
  )
  const { most, thinnest } = protection(
    system,
    wires.map(([name]) => name),
  )
  const { fuse, allowed } = fuseFor(normal, worst.amps, most)
  return {
    normal,
    worst: worst.amps,
    worstUnder: worst.repairs[0],
    fuse,
    most,
    thinnest,
    allowed,
  }
}

/**
 * The fuse of a jumper: the smallest blade that carries the normal current, which must protect lead and wires and be able to break the worst.
 * @param normal @param worst [A]   @param most largest fuse that protects what it stands before [A]
 */
export function fuseFor(normal: number | undefined, worst: number, most: number): { fuse: number | undefined; allowed: boolean } {
  const fuse = normal === undefined ? undefined : bladeFuseFor(normal)
  return { fuse, allowed: fuse !== undefined && fuse <= most && worst <= BLADE_FUSE_SCOPE.breakingCapacity }
}

function protection(system: System, wires: readonly string[]): { most: number; thinnest: string | undefined } {
  let most = largestFuse(ASSUMPTIONS.jumperLead) ?? 0
  let thinnest: string | undefined
  for (const name of wires) {
    const size = system.parts.get(name)?.ratings.get('size')?.value
    const bears = size === undefined ? undefined : (largestFuse(size) ?? 0)
    if (bears === undefined || bears >= most) continue
    most = bears
    thinnest = name
  }
  return { most, thinnest }
}
