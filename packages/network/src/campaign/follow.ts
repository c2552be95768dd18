import type { Circuit } from '../circuit.js'
import type { LogicProgram } from '../logic/program.js'
import { overdrive, settleLogic, stateRecord, type Threshold } from '../signals.js'
import type { DiscreteState } from '../types.js'
import type { Edits } from './edits.js'
import type { Path } from './path.js'
import type { PathSolver } from './solver.js'

/** How a fault ends, as `settle` would say; `lost` where this way of following it found no end. */
export type End =
  | { status: 'settled' }
  | { status: 'chatters' | 'cycles'; parts: string[] }
  | { status: 'race'; parts: string[]; ends: DiscreteState[] }
  | { status: 'lost' }

type Order = 'all' | 'largest' | 'smallest'

type Stop = { stop: 'settled'; visit: number } | { stop: 'cycle'; moving: string[]; from: Uint8Array } | { stop: 'lost' }

/** Signal states met under the fault at hand, with the thresholds that want to switch there. */
interface Visit {
  bits: Uint8Array
  solved: boolean
  /** The first `count` of these: signals, and by how much of their level they want to. */
  count: number
  wanting: Int32Array
  size: Float64Array
}

const MOST_ROUNDS = 200
/** A threshold so near its level, against both, is left to `settle`: rounding would decide. */
const DOUBT = 1e-11

/**
 * Event iteration of `settle` over a `PathSolver`: gates, thresholds with hysteresis and latches, the retries one at a time when
 * gates that switch at once find a cycle. States met again are not solved again.
 */
export class Follower {
  /** Signal states of the end, once settled. */
  readonly bits: Uint8Array
  private readonly held: ReadonlySet<number>
  /** By signal: is it forced. */
  private readonly isHeld: Uint8Array
  private readonly soundWatch: Path
  private readonly visits: Visit[] = []
  /** Visits of the iteration at hand, in their order. */
  private readonly trail: number[] = []
  private visited = 0
  private thresholds: readonly Threshold[]
  private logic: LogicProgram
  private watch: Path
  private solved = -1

  constructor(
    private readonly circuit: Circuit,
    private readonly solver: PathSolver,
    private readonly first: Uint8Array,
    forced: ReadonlySet<number>,
  ) {
    this.bits = Uint8Array.from(first)
    this.held = forced
    this.isHeld = Uint8Array.from(circuit.signals, (_, i) => (forced.has(i) ? 1 : 0))
    this.soundWatch = this.watchOf(circuit.thresholds)
    this.thresholds = circuit.thresholds
    this.logic = circuit.logic
    this.watch = this.soundWatch
  }

  private watchOf(thresholds: readonly Threshold[]): Path {
    return this.solver.watched(
      thresholds.flatMap(({ a, b, gains }) => [a, b, ...gains.flatMap(({ node, less }) => [node, less])]),
    )
  }

  /** Follows the circuit under the edits the solver has taken in. */
  run({ signals }: Edits): End {
    this.visited = 0
    this.solved = -1
    this.thresholds = signals?.thresholds ?? this.circuit.thresholds
    this.logic = signals?.logic ?? this.circuit.logic
    this.watch = signals ? this.watchOf(signals.thresholds) : this.soundWatch
    if (this.thresholds.length + this.logic.length === 0) return this.only()
    const together = this.iterate('all')
    if (together.stop !== 'cycle') return this.end(together)
    const largest = this.iterate('largest', together.from)
    const smallest = this.iterate('smallest', together.from)
    if (largest.stop === 'lost' || smallest.stop === 'lost') return LOST
    if (largest.stop === 'settled' && smallest.stop === 'settled' && largest.visit !== smallest.visit) {
      return this.race(this.visits[largest.visit].bits, this.visits[smallest.visit].bits)
    }
    if (largest.stop === 'settled') return this.end(largest)
    if (smallest.stop === 'settled') return this.end(smallest)
    const { circuit } = this
    const timed = together.moving.some((id) => isTimer(circuit.signals[circuit.signalIndex.get(id) as number].type))
    return { status: timed ? 'cycles' : 'chatters', parts: together.moving }
  }

  /** Nothing switches: one solution is all there is. */
  private only(): End {
    if (!this.solver.solve(this.bits, this.watch)) return LOST
    this.solver.finish()
    return SETTLED
  }

  private race(p: Uint8Array, q: Uint8Array): End {
    const { signals } = this.circuit
    const parts = signals.filter((_, i) => p[i] !== q[i]).map(({ id }) => id)
    return { status: 'race', parts, ends: [p, q].map((bits) => stateRecord(signals, bits)) }
  }

