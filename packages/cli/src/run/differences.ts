import type { MachineRun } from './machine-run.js'
import type { Told } from './told.js'

/** Something that happens at another time, in another way, or on one of two machines only. */
export interface Difference {
  what: string
  /** How many times it had happened alike on both before. */
  alike: number
  /** [s]; 0 where it is so from before the start, undefined for never. */
  healthy: number | undefined
  faulted: number | undefined
  /** What becomes of it with the fault, where that is something else at the same time. */
  otherwise?: string
}

/** Times nearer than this are alike: a share of the time gone by, and at least so many seconds. */
const ALIKE_SHARE = 0.005
const ALIKE_SECONDS = 0.2

/** Where two runs part, by what happens: the first time each goes otherwise, earliest first. */
export function differencesOf(healthy: MachineRun, faulted: MachineRun): Difference[] {
  const [sound, other] = [healthy, faulted].map((run, i, both) => byKey([...only(run.before, both[1 - i].before), ...run.told]))
  const end = Math.min(healthy.march.end, faulted.march.end)
  return [...new Set([...sound.keys(), ...other.keys()])]
    .flatMap((key) => parting(sound.get(key) ?? [], other.get(key) ?? [], end))
    .sort((p, q) => firstOf(p) - firstOf(q))
}

const firstOf = ({ healthy = Number.POSITIVE_INFINITY, faulted = Number.POSITIVE_INFINITY }: Difference) =>
  Math.min(healthy, faulted)

/** What stands at the start of one machine and not of the other. */
const only = (before: readonly Told[], other: readonly Told[]): Told[] =>
  before.filter(({ key }) => !other.some((one) => one.key === key))

/** What the technician sets is the same on both. */
function byKey(told: readonly Told[]): Map<string, Told[]> {
  const groups = new Map<string, Told[]>()
  for (const event of told) {
    if (event.kind !== 'signal' && event.kind !== 'look') continue
    const group = groups.get(event.key)
    if (group) group.push(event)
    else groups.set(event.key, [event])
  }
  return groups
}

function parting(healthy: readonly Told[], faulted: readonly Told[], end: number): Difference[] {
  const most = Math.max(healthy.length, faulted.length)
  for (let n = 0; n < most; n += 1) {
    const [p, q] = [healthy[n], faulted[n]] as [Told | undefined, Told | undefined]
    const same = p !== undefined && q !== undefined && alikeInTime(p.time, q.time)
    if (same && p.what === q.what) continue
    const difference: Difference = { what: (p ?? q)?.what as string, alike: n, healthy: p?.time, faulted: q?.time }
    // Nothing is known of a machine after its numbers end.
    if (firstOf(difference) > end) return []
    return [same ? { ...difference, otherwise: q.what } : difference]
  }
  return []
}

const alikeInTime = (p: number, q: number): boolean => Math.abs(p - q) <= Math.max(ALIKE_SECONDS, ALIKE_SHARE * Math.min(p, q))
