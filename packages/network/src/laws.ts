import { chargeAt } from './charge.js'
import type { Law } from './types.js'

/** Reference atmosphere of ISO 8778 (from memory): 100 kPa, 293.15 K; density of air at it [kg/m3]. */
export const REFERENCE_DENSITY = 1.185

/**
 * Pressure ratio above which flow through an orifice is taken as linear in the pressure difference, so that its slope at
 * zero flow is finite. Same form as the published simulation cases use.
 */
export const LAMINAR_RATIO = 0.999

/** Share of its band, past shut, over which a valve that moves by itself keeps its slope: 0.03 Pa of an ordinary regulator. */
const HAIR = 1e-6

/** Flow and its two slopes. `da` is never negative and `db` never positive: that is what the elimination relies on. */
export interface Flow {
  f: number
  da: number
  db: number
}

const flow: Flow = { f: 0, da: 0, db: 0 }

/**
 * Through quantity of a law at the across quantities of its ends, with both slopes.
 * The returned object is reused by the next call: copy what must last.
 */
export function evaluate(law: Law, xa: number, xb: number): Flow {
  switch (law.law) {
    case 'linear':
      return twoTerminal(law.g * (xa - xb), law.g)
    case 'filament':
      return filament(law, xa - xb)
    case 'diode':
      return diode(law, xa - xb)
    case 'orifice':
      return orifice(law.c, law.b, xa, xb)
    case 'regulator':
      return regulator(law, xa, xb)
    case 'check':
      return check(law, xa, xb)
    case 'square-root':
      return squareRoot(law, xa - xb)
    case 'drag': {
      const w = xa - xb
      const root = Math.hypot(w, law.smooth)
      return twoTerminal((law.dry * w) / root + law.viscous * w, (law.dry * law.smooth ** 2) / root ** 3 + law.viscous)
    }
    case 'fan':
      return fan(law, xa - xb)
    case 'delivery':
      return delivery(law, xb - xa)
    case 'relief':
      return relief(law, xa - xb)
    case 'stream':
      return stream(law.flow * xa, law.flow)
    case 'exchanger':
      return twoTerminal(exchanged(law) * (xa - xb), exchanged(law))
    case 'charging': {
      const { q, slope } = chargeAt(law.charge, xa - xb)
      return twoTerminal(law.rate * (q - law.from), law.rate * slope)
    }
  }
}

const MAY_BE_ZERO = new Set([
  'c',
  'b',
  'exponent',
  'creep',
  'leak',
  'k',
  'dry',
  'viscous',
  'set',
  'g',
  'flow',
  'hot',
  'cold',
  'ua',
  'from',
])

/** What is wrong with a law's numbers, in words; undefined when nothing is. */
export function unfitLaw(law: Law): string | undefined {
  if (law.law === 'linear') return law.g >= 0 && Number.isFinite(law.g) ? undefined : `the conductance ${law.g}`
  for (const [name, value] of Object.entries(law)) {
    if (typeof value !== 'number') continue
    const fits = Number.isFinite(value) && (value > 0 || (value === 0 && MAY_BE_ZERO.has(name)))
    if (!fits) return `the ${name} ${value} in its law '${law.law}'`
  }
  if ('b' in law && law.b >= 1) return `the critical pressure ratio ${law.b}`
  // Above one half the current of a filament would fall as its voltage rises.
  if (law.law === 'filament' && law.exponent > 0.5) return `the filament exponent ${law.exponent}`
  return undefined
}

function twoTerminal(f: number, slope: number): Flow {
  flow.f = f
  flow.da = slope
  flow.db = -slope
  return flow
}

function filament(law: Extract<Law, { law: 'filament' }>, v: number): Flow {
  const square = (v / law.knee) ** 2
  const resistance = law.cold * (1 + square) ** law.exponent
  return twoTerminal(v / resistance, (1 - (2 * law.exponent * square) / (1 + square)) / resistance)
}

/** The junction voltage is found by an inner Newton, so that the outer one sees a curve that is straight at high current. */
function diode(law: Extract<Law, { law: 'diode' }>, v: number): Flow {
  const vt = law.thermalVoltage
  // From above the root the steps of this convex equation never overshoot, however large the series resistance.
  const most = law.series * law.saturation
  let x = v > 0 ? Math.min(v, vt * Math.log1p(v / most)) : Math.min(0, v + most)
  // In reverse the breakdown branch is the steep one; start where it carries what the series resistance allows.
  if (law.breakdown !== undefined && v < -law.breakdown) {
    x = Math.max(v, -law.breakdown - vt * Math.log1p(-(v + law.breakdown) / (law.series * 1e-3)))
  }
  let current = 0
  let slope = 0
  for (let n = 0; n < 60; n += 1) {
    const forward = law.saturation * Math.exp(x / vt)
    const reverse = law.breakdown === undefined ? 0 : 1e-3 * Math.exp(-(x + law.breakdown) / vt)
    current = forward - law.saturation - reverse
    slope = (forward + reverse) / vt
    const step = (x + law.series * current - v) / (1 + law.series * slope)
    x -= step
    if (Math.abs(step) <= 1e-15 * (1 + Math.abs(x))) break
  }
  return twoTerminal(current, slope / (1 + law.series * slope))
}

