/** From a range of values to pixels, and its tick marks. */
export interface Scale {
  at: (value: number) => number
  ticks: readonly number[]
  /** Decimals that tell the ticks apart. */
  decimals: number
}

/** Steps of a ruler: 1, 2 or 5 times a power of ten. */
const STEPS = [1, 2, 5, 10]

/** A value that passes a tick by less than this share of a step needs no further one. */
const SLACK = 0.02

function stepFor(span: number, most: number): number {
  const rough = span / most
  const power = 10 ** Math.floor(Math.log10(rough))
  return power * (STEPS.find((step) => step * power >= rough * (1 - 1e-9)) ?? 10)
}

/**
 * A straight scale whose ends are ticks.
 * @param low @param high range to hold, widened to the next ticks; a single value gets room on both sides
 * @param from @param to pixels of the ends   @param most intervals at most
 */
export function scaleOf(low: number, high: number, from: number, to: number, most: number): Scale {
  const room = high > low ? 0 : Math.abs(low) * 0.05 || 0.5
  const step = stepFor(high - low + 2 * room, most)
  const first = Math.floor((low - room) / step + SLACK)
  const last = Math.max(first + 1, Math.ceil((high + room) / step - SLACK))
  return scaleBetween(first * step, last * step, step, from, to)
}

/** A straight scale from `low` to `high` with ticks at the multiples of `step`. */
export function scaleBetween(low: number, high: number, step: number, from: number, to: number): Scale {
  const first = Math.ceil(low / step - 1e-9)
  const last = Math.floor(high / step + 1e-9)
  return {
    at: (value) => from + ((value - low) / (high - low)) * (to - from),
    ticks: Array.from({ length: last - first + 1 }, (_, i) => (first + i) * step),
    decimals: Math.max(0, Math.ceil(-Math.log10(step) - 1e-9)),
  }
}

/** Units of a time axis, with the steps one counts it in. */
const TIMES = [
  { unit: 's', length: 1, upTo: 180, steps: [0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1, 2, 5, 10, 15, 30] },
  { unit: 'min', length: 60, upTo: 3 * 3600, steps: [0.5, 1, 2, 5, 10, 15, 30] },
  { unit: 'h', length: 3600, upTo: Number.POSITIVE_INFINITY, steps: [0.5, 1, 2, 3, 6, 12, 24, 48, 120, 240] },
]

/** A time axis [s] from `low` to `high` in s, min or h. */
export function timeScale(
  low: number,
  high: number,
  from: number,
  to: number,
  most: number,
): Scale & { unit: string; length: number } {
  const { unit, length, steps } = TIMES.find(({ upTo }) => high - low <= upTo) ?? TIMES[TIMES.length - 1]
  const step = (steps.find((one) => (high - low) / (one * length) <= most) ?? steps[steps.length - 1]) * length
  return { ...scaleBetween(low, high, step, from, to), unit, length }
}
