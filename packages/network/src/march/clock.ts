import { blockValue, type LogicProgram } from '../logic/program.js'
import type { Signal } from '../types.js'

type TimerSignal = Extract<Signal, { type: 'TON' | 'TOF' | 'TP' }>

/** A timer between two instants: its input as last seen, and since when it runs; undefined when it does not. */
interface Running {
  input: boolean
  since?: number
}

/**
 * Logic blocks and timers in time (IEC 61131-3): TON goes on a delay after its input, TOF off a delay after it, TP gives a pulse of that
 * length and takes no new one until it is over and its input has been off. What runs is kept by name, so that it outlasts a leg.
 */
export class Clock {
  private readonly running = new Map<string, Running>()

  copy(): Clock {
    const other = new Clock()
    other.become(this)
    return other
  }

  become({ running }: Clock): void {
    this.running.clear()
    for (const [id, one] of running) this.running.set(id, { ...one })
  }

  /** At the start every timer is as `settle` leaves it: TON and TOF as their inputs, TP over. */
  begin(signals: readonly Signal[], bits: Uint8Array): void {
    const at = new Map(signals.map((signal, i) => [signal.id, i]))
    for (const signal of signals) {
      if (isTimer(signal)) this.running.set(signal.id, { input: bits[at.get(signal.of) as number] === 1 })
    }
  }

  /** The next time at which a timer ends [s]; infinity when none runs. */
  due(signals: readonly Signal[]): number {
    let next = Number.POSITIVE_INFINITY
    for (const signal of signals) {
      const since = isTimer(signal) ? this.running.get(signal.id)?.since : undefined
      if (since !== undefined) next = Math.min(next, since + (signal as TimerSignal).delay)
    }
    return next
  }

  /**
   * Brings logic and timers to rest at one instant.
   * @returns signals that changed, in order; `restless` when a ring of them never comes to rest
   */
  settle(
    signals: readonly Signal[],
    logic: LogicProgram,
    bits: Uint8Array,
    now: number,
  ): { changed: number[]; restless: number[] } {
    const changed: number[] = []
    let moved: number[] = []
    for (let pass = 0; pass <= 2 * logic.length + 1; pass += 1) {
      moved = []
      for (let k = 0; k < logic.length; k += 1) {
        const own = logic.target[k]
        const signal = signals[own]
        const next = isTimer(signal) ? Number(this.timed(signal, bits, logic, k, now)) : blockValue(logic, k, bits) & 1
        if (next === bits[own]) continue
        bits[own] = next
        moved.push(own)
      }
      changed.push(...moved)
      if (moved.length === 0) return { changed, restless: [] }
    }
    return { changed, restless: moved }
  }

  /** Output of a timer now; notes since when it runs. */
  private timed(
    signal: TimerSignal,
    bits: Uint8Array,
    { operand, start, target }: LogicProgram,
    k: number,
    now: number,
  ): boolean {
    const input = bits[operand[start[k]]] === 1
    const output = bits[target[k]] === 1
    const running = this.running.get(signal.id) ?? { input: false }
    this.running.set(signal.id, running)
    const rose = input && !running.input
    running.input = input
    const starts = signal.type === 'TP' ? rose && !output : input === (signal.type === 'TON') && output !== input
    if (signal.type !== 'TP' && !starts) {
      running.since = undefined
      return input
    }
    if (starts) running.since ??= now
    if (running.since === undefined) return false
    if (now < running.since + signal.delay) return signal.type !== 'TON'
    running.since = undefined
    return signal.type === 'TON'
  }

  /** What runs, for telling whether the machine repeats itself: time left by timer. */
  left(signals: readonly Signal[], now: number): string {
    return signals
      .filter(isTimer)
      .map((signal) => {
        const since = this.running.get(signal.id)?.since
        return since === undefined ? '' : (since + signal.delay - now).toPrecision(4)
      })
      .join(',')
  }
}

const isTimer = (signal: Signal): signal is TimerSignal => signal.type === 'TON' || signal.type === 'TOF' || signal.type === 'TP'