/**
 * Mass flow of gas through an orifice, ISO 6358 in the form public simulation libraries give it (the standard itself was
 * not consulted): k = c p_up rho0 while choked (p_down/p_up <= b), k sqrt(1 - ((r-b)/(1-b))^2) below, linear near r = 1.
 * @param c sonic conductance [m3/(s Pa)]  @param b critical pressure ratio [1]  @param pa,pb absolute pressures [Pa]
 * @returns [kg/s], gas at the reference temperature
 */
function orifice(c: number, b: number, pa: number, pb: number): Flow {
  if (pa < pb) {
    const back = orifice(c, b, pb, pa)
    const { da, db } = back
    flow.f = -back.f
    flow.da = -db
    flow.db = -da
    return flow
  }
  const k = c * REFERENCE_DENSITY
  const up = Math.max(pa, 1)
  const r = Math.max(pb, 0) / up
  let psi = 1
  let slope = 0
  if (r >= LAMINAR_RATIO) {
    slope = -subsonic(LAMINAR_RATIO, b) / (1 - LAMINAR_RATIO)
    psi = -slope * (1 - r)
  } else if (r > b) {
    psi = subsonic(r, b)
    slope = -(r - b) / ((1 - b) ** 2 * psi)
  }
  flow.f = k * up * psi
  flow.da = k * (psi - r * slope)
  flow.db = k * slope
  return flow
}

const subsonic = (r: number, b: number): number => Math.sqrt(1 - ((r - b) / (1 - b)) ** 2)

/**
 * Opening falls in a straight line over the last `band` below the set pressure (the regulator's droop). With its inlet lower than its
 * outlet the flow goes back through what is open, and the slope leaves out that the opening moves too: it would not be a
 * rising law, and no steady state rests on it unless the outlet has a second supply.
 */
function regulator(law: Extract<Law, { law: 'regulator' }>, pa: number, pb: number): Flow {
  const lift = (law.set - pb) / law.band
  const open = Math.min(1, Math.max(law.creep, lift))
  // A hair past shut it still has its slope, so that a dead end finds its rest where the seat closes.
  const moving = lift < 1 && lift > law.creep - HAIR ? 1 / law.band : 0
  const full = orifice(law.c, law.b, pa, pb)
  const slope = pa >= pb ? full.f * moving : 0
  flow.f = full.f * open
  flow.da = full.da * open
  flow.db = full.db * open - slope
  return flow
}

function check(law: Extract<Law, { law: 'check' }>, pa: number, pb: number): Flow {
  // A hair past shut it still has its slope, so that what it feeds finds its rest where the seat closes.
  return orifice(pa >= pb * (1 - 1e-6 * HAIR) ? law.c : law.c * law.leak, law.b, pa, pb)
}

function squareRoot(law: Extract<Law, { law: 'square-root' }>, dp: number): Flow {
  // (dp^2 + laminar^2)^(-1/4) dp is k sqrt(dp) far out and linear near zero.
  const root = dp * dp + law.laminar ** 2
  return twoTerminal((law.k * dp) / root ** 0.25, (law.k * (0.5 * dp * dp + law.laminar ** 2)) / root ** 1.25)
}

function fan(law: Extract<Law, { law: 'fan' }>, w: number): Flow {
  const root = Math.hypot(w, law.laminar)
  return twoTerminal(law.k * w * root, law.k * (root + (w * w) / root))
}

/**
 * Its corner is rounded over a hair on both sides, so that a dead end, which finds its rest where the seat closes, has a slope to find
 * it by:  (o + h)^2 / 4h  for |o| <= h,  o = dp - set.
 */
function relief(law: Extract<Law, { law: 'relief' }>, dp: number): Flow {
  const over = dp - law.set
  const hair = reliefHair(law)
  const inside = Math.abs(over) <= hair
  const open = inside ? (over + hair) ** 2 / (4 * hair) : Math.max(0, over)
  const slope = inside ? (over + hair) / (2 * hair) : over > 0 ? 1 : 0
  return twoTerminal(law.g * open + law.leak * dp, law.g * slope + law.leak)
}

/** [across] A millionth of what it opens at; of one bar where that is nothing. */
export const reliefHair = ({ set }: Extract<Law, { law: 'relief' }>): number => 1e-6 * Math.abs(set || 1e5)

function delivery(law: Extract<Law, { law: 'delivery' }>, lift: number): Flow {
  const left = (law.most - lift) / law.band
  if (left >= 1) return twoTerminal(law.flow, 0)
  return left <= 0 ? twoTerminal(0, 0) : twoTerminal(law.flow * left, law.flow / law.band)
}

/** What leaves a does not depend on b: the stream goes one way. */
function stream(f: number, slope: number): Flow {
  flow.f = f
  flow.da = slope
  flow.db = 0
  return flow
}

/**
 * Conductance of a heat exchanger, effectiveness times the smaller heat capacity rate [W/K]: cross-flow, both sides unmixed,
 *     e = 1 - exp((exp(-c N^0.78) - 1) N^0.22 / c),  N = ua/C_min, c = C_min/C_max
 * Source: Incropera and DeWitt, Fundamentals of Heat and Mass Transfer, table of effectiveness relations (from memory).
 */
function exchanged({ hot, cold, ua }: Extract<Law, { law: 'exchanger' }>): number {
  const least = Math.min(hot, cold)
  if (!(least > 0 && ua > 0)) return 0
  const units = ua / least
  const ratio = least / Math.max(hot, cold)
  if (ratio < 1e-6) return least * -Math.expm1(-units)
  return least * -Math.expm1((Math.expm1(-ratio * units ** 0.78) * units ** 0.22) / ratio)
}
