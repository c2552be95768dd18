import { type Circuit, compile } from './circuit.js'
import { NetworkError } from './errors.js'
import type { NoConvergence, OperatingPoint } from './newton.js'
import { overdrive, settleLogic, stateArray, stateRecord } from './signals.js'
import { operatingPoint } from './starts.js'
import type { DiscreteState, Network, Signal } from './types.js'

/** A threshold and how far its input stood from switching it when the outcome was decided. */
export interface Margin {
  signal: string
  /** What it was before this settling began. */
  before: boolean
  /** Input less the level at which it would switch away from `before`, positive = it switched (or would). */
  overdrive: number
  /** The level itself, in the unit of the input. */
  level: number
}

export interface Settled {
  status: 'settled'
  circuit: Circuit
  point: OperatingPoint
  bits: Uint8Array
  state: DiscreteState
  /** One per threshold, seen with every signal as it was before this settling began. */
  margins: Margin[]
  rounds: number
}

/** What is returned in place of numbers when there is no steady state to report. */
export type Unsettled =
  | { status: 'no convergence'; parts: string[]; node: string; residual: number; iterations: number }
  | { status: 'chatters'; parts: string[] }
  | { status: 'cycles'; parts: string[] }
  | { status: 'race'; parts: string[]; ends: DiscreteState[] }

export interface SettleOptions {
  /** What the machine remembers from the state before; all off when left out. */
  previous?: DiscreteState
  /** Signals forced for this settling, to look at one branch of a doubtful threshold. */
  forced?: DiscreteState
  /** Across quantities by node to start Newton from. */
  start?: Float64Array
  /** Across quantities to start from by states of the signals (`0110...`, in their order), from a machine much like this one. */
  starts?: ReadonlyMap<string, Float64Array>
  /** Is told the across quantities found for each states of the signals on the way. */
  visit?: (states: string, across: Float64Array) => void
}

const MOST_ROUNDS = 200

/**
 * Steady state of a network: Newton for the numbers, event iteration for gates, thresholds with hysteresis and latches.
 * Gates that switch at once can find a cycle that no real machine has; then, from where the cycle began, they are tried one at a time, the
 * largest overdrive first and the smallest first: one end state is the answer, two are a race, none is chatter (or a cycle, if a timer takes part).
 */
export function settle(network: Network | Circuit, options: SettleOptions = {}): Settled | Unsettled {
  const circuit = 'branches' in network ? network : compile(network)
  const run = new Run(circuit, options)
  const together = run.iterate('all')
  if (together.end !== 'cycle') return run.result(together)
  const orders = [run.iterate('largest', together.from), run.iterate('smallest', together.from)]
  const ends = orders.filter((order) => order.end === 'settled')
  if (ends.length === 2 && !sameBits(ends[0].bits, ends[1].bits)) {
    const apart = circuit.signals.filter((_, i) => ends[0].bits[i] !== ends[1].bits[i]).map((signal) => signal.id)
    return { status: 'race', parts: apart, ends: ends.map((end) => stateRecord(circuit.signals, end.bits)) }
  }
  if (ends.length > 0) return run.result(ends[0])
  const failed = orders.find((order) => order.end === 'failed')
  if (failed) return run.result(failed)
  const parts = together.moving
  const timed = parts.some((id) => isTimer(circuit.signals[circuit.signalIndex.get(id) as number]))
  return { status: timed ? 'cycles' : 'chatters', parts }
}

const isTimer = (signal: Signal): boolean => signal.type === 'TON' || signal.type === 'TOF' || signal.type === 'TP'

const sameBits = (p: Uint8Array, q: Uint8Array): boolean => p.every((bit, i) => bit === q[i])

/** Which of the thresholds that want to switch do so in one round. */
type Order = 'all' | 'largest' | 'smallest'

type Iteration =
  | { end: 'settled'; bits: Uint8Array; point: OperatingPoint; rounds: number }
  /** `from`: the first of the states that it goes round and round through. */
  | { end: 'cycle'; moving: string[]; from: Uint8Array }
  | { end: 'failed'; failure: NoConvergence }

