import type { Charge } from './types.js'

/** What a store holds, and how that grows with the across quantity. */
export interface Held {
  q: number
  slope: number
}

const held: Held = { q: 0, slope: 0 }

/**
 * What a store holds at the across quantity x (V.F, Pa of gas to kg, Pa of liquid to m3, K to J, rad/s to N.m.s), with its slope, which
 * is never negative. The returned object is reused by the next call: copy what must last.
 */
export function chargeAt(charge: Charge, x: number): Held {
  switch (charge.charge) {
    case 'linear':
      return set(charge.capacity * x, charge.capacity)
    case 'polytropic':
      return polytropic(charge, x)
    case 'stroke': {
      const share = x / charge.band
      const inside = share > 0 && share < 1
      const moved = charge.volume * Math.min(1, Math.max(0, share))
      return set(moved + charge.capacity * x, charge.capacity + (inside ? charge.volume / charge.band : 0))
    }
    case 'accumulator': {
      const { volume, precharge, exponent, capacity } = charge
      if (x <= precharge) return set(capacity * x, capacity)
      const gas = (precharge / x) ** (1 / exponent)
      return set(volume * (1 - gas) + capacity * x, (volume * gas) / (exponent * x) + capacity)
    }
  }
}

function set(q: number, slope: number): Held {
  held.q = q
  held.slope = slope
  return held
}

/** Straight below a hundredth of its reference pressure, where the power's slope would run away. */
function polytropic({ capacity, reference, exponent }: Extract<Charge, { charge: 'polytropic' }>, x: number): Held {
  const power = (r: number) => capacity * reference * r ** (1 / exponent)
  const least = 0.01
  const r = x / reference
  const at = Math.max(r, least)
  const slope = power(at) / (exponent * at * reference)
  return set(power(at) + (r < least ? slope * (r - least) * reference : 0), slope)
}

/** What no store can have, in words; undefined when all is well. */
export function unfitCharge(charge: Charge): string | undefined {
  for (const [name, value] of Object.entries(charge)) {
    if (typeof value !== 'number') continue
    const fits = Number.isFinite(value) && (value > 0 || (value === 0 && name === 'capacity' && charge.charge === 'accumulator'))
    if (!fits) return `the ${name} ${value} in its charge '${charge.charge}'`
  }
  return undefined
}
