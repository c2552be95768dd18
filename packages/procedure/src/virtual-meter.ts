import { ASSUMPTIONS, type Display, display, type Meter, type MeterRange, type Random } from '@halfsplit/core'
import { misreadRange, type TestProbe } from '@halfsplit/diagnosis'
import { type Making, USUAL_MAKING } from './draws.js'

/** What a display showed: a number, over-range, or digits that would not come to rest. */
export type Shown = Display | 'unsteady'

/** Share of misread displays noted as over-range: a lead that did not touch. An assumption. */
const LEAD_OFF = 0.05
/** Moving about of a display under a still hand, one sd in steps of the display. An assumption. */
const RESTLESS = 0.3

interface RangeError {
  /** Share of the reading. */
  gain: number
  /** [SI] */
  zero: number
}

/**
 * Meters as they lie in one workshop: each range of each meter has one gain and one zero error, drawn once anywhere within its maker's
 * limit, and shared by all its readings. Fresh each time are the contact of the tips, the moving about of the last digit and misreads.
 */
export class MeterSet {
  private readonly errors = new Map<string, RangeError>()

  constructor(
    private readonly random: Random,
    private readonly misread: number,
    private readonly meterError: Making['meterError'] = USUAL_MAKING.meterError,
  ) {}

  /** Shows a value [SI] that may depend on the range in use (an ohmmeter's test current): the lowest range that holds it. */
  show(probe: Exclude<TestProbe, { kind: 'look' }>, valueIn: (range: number) => number): Display {
    if (this.random.uniform() < this.misread) return this.wrong(probe)
    const { meter } = probe
    const contact = probe.kind === 'ohms' ? ASSUMPTIONS.probeContactOhm * this.random.normal() : 0
    const restless = RESTLESS * this.random.normal()
    for (let r = 0; r < meter.ranges.length; r += 1) {
      const range = meter.ranges[r]
      const { gain, zero } = this.errorOf(meter, range)
      const scale = meter.zero ?? 0
      const seen = scale + (valueIn(r) + contact - scale) * (1 + gain) + zero + restless * range.resolution
      // An ohmmeter counts from nought up: its zero error shows on one side only.
      const shown = display({ ...meter, ranges: [range] }, probe.kind === 'ohms' ? Math.max(seen, 0) : seen)
      if (!shown.over) return shown
    }
    return { over: true, text: 'OL' }
  }

  private errorOf(meter: Meter, range: MeterRange): RangeError {
    const key = `${meter.name} ${range.top}`
    let error = this.errors.get(key)
    if (!error) {
      const own = this.random.fork(key)
      const within = (limit: number) => limit * this.meterError(own)
      error = { gain: within(range.percent / 100), zero: within(range.counts * range.resolution) }
      this.errors.set(key, error)
    }
    return error
  }

  /** A display that says nothing of the machine: anything the meter's usual range can show. */
  private wrong(probe: Exclude<TestProbe, { kind: 'look' }>): Display {
    if (this.random.uniform() < LEAD_OFF) return { over: true, text: 'OL' }
    const { low, high } = misreadRange(probe)
    return display(probe.meter, low + (high - low) * this.random.uniform())
  }
}
