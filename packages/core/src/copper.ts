/** Copper wire and windings. All arguments in SI: m, m², K, ohm. */

const ZERO_CELSIUS = 273.15
const AT_20 = 293.15

/** Resistivity of annealed copper at 293.15 K, 1/58 ohm mm²/m [ohm m]. Source: IEC 60028. */
export const RESISTIVITY_COPPER_20 = 1e-6 / 58

/** Temperature coefficient of resistance of annealed copper, referred to 293.15 K [1/K]. Source: IEC 60028. */
export const ALPHA_COPPER_20 = 0.00393

/**
 * Constants k of the resistance method, R2/R1 = (k + t2)/(k + t1) with t in degC [K]: minus the Celsius temperature at which the
 * straight line would reach zero.  Sources: UL control-unit standard, clause 49.8 (copper, aluminium); IEC 60034-1, 8.6.2.3 (iec);
 * FAA AC 43.13-1B, paragraph 11-66 (aircraft).  Checked in copper.ref.test.ts.
 */
export const RESISTANCE_METHOD_CONSTANTS = {
  copper: 234.5,
  aluminium: 225,
  copperIec: 235,
  aluminiumIec: 225,
  copperAircraft: 234.5,
  aluminiumAircraft: 238.1,
} as const

/**
 * Constant k of the resistance method [K] of a metal with coefficient alpha referred to a temperature:  k = 1/alpha − t.
 * @param alpha [1/K], > 0   @param referenceTemperature [K]
 * 0.00393/K at 293.15 K gives 234.45 K; the printed 234.5 is the same value rounded.
 */
export function resistanceMethodConstant(alpha: number, referenceTemperature: number): number {
  return 1 / alpha - (referenceTemperature - ZERO_CELSIUS)
}

const COPPER = resistanceMethodConstant(ALPHA_COPPER_20, AT_20)

/**
 * Ratio R(t2)/R(t1) of a copper winding:  (k + t2)/(k + t1).
 * @param t1 @param t2 temperature of the copper, not the air [K]   @param k constant of the metal [K], IEC 60028 copper unless given
 * Valid about 75 to 475 K, where copper is nearly linear.  Source: IEC 60028.  Checked in copper.ref.test.ts.
 */
export function copperRatio(t1: number, t2: number, k: number = COPPER): number {
  return (k + t2 - ZERO_CELSIUS) / (k + t1 - ZERO_CELSIUS)
}

/**
 * Resistance [ohm] at `t2` of a winding that has `r1` at `t1`:  r1·(k + t2)/(k + t1); see `copperRatio`.
 * @param r1 [ohm]   @param t1 @param t2 [K]   @param k constant of the metal [K], IEC 60028 copper unless given
 */
export function resistanceAt(r1: number, t1: number, t2: number, k: number = COPPER): number {
  return r1 * copperRatio(t1, t2, k)
}

/**
 * Temperature [K] at which a winding of resistance `r1` at `t1` has the resistance `r`:  t = (r/r1)(k + t1) − k.
 * @param r @param r1 [ohm], r1 > 0   @param t1 [K]   @param k constant of the metal [K], IEC 60028 copper unless given
 * Source: the resistance method (IEC 60034-1, 8.6.2.3).  Checked in copper.ref.test.ts.
 */
export function temperatureFromResistance(r: number, r1: number, t1: number, k: number = COPPER): number {
  return (r / r1) * (k + t1 - ZERO_CELSIUS) - k + ZERO_CELSIUS
}

/**
 * Least and greatest resistance [ohm] of healthy copper windings of `r20` (+- `tolerance`, a fraction) anywhere between two temperatures.
 * @param r20 at 293.15 K [ohm]   @param tolerance [1], 0.05 for 5 %   @param tMin @param tMax [K], tMin <= tMax
 */
export function resistanceBand(r20: number, tolerance: number, tMin: number, tMax: number): { low: number; high: number } {
  return { low: r20 * (1 - tolerance) * copperRatio(AT_20, tMin), high: r20 * (1 + tolerance) * copperRatio(AT_20, tMax) }
}

/**
 * Resistance [ohm] of a coil of which a share of the turns is shorted out: r·(1 − share), equal resistance per turn, an ideal short.
 * @param r of the whole coil [ohm]   @param share of the turns [1], 0 to 1
 */
export function shortedTurns(r: number, share: number): number {
  return r * (1 - share)
}

/**
 * Resistance of a copper conductor [ohm]:  rho20·length/area·(1 + alpha20·(T − 293.15)).
 * @param area of copper [m²], > 0   @param length of the conductor, there and back counted both [m]   @param temperature of the copper [K]
 * Ideal solid annealed copper: stranded wire is 10 to 18 % above it (lay, tin), see AC 43.13-1B table 11-9 and IEC 60228 class 5.
 * Source: IEC 60028.  Checked in copper.ref.test.ts.
 */
export function wireResistance(area: number, length: number, temperature: number = AT_20): number {
  return ((RESISTIVITY_COPPER_20 * length) / area) * copperRatio(AT_20, temperature)
}

/** Ratio of successive American wire gauge diameters [1], the 39th root of 92. Source: ASTM B258. */
export const AWG_RATIO = 92 ** (1 / 39)

/**
 * Diameter [m] of a bare solid wire:  0.127 mm · 92^((36 − n)/39).
 * @param gauge number n; 0 for 1/0, -1 for 2/0, -2 for 3/0, -3 for 4/0   Source: ASTM B258.  Checked in copper.ref.test.ts.
 */
export function awgDiameter(gauge: number): number {
  return 0.127e-3 * 92 ** ((36 - gauge) / 39)
}

/** Area of copper [m²] of an American wire gauge; see `awgDiameter` for the numbers below 1. Source: ASTM B258. */
export function awgArea(gauge: number): number {
  return (Math.PI / 4) * awgDiameter(gauge) ** 2
}

/** American wire gauge (not rounded) whose area is `area` [m²], > 0; the inverse of `awgArea`. */
export function awgFromArea(area: number): number {
  return 36 - (39 * Math.log(Math.sqrt((4 * area) / Math.PI) / 0.127e-3)) / Math.log(92)
}
