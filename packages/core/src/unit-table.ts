/** Units by their UCUM codes with exact SI factors, and the trade's spellings of them. */

/** Exponents of m, kg, s, A, K, rad. The angle counts, so that a frequency is not taken for an angular speed. */
export type Exponents = readonly number[]

export const NONE: Exponents = [0, 0, 0, 0, 0, 0]
const LENGTH = [1, 0, 0, 0, 0, 0]
const AREA = [2, 0, 0, 0, 0, 0]
const VOLUME = [3, 0, 0, 0, 0, 0]
const MASS = [0, 1, 0, 0, 0, 0]
const TIME = [0, 0, 1, 0, 0, 0]
const TEMPERATURE = [0, 0, 0, 0, 1, 0]
const ANGLE = [0, 0, 0, 0, 0, 1]
const FORCE = [1, 1, -2, 0, 0, 0]
const PRESSURE = [-1, 1, -2, 0, 0, 0]
const ENERGY = [2, 1, -2, 0, 0, 0]
const POWER = [2, 1, -3, 0, 0, 0]

export const PREFIXES: Record<string, number> = {
  T: 1e12,
  G: 1e9,
  M: 1e6,
  k: 1e3,
  h: 100,
  d: 0.1,
  c: 1e-2,
  m: 1e-3,
  u: 1e-6,
  n: 1e-9,
  p: 1e-12,
}

interface Atom {
  factor: number
  exponents: Exponents
  offset?: number
  metric?: boolean
}

const metric = (factor: number, exponents: Exponents): Atom => ({ factor, exponents, metric: true })
const plain = (factor: number, exponents: Exponents): Atom => ({ factor, exponents })

const INCH = 0.0254
const FOOT = 0.3048
const POUND = 0.45359237
const GRAVITY = 9.80665
/** Conventional metre of mercury, 13 595.1 kg/m³ at standard gravity (NIST SP 811, B.8); UCUM's own figure is 3e-6 lower. */
const METRE_OF_MERCURY = 13595.1 * GRAVITY
const METRE_OF_WATER = 1000 * GRAVITY