  private end(stop: Exclude<Stop, { stop: 'cycle' }>): End {
    if (stop.stop === 'lost') return LOST
    this.bits.set(this.visits[stop.visit].bits)
    if (this.solved !== stop.visit && !this.solver.solve(this.bits, this.watch)) return LOST
    this.solver.finish()
    return SETTLED
  }

  private iterate(order: Order, from = this.first): Stop {
    const { circuit, bits, visits } = this
    bits.set(from)
    const { trail } = this
    let length = 0
    for (let round = 1; round <= MOST_ROUNDS; round += 1) {
      const restless = settleLogic(this.logic, bits, this.held)
      if (restless.length > 0) return { stop: 'cycle', moving: restless.map((i) => circuit.signals[i].id), from }
      const visit = this.meet()
      for (let before = 0; before < length; before += 1) {
        if (trail[before] === visit)
          return { stop: 'cycle', moving: this.moving(before, length), from: Uint8Array.from(visits[trail[before]].bits) }
      }
      trail[length] = visit
      length += 1
      if (!visits[visit].solved && !this.look(visit)) return { stop: 'lost' }
      const { count, wanting } = visits[visit]
      if (count === 0) return { stop: 'settled', visit }
      if (order === 'all') for (let n = 0; n < count; n += 1) bits[wanting[n]] ^= 1
      else bits[pick(visits[visit], order)] ^= 1
    }
    return { stop: 'cycle', moving: this.moving(0, length), from }
  }

  /** The visit with the states at hand, met before or new. */
  private meet(): number {
    const { bits, visits } = this
    for (let v = 0; v < this.visited; v += 1) if (same(visits[v].bits, bits)) return v
    const v = this.visited
    this.visited += 1
    if (v === visits.length) visits.push(newVisit(bits.length))
    visits[v].bits.set(bits)
    visits[v].solved = false
    return v
  }

  /** Solves for the states at hand and notes which thresholds want to switch. @returns false when lost or in doubt */
  private look(v: number): boolean {
    const { bits, solver, isHeld, thresholds } = this
    this.solved = -1
    if (!solver.solve(bits, this.watch)) return false
    this.solved = v
    const visit = this.visits[v]
    visit.solved = true
    visit.count = 0
    for (let t = 0; t < thresholds.length; t += 1) {
      const threshold = thresholds[t]
      const { signal } = threshold
      if (isHeld[signal]) continue
      const on = bits[signal] === 1
      const past = overdrive(threshold, solver.across, on)
      const level = on ? threshold.fall : threshold.rise
      // Written so that a value that is not a number is in doubt as well.
      if (!(Math.abs(past) > DOUBT * Math.abs(level)) && !this.isCertain(threshold)) return false
      if (on ? past <= 0 : past < 0) continue
      visit.wanting[visit.count] = signal
      visit.size[visit.count] = past / (Math.abs(level) || 1)
      visit.count += 1
    }
    return true
  }

  /** Both ends stand at values that no rounding touches. */
  private isCertain({ a, b, gains }: Threshold): boolean {
    return gains.length === 0 && this.circuit.unknown[a] < 0 && this.circuit.unknown[b] < 0
  }

  /** Signals that are not the same all along this part of the trail. */
  private moving(from: number, to: number): string[] {
    const states = this.trail.slice(from, to).map((v) => this.visits[v].bits)
    return this.circuit.signals.filter((_, i) => states.some((bits) => bits[i] !== states[0][i])).map(({ id }) => id)
  }
}

const LOST: End = { status: 'lost' }
const SETTLED: End = { status: 'settled' }

const isTimer = (type: string): boolean => type === 'TON' || type === 'TOF' || type === 'TP'

function same(p: Uint8Array, q: Uint8Array): boolean {
  for (let i = 0; i < p.length; i += 1) if (p[i] !== q[i]) return false
  return true
}

const newVisit = (signals: number): Visit => ({
  bits: new Uint8Array(signals),
  solved: false,
  count: 0,
  wanting: new Int32Array(signals),
  size: new Float64Array(signals),
})

/** As `settle` picks: by overdrive, the largest or the smallest, ties by the order of the signals. */
function pick({ count, wanting, size }: Visit, order: 'largest' | 'smallest'): number {
  let best = 0
  for (let n = 1; n < count; n += 1) {
    if (order === 'largest' ? size[n] > size[best] : size[n] <= size[best]) best = n
  }
  return wanting[best]
}
