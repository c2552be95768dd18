import { NetworkError, nodeAt } from './errors.js'
import { compileGains, type Follower, gainOf } from './gains.js'
import type { DiscreteState, Signal } from './types.js'

/** A threshold with its names turned into indices. */
export interface Threshold {
  signal: number
  a: number
  b: number
  scale: number
  rise: number
  fall: number
  /** What its scale follows; empty for most. */
  gains: Follower[]
}

/** A logic block with the indices of its inputs (for a latch: set, reset). */
export interface Logic {
  signal: number
  type: Exclude<Signal['type'], 'threshold'>
  of: number[]
  value: boolean
}

interface CompiledSignals {
  signalIndex: Map<string, number>
  thresholds: Threshold[]
  logic: Logic[]
}

/** @throws NetworkError for inputs that name no signal or no node, and for levels that could never come to rest */
export function compileSignals(signals: readonly Signal[], nodes: ReadonlyMap<string, number>): CompiledSignals {
  const signalIndex = new Map(signals.map((signal, i) => [signal.id, i]))
  const thresholds: Threshold[] = []
  const logic: Logic[] = []
  signals.forEach((signal, i) => {
    if (signal.type === 'threshold') {
      const { id, scale, rise, fall } = signal
      if (!(rise >= fall && Number.isFinite(scale))) {
        throw new NetworkError('ELEMENT_VALUE', `threshold '${id}' rises at ${rise} and falls at ${fall}`, [id])
      }
      const gains = compileGains(signal.gains, nodes, id)
      thresholds.push({
        signal: i,
        a: nodeAt(nodes, signal.a, signal),
        b: nodeAt(nodes, signal.b, signal),
        scale,
        rise,
        fall,
        gains,
      })
    } else {
      const of = inputs(signal).map((name) => input(signalIndex, name, signal.id))
      logic.push({ signal: i, type: signal.type, of, value: signal.type === 'imposed' && signal.value })
    }
  })
  return { signalIndex, thresholds, logic }
}

function inputs(signal: Exclude<Signal, { type: 'threshold' }>): string[] {
  switch (signal.type) {
    case 'imposed':
      return []
    case 'and':
    case 'or':
      return signal.of
    case 'SR':
    case 'RS':
      return [signal.set, signal.reset]
    default:
      return [signal.of]
  }
}

function input(signalIndex: ReadonlyMap<string, number>, name: string, id: string): number {
  const found = signalIndex.get(name)
  if (found === undefined) throw new NetworkError('UNKNOWN_SIGNAL', `'${id}' follows the unknown signal '${name}'`, [id])
  return found
}

/** How far a threshold's input scale (x_a - x_b) is past the level that would switch it (positive: it wants to switch). */
export function overdrive({ a, b, scale, rise, fall, gains }: Threshold, across: Float64Array, on: boolean): number {
  const factor = gains.length > 0 ? gainOf(gains, 'scale', across) : 1
  const seen = scale * factor * (across[a] - across[b])
  return on ? fall - seen : seen - rise
}

/**
 * Brings the logic blocks to rest, given the thresholds; latches keep what they had, held signals keep what they are.
 * @returns the signals of a ring that never comes to rest; empty when all did
 */
export function settleLogic(logic: readonly Logic[], state: Uint8Array, held: ReadonlySet<number>): number[] {
  let moved: number[] = []
  for (let pass = 0; pass <= 2 * logic.length + 1; pass += 1) {
    moved = []
    for (const block of logic) {
      if (held.has(block.signal)) continue
      const next = logicValue(block, state) ? 1 : 0
      if (next === state[block.signal]) continue
      state[block.signal] = next
      moved.push(block.signal)
    }
    if (moved.length === 0) break
  }
  return moved
}

export function logicValue({ type, of, value, signal }: Logic, state: Uint8Array): boolean {
  const on = (n: number) => state[of[n]] === 1
  switch (type) {
    case 'imposed':
      return value
    case 'not':
      return !on(0)
    case 'and':
      return of.every((i) => state[i] === 1)
    case 'or':
      return of.some((i) => state[i] === 1)
    case 'TON':
    case 'TOF':
      return on(0)
    case 'TP':
      return false
    case 'SR':
      return on(0) || (!on(1) && state[signal] === 1)
    case 'RS':
      return !on(1) && (on(0) || state[signal] === 1)
  }
}

export const stateArray = (signals: readonly Signal[], previous: DiscreteState): Uint8Array =>
  Uint8Array.from(signals, (signal) => (previous[signal.id] ? 1 : 0))

export function stateRecord(signals: readonly Signal[], state: Uint8Array): DiscreteState {
  const record: DiscreteState = {}
  signals.forEach((signal, i) => {
    record[signal.id] = state[i] === 1
  })
  return record
}