/** One settling: the initial signals, and the margins seen in its first round. */
class Run {
  private readonly first: Uint8Array
  private readonly forced = new Set<number>()
  private margins: Margin[] | undefined

  constructor(
    private readonly circuit: Circuit,
    private readonly options: SettleOptions,
  ) {
    this.first = stateArray(circuit.signals, options.previous ?? {})
    for (const [id, value] of Object.entries(options.forced ?? {})) {
      const i = circuit.signalIndex.get(id)
      if (i === undefined) throw new NetworkError('UNKNOWN_SIGNAL', `the unknown signal '${id}' can not be forced`, [id])
      this.forced.add(i)
      this.first[i] = value ? 1 : 0
    }
  }

  iterate(order: Order, from = this.first): Iteration {
    const { circuit } = this
    const bits = Uint8Array.from(from)
    let start = this.options.start
    const seen = new Map<string, number>()
    const path: Uint8Array[] = []
    for (let round = 1; round <= MOST_ROUNDS; round += 1) {
      const restless = settleLogic(circuit.logic, bits, this.forced)
      if (restless.length > 0) return { end: 'cycle', moving: restless.map((i) => circuit.signals[i].id), from }
      const key = bits.join('')
      const before = seen.get(key)
      if (before !== undefined) return { end: 'cycle', moving: this.moving(path.slice(before)), from: path[before] }
      seen.set(key, path.length)
      path.push(Uint8Array.from(bits))
      const point = operatingPoint(circuit, bits, this.options.starts?.get(key) ?? start)
      if (!('across' in point)) return { end: 'failed', failure: point }
      start = point.across
      this.options.visit?.(key, start)
      const wanting = this.wanting(bits, point.across)
      if (wanting.length === 0) return { end: 'settled', bits, point, rounds: round }
      for (const signal of pick(wanting, order)) bits[signal] = bits[signal] ? 0 : 1
    }
    return { end: 'cycle', moving: this.moving(path), from }
  }

  /** Thresholds whose input asks for the other state, with their overdrive relative to the level. */
  private wanting(bits: Uint8Array, across: Float64Array): Wanting[] {
    const { circuit, forced } = this
    const found: Wanting[] = []
    const margins: Margin[] = []
    for (const threshold of circuit.thresholds) {
      const { signal, rise, fall } = threshold
      if (forced.has(signal)) continue
      const on = bits[signal] === 1
      const past = overdrive(threshold, across, on)
      const level = on ? fall : rise
      if (!this.margins) margins.push({ signal: circuit.signals[signal].id, before: on, overdrive: past, level })
      if (on ? past > 0 : past >= 0) found.push({ signal, size: past / (Math.abs(level) || 1) })
    }
    this.margins ??= margins
    return found
  }

  private moving(cycle: Uint8Array[]): string[] {
    return this.circuit.signals.filter((_, i) => cycle.some((bits) => bits[i] !== cycle[0][i])).map((signal) => signal.id)
  }

  result(iteration: Iteration): Settled | Unsettled {
    const { circuit } = this
    if (iteration.end === 'settled') {
      const { bits, point, rounds } = iteration
      return {
        status: 'settled',
        circuit,
        point,
        bits,
        state: stateRecord(circuit.signals, bits),
        margins: this.margins ?? [],
        rounds,
      }
    }
    if (iteration.end === 'cycle') return { status: 'chatters', parts: iteration.moving }
    const { node, residual, iterations } = iteration.failure
    const parts = circuit.network.elements.filter((element) => 'a' in element && (element.a === node || element.b === node))
    return { status: 'no convergence', parts: parts.map((element) => element.id), node, residual, iterations }
  }
}

interface Wanting {
  signal: number
  size: number
}

function pick(wanting: Wanting[], order: Order): number[] {
  if (order === 'all') return wanting.map((one) => one.signal)
  const sorted = wanting.toSorted((p, q) => q.size - p.size || p.signal - q.signal)
  return [sorted[order === 'largest' ? 0 : sorted.length - 1].signal]
}
