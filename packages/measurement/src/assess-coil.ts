import { accuracyLimit, copperRatio, HalfsplitError, type Meter, rangeFor } from '@halfsplit/core'
import { assessConformity, type Conformity, type DecisionRule, GUARDED, type Limits, type Measured } from './assess-conformity.js'
import { type Settlement, whatSettles } from './settle-temperature.js'
import { combine, rectangular } from './uncertainty.js'

/** A temperature known to within +- halfWidth (rectangular), or with a standard uncertainty. All in K. */
export type KnownTemperature = { value: number; halfWidth: number } | { value: number; u: number }

/** One reading of a coil, in SI. */
export interface CoilReading {
  /** Reading at the meter [ohm]. */
  reading: number
  /** Limit of the meter's error [ohm], rectangular; or the meter, which gives it at the reading. */
  meterLimit?: number
  meter?: Meter
  /** Uncertainty of the reading from repetition [ohm], 0 unless given. */
  repeatability?: number
  /** Resistance of the test leads, contained in the reading [ohm]. */
  leadResistance?: Measured
  /** Of the copper of the coil, not of the air around it [K]. */
  temperature: KnownTemperature
  /** Limits that hold at the reference temperature [ohm]. */
  limits: Limits
  /** [K], 293.15 unless given. */
  referenceTemperature?: number
  rule?: DecisionRule
}

/** Verdict on a coil. */
export interface CoilConformity extends Conformity {
  /** Resistance at the reference temperature, with its standard uncertainty [ohm]. */
  corrected: Measured
  /** Only with 'cannot tell': which knowledge of the temperature would settle it. */
  settleTemperature?: Settlement
}

function meterLimit(input: CoilReading): number {
  if (input.meterLimit !== undefined) return input.meterLimit
  const range = input.meter && rangeFor(input.meter, input.reading)
  if (!range)
    throw new HalfsplitError('METER_MISSING', 'neither the limit of the meter nor a meter that can show the reading is given')
  return accuracyLimit(range, input.reading)
}

/** Standard uncertainty of a temperature [K]. */
export function temperatureUncertainty(temperature: KnownTemperature): number {
  return 'u' in temperature ? temperature.u : rectangular(temperature.halfWidth)
}

/** The uncertainty of the reading itself, temperature apart [ohm at the coil's temperature]. */
function readingUncertainty(input: CoilReading): number {
  return combine(rectangular(meterLimit(input)), input.repeatability ?? 0, input.leadResistance?.u ?? 0)
}

/**
 * Resistance of a coil at the reference temperature, from a reading at another temperature.
 *     y = (reading − leads)/k,  k = R(T)/R(reference) of copper
 *     u² = (u_meter² + u_rep² + u_lead²)/k² + (y · dk/dT / k · u_T)²
 * @param input see CoilReading   @param temperature [K]   @param uTemperature its standard uncertainty [K]
 * Source: GUM, JCGM 100:2008, 5.1.2; copper by IEC 60028.
 */
export function coilAtReference(input: CoilReading, temperature: number, uTemperature: number): Measured {
  const reference = input.referenceTemperature ?? 293.15
  const ratio = copperRatio(reference, temperature)
  const value = (input.reading - (input.leadResistance?.value ?? 0)) / ratio
  const slope = copperRatio(reference, temperature + 1) - ratio
  return { value, u: combine(readingUncertainty(input) / ratio, ((value * slope) / ratio) * uTemperature) }
}

/**
 * Judges a coil whose limits hold at a reference temperature by a reading taken at another: the reading is brought to the reference
 * temperature along copper's law, and its uncertainty (meter limit, leads, and above all the coil's temperature) sets a guard band of
 * one expanded uncertainty at each limit (see `assessConformity`). A reading inside the bare limits may so belong to a bad coil and one
 * above them to a good coil, if the coil is hot; and a loosely known temperature gives 'cannot tell' with what would settle it.
 *
 * With k = 2 an ordinary meter of 1 % + 3 counts settles a coil in the middle of its limits although its temperature is known to no
 * better than +- 10 K, and does not settle one whose corrected value lies within one expanded uncertainty of a limit. A rule that asks
 * for a conformance probability (say 0.95) draws nearly the same lines; the guard band is preferred because it can be said in ohms.
 * @returns verdict, corrected value, probability of conformance, acceptance limits, and `settleTemperature` where it cannot tell
 * @throws HalfsplitError METER_MISSING, LIMITS_MISSING, LIMITS_REVERSED, MEASUREMENT_UNUSABLE
 * Source: JCGM 106:2012, clauses 7 and 8.  Checked in assess-coil.ref.test.ts.
 */
export function assessCoil(input: CoilReading): CoilConformity {
  const rule = input.rule ?? GUARDED
  const judge = (temperature: number, uTemperature: number) =>
    assessConformity(coilAtReference(input, temperature, uTemperature), input.limits, rule)
  const uTemperature = temperatureUncertainty(input.temperature)
  const found = judge(input.temperature.value, uTemperature)
  const result = { ...found, corrected: found.measured }
  if (found.verdict !== 'cannot tell') return result
  return { ...result, settleTemperature: whatSettles(judge, input.temperature.value, uTemperature) }
}
