/** A closed interval of a quantity, both ends known. */
export interface Interval {
  readonly low: number
  readonly high: number
}
