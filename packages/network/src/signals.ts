import type { Circuit } from './circuit.js'
import type { DiscreteState, Signal } from './types.js'

export type SignalOf = (id: string) => boolean

/** What a threshold sees: scale (x_a - x_b). */
export function thresholdInput(circuit: Circuit, signal: Extract<Signal, { type: 'threshold' }>, across: Float64Array): number {
  const a = circuit.index.get(signal.a) ?? 0
  const b = circuit.index.get(signal.b) ?? 0
  return signal.scale * (across[a] - across[b])
}

/** How far a threshold's input is past the level that would switch it (positive: it wants to switch). */
export function overdrive(signal: Extract<Signal, { type: 'threshold' }>, input: number, on: boolean): number {
  return on ? signal.fall - input : input - signal.rise
}

/** States of the logic blocks once everything has come to rest, given the thresholds; latches keep what they had. */
export function settleLogic(circuit: Circuit, state: Uint8Array, held: ReadonlySet<number>): void {
  const of = (id: string) => state[circuit.signalIndex.get(id) ?? -1] === 1
  for (let pass = 0; pass <= circuit.signals.length; pass += 1) {
    let changed = false
    circuit.signals.forEach((signal, i) => {
      if (signal.type === 'threshold' || held.has(i)) return
      const next = logicValue(signal, state[i] === 1, of) ? 1 : 0
      if (next !== state[i]) {
        state[i] = next
        changed = true
      }
    })
    if (!changed) return
  }
}

function logicValue(signal: Exclude<Signal, { type: 'threshold' }>, before: boolean, of: SignalOf): boolean {
  switch (signal.type) {
    case 'imposed':
      return signal.value
    case 'not':
      return !of(signal.of)
    case 'and':
      return signal.of.every(of)
    case 'or':
      return signal.of.some(of)
    case 'TON':
    case 'TOF':
      return of(signal.of)
    case 'TP':
      return false
    case 'SR':
      return of(signal.set) || (!of(signal.reset) && before)
    case 'RS':
      return !of(signal.reset) && (of(signal.set) || before)
  }
}

export function stateArray(circuit: Circuit, previous: DiscreteState): Uint8Array {
  return Uint8Array.from(circuit.signals, (signal) => (previous[signal.id] ? 1 : 0))
}

export function stateRecord(circuit: Circuit, state: Uint8Array): DiscreteState {
  return Object.fromEntries(circuit.signals.map((signal, i) => [signal.id, state[i] === 1]))
}
