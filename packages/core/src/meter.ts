import type { Dimension } from './dimensions.js'
import { formatValue } from './format.js'

/** One range of a meter, in SI. */
export interface MeterRange {
  /** Largest magnitude it can display, from the meter's zero. */
  top: number
  /** Least step of the display. */
  resolution: number
  /** Limit of error: percent of the reading, plus counts of the resolution. */
  percent: number
  counts: number
}

/** A measuring instrument. */
export interface Meter {
  name: string
  quantity: Dimension
  /** Rising by `top`. */
  ranges: MeterRange[]
  /** SI value displayed as nought: 273.15 for a Celsius thermometer, the atmosphere for a pressure gauge; 0 unless given. */
  zero?: number
  /** Of a voltmeter [ohm]. */
  inputResistance?: number
  /** Of an ammeter [ohm]. */
  burden?: number
  /** Of an ohmmeter, current into a short in each range [A], as `ranges`. */
  testCurrents?: number[]
  /** Of an ohmmeter, volts at open leads [V]. */
  openVoltage?: number
}

/**
 * Greatest error [SI] of a reading that the maker's statement allows:  percent/100·|reading| + counts·resolution.
 * Rectangular: the error is anywhere within, u = limit/sqrt 3 (GUM, JCGM 100:2008, 4.3.7).
 * @param reading [SI], counted from the meter's zero
 */
export function accuracyLimit(range: MeterRange, reading: number): number {
  return (range.percent / 100) * Math.abs(reading) + range.counts * range.resolution
}

/**
 * The lowest range of the meter that can show the value; undefined if none can (over-range).
 * @param value [SI], absolute as everywhere
 */
export function rangeFor(meter: Meter, value: number): MeterRange | undefined {
  const shown = Math.abs(value - (meter.zero ?? 0))
  return meter.ranges.find((range) => Math.round(shown / range.resolution) <= Math.round(range.top / range.resolution))
}

/** What a meter shows: a number, or that the value is over its highest range. */
export type Display = { over: false; value: number; counts: number; range: MeterRange; text: string } | { over: true; text: 'OL' }

/**
 * What the meter shows of a value, without error of its own: the value rounded to the display step of the lowest range that holds it.
 * @param value at the meter [SI]; an infinite value or NaN is over-range   @returns value [SI], counts, range and text ("11.88 V")
 */
export function display(meter: Meter, value: number): Display {
  const range = Number.isFinite(value) ? rangeFor(meter, value) : undefined
  if (!range) return { over: true, text: 'OL' }
  const zero = meter.zero ?? 0
  const counts = Math.round((value - zero) / range.resolution)
  const shown = zero + counts * range.resolution
  return { over: false, value: shown, counts, range, text: formatValue(shown, meter.quantity, { resolution: range.resolution }) }
}

/** Ranges of a 4000-count instrument: tops 3.999, 39.99 ... of the decades given, all of one accuracy. */
function decades(tops: number[], percent: number, counts: number): MeterRange[] {
  return tops.map((top) => ({ top: top * 0.99975, resolution: top / 4000, percent, counts }))
}

/** Names of the instruments of `DEFAULT_METERS`. */
export type DefaultMeter = 'volts' | 'lowImpedanceVolts' | 'ohms' | 'amps' | 'clamp' | 'pressure' | 'thermometer'

/**
 * Ordinary instruments of a workshop, for jobs that name no other. All figures are assumptions of this project (common practice,
 * no source): an unbranded 4000-count multimeter, a current clamp, a pressure gauge of accuracy class 1.6 (limit 1.6 % of span),
 * a contact thermometer of +-2 K.
 */
export const DEFAULT_METERS: Record<DefaultMeter, Meter> = {
  volts: { name: 'multimeter, volts', quantity: 'voltage', ranges: decades([4, 40, 400], 0.5, 2), inputResistance: 10e6 },
  lowImpedanceVolts: {
    name: 'multimeter, volts, low impedance',
    quantity: 'voltage',
    ranges: decades([4, 40, 400], 1, 3),
    inputResistance: 3e3,
  },
  ohms: {
    name: 'multimeter, ohms',
    quantity: 'resistance',
    ranges: decades([400, 4e3, 40e3, 400e3, 4e6, 40e6], 1, 3),
    testCurrents: [7e-4, 1.3e-4, 1.3e-5, 1.3e-6, 3e-7, 3e-8],
    openVoltage: 1.2,
  },
  amps: {
    name: 'multimeter, amps',
    quantity: 'current',
    ranges: [...decades([4], 1.2, 3), { top: 10, resolution: 0.01, percent: 1.2, counts: 3 }],
    burden: 0.03,
  },
  clamp: { name: 'current clamp', quantity: 'current', ranges: decades([40, 400], 2, 5) },
  pressure: {
    name: 'pressure gauge, 0 to 10 bar, class 1.6',
    quantity: 'absolutePressure',
    zero: 101325,
    ranges: [{ top: 10e5, resolution: 0.1e5, percent: 0, counts: 1.6 }],
  },
  thermometer: {
    name: 'contact thermometer',
    quantity: 'temperature',
    zero: 273.15,
    ranges: [{ top: 300, resolution: 0.1, percent: 0, counts: 20 }],
  },
}
