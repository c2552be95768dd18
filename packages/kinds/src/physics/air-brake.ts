import { convert } from '@halfsplit/core'
import { notNegative, positive } from './require.js'

/**
 * A limit of a rule with the clause it stands in; the reading is in SI (Pa, s) or a ratio. The law in force must be checked by
 * the user.
 */
export interface RuleLimit {
  clause: string
  about: string
  least?: number
  most?: number
}

/** Whether a reading [SI] keeps a rule. Gauge pressures, as on the panel. */
export function keepsRule({ least, most }: RuleLimit, reading: number): boolean {
  return (least === undefined || reading >= least) && (most === undefined || reading <= most)
}

const psi = (value: number) => convert(value, '[psi]', 'Pa')
const kPa = (value: number) => value * 1e3

const CDL = 'US commercial driver licence manual, air brakes'
const ONTARIO = 'Ontario air brake handbook'

/**
 * Rules that are plain numbers. Pressures are gauge [Pa], leaks pressure over time [Pa] in one minute. Sources: the clauses, as
 * cited.
 */
export const AIR_BRAKE_RULES = {
  cutInTruck: { clause: '49 CFR 571.121 S5.1.1.1', about: 'governor cut-in, trucks', least: psi(100) },
  cutInBus: { clause: '49 CFR 571.121 S5.1.1.1', about: 'governor cut-in, buses', least: psi(85) },
  reservoirs: { clause: '49 CFR 571.121 S5.1.2.1', about: 'service and supply reservoirs over chambers', least: 12 },
  reservoirsTrailer: { clause: '49 CFR 571.121 S5.2.1.1', about: 'reservoirs of a trailer over chambers', least: 8 },
  warning: { clause: '49 CFR 571.121 S5.1.5', about: 'low-pressure warning on at or above', least: psi(60) },
  checkValve: { clause: '49 CFR 571.121 S5.1.2.3, interpretation of 1977', about: 'back-leak in ten minutes', most: psi(10) },
  warningShare: { clause: '49 CFR 393.51, guidance 1', about: 'low-pressure warning over governor cut-out', least: 0.5 },
  reserve: { clause: '49 CFR 393.50(a)', about: 'pressure left by a full application, engine stopped', least: 0.7 },
  warningInUse: { clause: CDL, about: 'low-pressure warning comes on before', least: psi(60) },
  buildUpInUse: { clause: CDL, about: '85 to 100 psi at operating speed, dual system', most: 45 },
  buildUpBefore1975: { clause: CDL, about: '50 to 90 psi at idle, single system before 1975', most: 180 },
  governor: { clause: CDL, about: 'usual cut-in and cut-out', least: psi(100), most: psi(125) },
  springBrakes: { clause: CDL, about: 'spring brakes come on', least: psi(20), most: psi(45) },
  ontarioWindow: { clause: ONTARIO, about: 'window between cut-in and cut-out', least: psi(80), most: psi(145) },
  ontarioCutOut: { clause: ONTARIO, about: 'governor cut-out', most: kPa(1000) },
  ontarioCutIn: { clause: ONTARIO, about: 'governor cut-in', least: kPa(552) },
  ontarioCombination: { clause: ONTARIO, about: 'loss in one minute, combination, full pedal', most: kPa(28) },
  ontarioSingle: { clause: ONTARIO, about: 'loss in one minute, single vehicle, full pedal', most: kPa(21) },
  locomotiveBand: { clause: '49 CFR 229.49', about: 'governor off the working pressure', most: psi(5) },
} as const satisfies Record<string, RuleLimit>

/**
 * Longest time from 85 to 100 psi [s]: 25 s times actual over required reservoir volume.
 * @param volumeRatio [1], > 0   Source: 49 CFR 571.121 S5.1.1.   @throws HalfsplitError VALUE_IMPOSSIBLE
 */
export function buildUpRule(volumeRatio = 1): RuleLimit & { from: number; to: number } {
  const most = 25 * positive(volumeRatio, 'the ratio of reservoir volumes')
  return { clause: '49 CFR 571.121 S5.1.1', about: '85 to 100 psi at full engine speed', most, from: psi(85), to: psi(100) }
}

/**
 * Hydrostatic pressure a reservoir must stand [Pa]: five times cut-out, 500 psi at least.
 * @param cutOut gauge [Pa]   @throws HalfsplitError VALUE_IMPOSSIBLE
 */
export function reservoirProof(cutOut: number): RuleLimit {
  const least = Math.max(5 * positive(cutOut, 'the governor cut-out'), psi(500))
  return { clause: '49 CFR 571.121 S5.1.2.2', about: 'a reservoir stands', least }
}

/**
 * Lowest pressure at which the warning of a vehicle in use may come on [Pa]: 55 psi or half of cut-out, the lesser.
 * @param cutOut gauge [Pa]
 */
export function warningRule(cutOut: number): RuleLimit {
  const least = Math.min(psi(55), AIR_BRAKE_RULES.warningShare.least * positive(cutOut, 'the governor cut-out'))
  return { clause: '49 CFR 393.51(c)', about: 'low-pressure warning in use', least }
}

/** Least gauge pressure after a full application with the engine stopped [Pa]. @param before gauge [Pa] */
export function reserveRule(before: number): RuleLimit {
  const { clause, about, least } = AIR_BRAKE_RULES.reserve
  return { clause, about, least: least * notNegative(before, 'the pressure before') }
}

/**
 * Loss in psi a minute by vehicles coupled (1, 2, 3 or more): brakes released, brakes applied.
 * Source: US commercial driver licence manual.
 */
const LOSSES = [
  [2, 3],
  [3, 4],
  [5, 6],
] as const

/**
 * Greatest loss of pressure in a time, engine off [Pa].
 * @param vehicles coupled, 1 upwards   @param brakes released, or applied at 90 psi   @param time [s], > 0
 * Source: US commercial driver licence manual, air brakes.   @throws HalfsplitError VALUE_IMPOSSIBLE
 */
export function leakRule(vehicles: number, brakes: 'released' | 'applied', time = 60): RuleLimit {
  const row = LOSSES[Math.min(LOSSES.length, Math.max(1, Math.round(positive(vehicles, 'the number of vehicles')))) - 1]
  const most = (psi(row[brakes === 'released' ? 0 : 1]) * positive(time, 'the time')) / 60
  return { clause: CDL, about: `loss of pressure, brakes ${brakes}`, most }
}
