import { HalfsplitError } from '@halfsplit/core'

/**
 * Passes a value on, or says why no formula holds for it.
 * @param what as in "the bore"   @param low @param high limits that still pass
 * @throws HalfsplitError VALUE_IMPOSSIBLE outside the limits and for what is no number
 */
export function within(value: number, low: number, high: number, what: string): number {
  // A limit that came out of a conversion of units still passes.
  const rounding = 1e-12 * Math.abs(value)
  if (value >= low - rounding && value <= high + rounding) return value
  throw new HalfsplitError('VALUE_IMPOSSIBLE', `${what} is ${value}; the formula holds from ${low} to ${high} (SI units)`)
}

/** The same for what must be greater than zero and finite. @throws HalfsplitError VALUE_IMPOSSIBLE */
export function positive(value: number, what: string): number {
  if (value > 0 && value < Number.POSITIVE_INFINITY) return value
  throw new HalfsplitError('VALUE_IMPOSSIBLE', `${what} is ${value}; it must be greater than zero`)
}

/** The same for what may be zero. @throws HalfsplitError VALUE_IMPOSSIBLE */
export function notNegative(value: number, what: string): number {
  if (value >= 0 && value < Number.POSITIVE_INFINITY) return value
  throw new HalfsplitError('VALUE_IMPOSSIBLE', `${what} is ${value}; it must not be negative`)
}
