import type { Period } from './outcome.js'

/** Where the machine stood just after an event. */
interface Mark {
  time: number
  /** Signals, running timers and what switched. */
  key: string
  /** Across quantities of the stores, each against what can be resolved. */
  stand: Float64Array
  signal: string
}

/** Repeats in a row that make a period. */
const REPEATS = 3
/** How far a repeat may stand from the last, against what can be resolved, and how far it may drift on like that to the end. */
const SAME = 0.1
const SAME_TO_THE_END = 10
/** How far the lengths of two repeats may differ. */
const SAME_LENGTH = 1e-3
/** Repeats of a cycle this fast [s] that make a chatter, drift or no drift. */
const FAST = 0.5
const FAST_REPEATS = 30
const FAST_SAME = 50
/** Marks looked back over. */
const MEMORY = 4000

/** Watches the events of a run for the machine standing again where it stood before. */
export class Repetition {
  private marks: Mark[] = []

  forget(): void {
    this.marks = []
  }

  /** @returns the period if the machine repeats itself, and whether that is too fast to mean anything but chatter */
  after(
    time: number,
    key: string,
    signal: string,
    stand: Float64Array,
    until: number,
  ): { period: Period; chatter: boolean } | undefined {
    this.marks.push({ time, key, stand, signal })
    if (this.marks.length > MEMORY) this.marks.splice(0, MEMORY / 2)
    const { marks } = this
    const last = marks.length - 1
    const back = this.stride(last)
    if (back === 0) return undefined
    const length = time - marks[last - back].time
    const chatter = length < FAST && this.repeats(last, back, FAST_SAME) >= FAST_REPEATS
    const same = this.repeats(last, back, SAME) >= REPEATS && length > 0
    const drift = distance(marks[last].stand, marks[last - back].stand)
    const steady = same && (drift * (until - time)) / length <= SAME_TO_THE_END
    if (!chatter && !steady) return undefined
    const from = marks[last - back * (steady ? REPEATS - 1 : FAST_REPEATS - 1)].time
    const signals = [...new Set(marks.slice(last - back + 1).map((mark) => mark.signal))]
    return { period: { from, length, signals }, chatter }
  }

  /** Events back to the same event, with the same signals after it, the last time; 0 when there was none. */
  private stride(last: number): number {
    const { marks } = this
    for (let n = last - 1; n >= 0; n -= 1) if (marks[n].key === marks[last].key) return last - n
    return 0
  }

  private repeats(last: number, back: number, tolerance: number): number {
    const { marks } = this
    const length = marks[last].time - marks[last - back].time
    let count = 1
    for (let n = last; n - back >= 0; n -= back) {
      const [now, before] = [marks[n], marks[n - back]]
      const alike = now.key === before.key && Math.abs(now.time - before.time - length) <= SAME_LENGTH * length
      if (!alike || distance(now.stand, before.stand) > tolerance) break
      count += 1
      if (count > FAST_REPEATS) break
    }
    return count
  }
}

function distance(p: Float64Array, q: Float64Array): number {
  let most = 0
  for (let i = 0; i < p.length; i += 1) most = Math.max(most, Math.abs(p[i] - q[i]))
  return most
}
