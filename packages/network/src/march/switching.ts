import { overdrive } from '../signals.js'
import type { Clock } from './clock.js'
import { copyFrame, overwrite } from './frame.js'
import type { MarchEvent } from './outcome.js'
import type { Scene } from './scene.js'
import type { Stuck } from './solve.js'

/** Length of the implicit step that stands for an instant [s]: what flows in it moves no store that a reading could tell. */
export const INSTANT = 1e-7
/** Rounds of switching at one instant before contacts that switch each other are called a chatter. */
const MOST_ROUNDS = 60

type Cause = MarchEvent['cause']

export interface Fired {
  signal: number
  rate: number
}

export interface Switched {
  events: MarchEvent[]
  /** Signals that switch each other without end; empty when all came to rest. */
  cycle: number[]
  rounds: number
  stuck?: Stuck
}

/**
 * All that switches at one instant, one after the other, until nothing more wants to: `fired` first, then what logic, timers and other
 * levels make of it. Gates that switch at once can find a cycle that no machine has; then the furthest past its level goes first.
 */
export function switchAll(scene: Scene, clock: Clock, now: number, fired: readonly Fired[], cause: Cause): Switched {
  const before = { bits: Uint8Array.from(scene.bits), frame: copyFrame(scene.frame), clock: clock.copy() }
  const together = iterate(scene, clock, now, fired, cause, 'all')
  if (together.cycle.length === 0) return together
  scene.bits = before.bits
  overwrite(scene.frame, before.frame)
  clock.become(before.clock)
  return iterate(scene, clock, now, fired, cause, 'furthest')
}

type Order = 'all' | 'furthest'

function iterate(scene: Scene, clock: Clock, now: number, fired: readonly Fired[], cause: Cause, order: Order): Switched {
  const { whole } = scene.sea
  const { signals, logic } = whole
  const events: MarchEvent[] = []
  const note = (signal: number, why: Cause, rate?: number) => {
    const event = { time: now, signal: signals[signal].id, on: scene.bits[signal] === 1, cause: why }
    events.push(rate === undefined ? event : { ...event, rate })
  }
  for (const { signal, rate } of fired) {
    scene.bits[signal] ^= 1
    note(signal, 'level', rate)
  }
  const seen = new Map<string, number>()
  for (let round = 0; round < MOST_ROUNDS; round += 1) {
    const { changed, restless } = clock.settle(signals, logic, scene.bits, now)
    for (const signal of changed) note(signal, logicCause(cause, round, signals[signal].type))
    if (restless.length > 0) return { events, cycle: restless, rounds: restless.length }
    const key = scene.bits.join('')
    const again = seen.get(key)
    if (again !== undefined) return { events, cycle: moving([...seen.keys()].slice(again)), rounds: round - again }
    seen.set(key, round)
    const stuck = solveInstant(scene, now)
    if (stuck) return { events, cycle: [], rounds: round, stuck }
    const wanting = wantingNow(scene, order)
    if (wanting.length === 0) return { events, cycle: [], rounds: round }
    for (const signal of wanting) {
      scene.bits[signal] ^= 1
      note(signal, cause === 'leg' ? 'leg' : 'level')
    }
  }
  return { events, cycle: moving([...seen.keys()]), rounds: MOST_ROUNDS }
}

function wantingNow({ sea, frame, bits }: Scene, order: Order): number[] {
  const found: { signal: number; size: number }[] = []
  for (const threshold of sea.whole.thresholds) {
    const on = bits[threshold.signal] === 1
    const past = overdrive(threshold, frame.across, on)
    const level = Math.abs(on ? threshold.fall : threshold.rise) || 1
    if (on ? past > 0 : past >= 0) found.push({ signal: threshold.signal, size: past / level })
  }
  if (order === 'all' || found.length < 2) return found.map(({ signal }) => signal)
  return [found.toSorted((p, q) => q.size - p.size || p.signal - q.signal)[0].signal]
}

/** Every island that moves, and every one whose contacts switched, at this very instant: stores keep what they hold. */
function solveInstant(scene: Scene, now: number): Stuck | undefined {
  const { sea, solver, frame, stand, bits, solvedWith } = scene
  const legTime = now - scene.leg.from
  solver.drift(frame, legTime)
  for (const [n, island] of sea.islands.entries()) {
    const heard = island.imports.map((node) => frame.across[island.global[node]])
    const key = `${island.gates.map((signal) => bits[signal]).join('')} ${heard.join(',')}`
    if (!island.live && key === solvedWith[n]) continue
    const count = island.stores.length
    const stores = { left: stand.held[n], share: INSTANT, held: new Float64Array(count), rate: stand.rate[n] }
    const stuck = solver.solve(n, frame, bits, legTime, stores)
    if (stuck) return stuck
    solvedWith[n] = key
  }
  return undefined
}

function moving(keys: readonly string[]): number[] {
  const first = keys[0] ?? ''
  return Array.from({ length: first.length }, (_, i) => i).filter((i) => keys.some((key) => key[i] !== first[i]))
}

const TIMERS = new Set(['TON', 'TOF', 'TP'])

function logicCause(cause: Cause, round: number, type: string): Cause {
  if (cause === 'timer' && round === 0 && TIMERS.has(type)) return 'timer'
  return cause === 'leg' ? 'leg' : 'logic'
}
