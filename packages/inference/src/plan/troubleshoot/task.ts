/**
 * Troubleshooting: unsure tests, repairs that may be wrong, a proof look after each repair, and the price of a machine that comes
 * back. The words are those of D. Heckerman, J. S. Breese, K. Rommelse, "Decision-theoretic troubleshooting", CACM 38(3) (1995).
 */

/** One thing that may be wrong; exactly one is. No `needs`: nothing is. */
export interface TroubleSuspect {
  readonly id: string
  /** >= 0, in any unit; not all 0. A suspect that another one becomes when half mended may weigh 0. */
  readonly weight: number
  /** Repairs that cure it, all of them together, by number. */
  readonly needs: readonly number[]
  /** What it is after each of its repairs alone, aligned with `needs`; a suspect of one repair is cured by it and gives none. */
  readonly then?: readonly number[]
  /** Chance that the proof look shows a good machine although this is still wrong. */
  readonly missed: number
}

/** A test: where it is taken, its own time, and the chance of each outcome under each suspect. It is done once at most. */
export interface TroubleTest {
  readonly id: string
  readonly state: number
  readonly place: number
  readonly time: number
  readonly outcomes: number
  /** [suspect][outcome], flat; each row sums to 1. */
  readonly chances: Float64Array
}

/** A repair: the place it is made at (undefined: anywhere), its time and its price beside the time. */
export interface TroubleRepair {
  readonly id: string
  readonly place?: number
  readonly time: number
  readonly price: number
}

/**
 * A table of suspects, tests and repairs. Costs are in one unit of money: time times `timeCost`, and prices. Given the suspect the
 * outcomes of different tests are independent: what else they share has to stand in the suspects.
 */
export interface TroubleTask {
  readonly suspects: readonly TroubleSuspect[]
  readonly tests: readonly TroubleTest[]
  readonly repairs: readonly TroubleRepair[]
  /** Time from state to state of the machine, and from place to place; 0 on the diagonal. */
  readonly changes: readonly (readonly number[])[]
  readonly ways: readonly (readonly number[])[]
  readonly start: { readonly state: number; readonly place: number }
  /** The look after each repair. */
  readonly proof: { readonly state: number; readonly place: number; readonly time: number }
  readonly timeCost: number
  /** What a wrong end costs beside the right repair. */
  readonly comeback: { readonly time: number; readonly price: number }
  /** Chance that a repair has to be made twice: found by the proof look, paid for, not searched any further. */
  readonly badNewPart: number
}

/** What can be done. `end`: nothing is repaired, or nothing more. */
export type TroubleStep =
  | { readonly kind: 'test'; readonly id: string }
  | { readonly kind: 'repair'; readonly id: string }
  | { readonly kind: 'end' }

/** Throws a RangeError on a table that is none. */
export function checkTrouble({ suspects, tests, repairs }: TroubleTask): void {
  if (!(suspects.reduce((sum, { weight }) => sum + weight, 0) > 0)) throw new RangeError('troubleshooting needs a suspect')
  for (const suspect of suspects) checkSuspect(suspect, suspects, repairs.length)
  for (const { id, outcomes, chances } of tests) {
    if (chances.length !== outcomes * suspects.length)
      throw new RangeError(`test '${id}' has ${chances.length} chances for ${suspects.length} suspects x ${outcomes} outcomes`)
    for (let s = 0; s < suspects.length; s++) {
      const sum = chances.subarray(s * outcomes, (s + 1) * outcomes).reduce((total, one) => total + one, 0)
      if (!(Math.abs(sum - 1) < 1e-9)) throw new RangeError(`test '${id}' has chances of sum ${sum} under '${suspects[s].id}'`)
    }
  }
}

function checkSuspect(
  { id, weight, needs, then, missed }: TroubleSuspect,
  all: readonly TroubleSuspect[],
  repairs: number,
): void {
  if (!(weight >= 0)) throw new RangeError(`the weight of suspect '${id}' is ${weight}; it must be a number from 0 up`)
  if (!(missed >= 0 && missed <= 1)) throw new RangeError(`the proof look misses '${id}' with a chance of ${missed}`)
  if (needs.some((repair) => !(repair >= 0 && repair < repairs)))
    throw new RangeError(`suspect '${id}' needs a repair that is not in the list of ${repairs}`)
  if (needs.length < 2) return
  for (const [i, repair] of needs.entries()) {
    const left = all[then?.[i] ?? -1]?.needs
    if (left?.length !== needs.length - 1 || left.includes(repair) || !left.every((one) => needs.includes(one)))
      throw new RangeError(`suspect '${id}' does not say what is left of it after repair ${repair}`)
  }
}
