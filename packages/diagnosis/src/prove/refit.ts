import { effectiveEntries, type Entry, type Job } from '@halfsplit/job'
import type { Part, System } from '@halfsplit/system'
import { ownerOf } from '../tests.js'

/** Something that was undone during a job and has to be as it was before the machine goes. */
export interface Refit {
  kind: 'plug' | 'jumper' | 'old part' | 'line' | 'aid' | 'cover'
  /** What it is: a plug or part, the two ends of a jumper, the point of an opened line, a place. */
  target: string
  /** What comes off there; for a cover only. */
  cover?: string
  /** Number of the entry that first undid it. */
  entry: number
  /** The log says that it went back, or that something else was done there since; false: it says nothing. */
  putBack: boolean
}

/** Deeds of a setup, by what has to be put right after it. */
const OF_SETUP: Readonly<Record<string, Refit['kind']>> = {
  unplug: 'plug',
  isolate: 'plug',
  remove: 'plug',
  jumper: 'jumper',
  swap: 'old part',
  supply: 'aid',
  load: 'aid',
  operate: 'aid',
  'shop-air': 'line',
}
const OF_ACTION: Readonly<Record<string, Refit['kind']>> = {
  unplug: 'plug',
  jumper: 'jumper',
  swap: 'old part',
  're-seat': 'plug',
}

/**
 * Everything unplugged, jumpered, swapped, opened or taken off during a job, last undone first: the order in which it goes back. Things
 * left off are the commonest mistake of a repair (56 % of 122 maintenance errors of an airline were omissions: AVweb 2008, secondary), so
 * what the log says went back is listed too, to be checked.
 */
export function refitList(system: System, job: Pick<Job, 'entries'>): Refit[] {
  const list = new Map<string, Refit>()
  const add = (one: Refit) => {
    const key = `${one.kind} ${one.target}`
    const known = list.get(key)
    list.set(key, known ? { ...known, putBack: one.putBack } : one)
  }
  let left: Refit[] = []
  for (const { number, entry } of effectiveEntries(job)) {
    for (const cover of coversOf(system, entry)) add({ ...cover, entry: number, putBack: false })
    const undone = undoneBy(entry, number)
    const taken = entry.kind === 'reading' || entry.kind === 'look'
    // What one setup undid and the next does not name has gone back in between.
    if (taken) for (const one of left.filter((old) => !undone.some((now) => sameRefit(old, now)))) add({ ...one, putBack: true })
    if (taken) left = undone
    for (const one of undone) add(one)
    if (entry.kind === 'action' && entry.do === 'plug-in')
      add({ kind: 'plug', target: entry.target, entry: number, putBack: true })
  }
  return [...list.values()].sort((p, q) => q.entry - p.entry || RANK[p.kind] - RANK[q.kind])
}

/** Within one entry a cover came off first, and goes back last. */
const RANK: Readonly<Record<Refit['kind'], number>> = { jumper: 0, aid: 1, 'old part': 2, line: 3, plug: 4, cover: 5 }

const sameRefit = (p: Refit, q: Refit): boolean => p.kind === q.kind && p.target === q.target

function undoneBy(entry: Entry, number: number): Refit[] {
  const one = (kind: Refit['kind'], target: string, putBack = false): Refit => ({ kind, target, entry: number, putBack })
  if (entry.kind === 'action') {
    const kind = OF_ACTION[entry.do]
    return kind ? [one(kind, entry.target, entry.do === 're-seat')] : []
  }
  if (entry.kind !== 'reading' && entry.kind !== 'look') return []
  const found = (entry.setup.interventions ?? []).map(({ do: what, target }) => one(OF_SETUP[what], target))
  const gauge = entry.kind === 'reading' ? /^pressure (\S+)/.exec(entry.probe) : null
  return gauge ? [...found, one('line', gauge[1])] : found
}

/** Covers that came off for an entry: those of the places of all parts it touches. */
function coversOf(system: System, entry: Entry): Pick<Refit, 'kind' | 'target' | 'cover'>[] {
  const places = new Set(namesIn(system, entry).flatMap((name) => partsCalled(system, name).flatMap(({ place }) => place ?? [])))
  return [...places].flatMap((name) => {
    const cover = system.places.get(name)?.remove
    return cover === undefined ? [] : [{ kind: 'cover' as const, target: name, cover }]
  })
}

function namesIn(system: System, entry: Entry): string[] {
  if (entry.kind === 'action') return entry.target.split(/\s+/)
  if (entry.kind === 'repair') return entry.parts
  if (entry.kind !== 'reading' && entry.kind !== 'look') return []
  const touched = (entry.setup.interventions ?? []).flatMap(({ target }) => target.split(/\s+/))
  if (entry.kind === 'look') return [...touched, ...seenClose(system, entry.observable)]
  return [...touched, ...entry.probe.split(/\s+/).slice(1)]
}

/** The part of a look, unless an operator has it at a glance. */
function seenClose(system: System, observable: string): string[] {
  const dot = observable.lastIndexOf('.')
  const name = observable.slice(0, dot)
  const look = system.parts.get(name)?.kind.looks?.find((one) => one.name === observable.slice(dot + 1))
  return look?.by === 'operator' ? [] : [name]
}

/** A part, all pins of a plug, or the owner of a point. */
function partsCalled(system: System, name: string): Part[] {
  const part = system.parts.get(name)
  if (part) return [part]
  if (system.nodeOf.has(name)) return [ownerOf(system, name)]
  return [...system.parts.values()].filter(({ connector }) => connector?.name === name)
}