/** Sources: SI; international yard and pound (1959); NIST SP 811, appendix B.8. */
export const ATOMS: Record<string, Atom> = {
  '1': plain(1, NONE),
  '%': plain(0.01, NONE),
  m: metric(1, LENGTH),
  g: metric(1e-3, MASS),
  t: metric(1000, MASS),
  s: metric(1, TIME),
  A: metric(1, [0, 0, 0, 1, 0, 0]),
  K: metric(1, TEMPERATURE),
  rad: metric(1, ANGLE),
  deg: plain(Math.PI / 180, ANGLE),
  circ: plain(2 * Math.PI, ANGLE),
  min: plain(60, TIME),
  h: plain(3600, TIME),
  d: plain(86400, TIME),
  V: metric(1, [2, 1, -3, -1, 0, 0]),
  Ohm: metric(1, [2, 1, -3, -2, 0, 0]),
  S: metric(1, [-2, -1, 3, 2, 0, 0]),
  C: metric(1, [0, 0, 1, 1, 0, 0]),
  F: metric(1, [-2, -1, 4, 2, 0, 0]),
  H: metric(1, [2, 1, -2, -2, 0, 0]),
  W: metric(1, POWER),
  J: metric(1, ENERGY),
  N: metric(1, FORCE),
  Pa: metric(1, PRESSURE),
  Wb: metric(1, [2, 1, -2, -1, 0, 0]),
  T: metric(1, [0, 1, -2, -1, 0, 0]),
  P: metric(0.1, [-1, 1, -1, 0, 0, 0]),
  St: metric(1e-4, [2, 0, -1, 0, 0, 0]),
  Hz: metric(1, [0, 0, -1, 0, 0, 0]),
  bar: metric(1e5, PRESSURE),
  atm: plain(101325, PRESSURE),
  att: plain(GRAVITY * 1e4, PRESSURE),
  L: metric(1e-3, VOLUME),
  l: metric(1e-3, VOLUME),
  Cel: { factor: 1, exponents: TEMPERATURE, offset: 273.15 },
  '[degF]': { factor: 5 / 9, exponents: TEMPERATURE, offset: 459.67 },
  '[degR]': plain(5 / 9, TEMPERATURE),
  '[in_i]': plain(INCH, LENGTH),
  '[ft_i]': plain(FOOT, LENGTH),
  '[yd_i]': plain(0.9144, LENGTH),
  '[mi_i]': plain(1609.344, LENGTH),
  '[mil_i]': plain(INCH / 1000, LENGTH),
  '[cml_i]': plain((Math.PI / 4) * (INCH / 1000) ** 2, AREA),
  '[sin_i]': plain(INCH ** 2, AREA),
  '[sft_i]': plain(FOOT ** 2, AREA),
  '[cin_i]': plain(INCH ** 3, VOLUME),
  '[cft_i]': plain(FOOT ** 3, VOLUME),
  '[gal_us]': plain(231 * INCH ** 3, VOLUME),
  '[qt_us]': plain((231 * INCH ** 3) / 4, VOLUME),
  '[pt_us]': plain((231 * INCH ** 3) / 8, VOLUME),
  '[foz_us]': plain((231 * INCH ** 3) / 128, VOLUME),
  '[gal_br]': plain(4.54609e-3, VOLUME),
  '[lb_av]': plain(POUND, MASS),
  '[oz_av]': plain(POUND / 16, MASS),
  '[ston_av]': plain(2000 * POUND, MASS),
  '[lton_av]': plain(2240 * POUND, MASS),
  '[lbf_av]': plain(POUND * GRAVITY, FORCE),
  gf: metric(GRAVITY / 1000, FORCE),
  '[psi]': plain((POUND * GRAVITY) / INCH ** 2, PRESSURE),
  'm[Hg]': metric(METRE_OF_MERCURY, PRESSURE),
  'm[H2O]': metric(METRE_OF_WATER, PRESSURE),
  "[in_i'Hg]": plain(METRE_OF_MERCURY * INCH, PRESSURE),
  "[in_i'H2O]": plain(METRE_OF_WATER * INCH, PRESSURE),
  '[Btu_IT]': plain(1055.05585262, ENERGY),
  '[Btu_th]': plain((4.184 * 1000 * POUND * 5) / 9, ENERGY),
  '[Btu]': plain(1055.05585262, ENERGY),
  cal_IT: metric(4.1868, ENERGY),
  cal_th: metric(4.184, ENERGY),
  '[HP]': plain(550 * FOOT * POUND * GRAVITY, POWER),
  '[kn_i]': plain(1852 / 3600, [1, 0, -1, 0, 0, 0]),
  rpm: plain((2 * Math.PI) / 60, [0, 0, -1, 0, 0, 1]),
}

/** Trade spellings; each stands for a unit written in UCUM. */
export const SPELLINGS: Record<string, string> = {
  ohm: 'Ohm',
  ohms: 'Ohm',
  mohm: 'mOhm',
  kohm: 'kOhm',
  Mohm: 'MOhm',
  degC: 'Cel',
  degF: '[degF]',
  degR: '[degR]',
  psi: '[psi]',
  inHg: "[in_i'Hg]",
  inH2O: "[in_i'H2O]",
  mmHg: 'mm[Hg]',
  cmil: '[cml_i]',
  kcmil: '[kcml_i]',
  '[kcml_i]': '[cml_i].1000',
  MCM: '[cml_i].1000',
  ft: '[ft_i]',
  in: '[in_i]',
  inch: '[in_i]',
  mil: '[mil_i]',
  mi: '[mi_i]',
  yd: '[yd_i]',
  lb: '[lb_av]',
  oz: '[oz_av]',
  lbf: '[lbf_av]',
  ftlbf: '[ft_i].[lbf_av]',
  gal: '[gal_us]',
  qt: '[qt_us]',
  gpm: '[gal_us]/min',
  cfm: '[cft_i]/min',
  lpm: 'L/min',
  hp: '[HP]',
  Nm: 'N.m',
  Ah: 'A.h',
  Wh: 'W.h',
  kWh: 'kW.h',
  sec: 's',
  hr: 'h',
  mph: '[mi_i]/h',
  'r/min': 'rpm',
  'ft-lb': '[ft_i].[lbf_av]',
  'ft-lbf': '[ft_i].[lbf_av]',
  'in-lbf': '[in_i].[lbf_av]',
}
