/** How one job went, as plain data: what is counted afterwards, and sent between workers. */

/** A repair that was made: whether it cured a fault, replaced what a fault had destroyed, or changed a good part. */
export interface Fitted {
  repair: string
  did: 'cured' | 'replaced what blew' | 'nothing'
  /** Price of part and consumables, in the shop's money. */
  price: number
}

/**
 * How it ended: the proof showed nothing of the complaint any more; nothing was found wrong; what is wrong is said not to be in the
 * description; or neither tests nor parts were left to try.
 */
export type End = 'proved' | 'no fault found' | 'not described' | 'given up'

/** One way of working one job. */
export interface Worked {
  end: End
  /** In the order they were made. */
  fitted: readonly Fitted[]
  /** Faults still in the machine at the end, by their keys. */
  left: readonly string[]
  tests: number
  /** Spent on tests and the ways to them. */
  testMinutes: number
  /** All minutes: tests, repairs, proof. */
  minutes: number
  /** Minutes, parts, and a comeback where a fault was left [shop's money]. */
  money: number
}

/** Ways of working a job: as the bench proposes, by expected cost, likeliest part first, or by the fixed sheet written for the complaint. */
export const WAYS = ['bench', 'plan', 'likeliest', 'sheet'] as const
export type WayName = (typeof WAYS)[number]

export interface JobOutcome {
  index: number
  /** Keys of the faults that were there. */
  truth: readonly string[]
  /** Repairs that cure them, in the same order. */
  cures: readonly string[]
  comesAndGoes: boolean
  /** The fault was one that the bench had not been told of. */
  missing: boolean
  complaint: string
  /** Machines drawn before it that showed none of the described complaints. */
  redrawn: number
  ways: Partial<Record<WayName, Worked>>
}
