import { NetworkError, nodeAt } from './errors.js'
import { compileGains, type Follower, gainOf } from './gains.js'
import { assemble, type Block, blockValue, type LogicProgram } from './logic/program.js'
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

interface CompiledSignals {
  signalIndex: Map<string, number>
  thresholds: Threshold[]
  /** The other blocks, in an order in which each comes after what it reads; places are signals. */
  logic: LogicProgram
}

/** @throws NetworkError for inputs that name no signal or no node, and for levels that could never come to rest */
export function compileSignals(signals: readonly Signal[], nodes: ReadonlyMap<string, number>): CompiledSignals {
  const signalIndex = new Map(signals.map((signal, i) => [signal.id, i]))
  const thresholds: Threshold[] = []
  const blocks: Block[] = []
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
      blocks.push({ type: blockType(signal), of, target: i })
    }
  })
  return { signalIndex, thresholds, logic: assemble(blocks, signals.length) }
}

/** What a block is at rest; in time, timers have a clock. What is imposed is an AND or an OR of nothing. */
function blockType(signal: Exclude<Signal, { type: 'threshold' }>): Block['type'] {
  switch (signal.type) {
    case 'imposed':
      return signal.value ? 'AND' : 'OR'
    case 'not':
      return 'NOT'
    case 'and':
      return 'AND'
    case 'or':
      return 'OR'
    case 'TON':
    case 'TOF':
      return 'BUFF'
    default:
      return signal.type
  }
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
 * Brings the logic blocks to rest, given the thresholds; latches keep what they had, held signals keep what they are. Once through is
 * enough unless blocks read each other in a ring.
 * @returns the signals of a ring that never comes to rest; empty when all did
 */
export function settleLogic(logic: LogicProgram, state: Uint8Array, held: ReadonlySet<number>): readonly number[] {
  if (logic.ring.length === 0) {
    pass(logic, state, held)
    return NONE
  }
  let moved: number[] = []
  for (let passes = 0; passes <= 2 * logic.length + 1; passes += 1) {
    const before = Uint8Array.from(state)
    pass(logic, state, held)
    moved = Array.from(logic.target).filter((signal) => state[signal] !== before[signal])
    if (moved.length === 0) break
  }
  return moved
}

const NONE: readonly number[] = []

function pass(logic: LogicProgram, state: Uint8Array, held: ReadonlySet<number>): void {
  const { length, target } = logic
  for (let k = 0; k < length; k += 1) {
    if (held.size === 0 || !held.has(target[k])) state[target[k]] = blockValue(logic, k, state) & 1
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
