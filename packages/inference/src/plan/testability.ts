/** How much a set of tests detects and isolates: the figures of testability. */

/** A fault as the tests see it. */
export interface SeenFault {
  readonly unit: string
  readonly rate: number
  /** Weight when faults are counted; 1 unless a fault stands in several lines, one for each of its sizes. */
  readonly count?: number
  /** What all tests together show: equal for faults that are not told apart. `undetected`: as a machine without a fault. */
  readonly signature: string
  readonly isDetected: boolean
}

/** Shares, by failure rate and by number of faults. */
export interface Share {
  readonly byRate: number
  readonly byCount: number
}

export interface Testability {
  /** Fraction of faults detected. */
  readonly detected: Share
  /** Fraction of the detected faults whose group holds at most 1, 2, 3 ... replaceable units; up to `most`. */
  readonly isolated: readonly Share[]
  /** By signature of the detected faults: the units of the group. */
  readonly groups: ReadonlyMap<string, readonly string[]>
  /** Units of the group, mean over the detected faults by rate. */
  readonly meanGroupSize: number
}

/**
 * Fraction of faults detected, and fraction of the detected faults isolated to L or fewer units. A group is all detected faults with one
 * signature.
 * Source: MIL-STD-2165 / MIL-HDBK-2165, IEEE Std 1522-2004; definitions from memory.  Checked by the worked example `testability-figures`.
 */
export function testability(faults: readonly SeenFault[], most = 3): Testability {
  const detected = faults.filter(({ isDetected }) => isDetected)
  const groups = new Map<string, string[]>()
  for (const { signature, unit } of detected) {
    const units = groups.get(signature) ?? []
    if (!units.includes(unit)) units.push(unit)
    groups.set(signature, units)
  }
  const sizeOf = ({ signature }: SeenFault) => groups.get(signature)?.length ?? 0
  const whole = rateOf(detected)
  return {
    detected: shareOf(detected, faults),
    isolated: Array.from({ length: most }, (_, i) =>
      shareOf(
        detected.filter((fault) => sizeOf(fault) <= i + 1),
        detected,
      ),
    ),
    groups,
    meanGroupSize: whole > 0 ? detected.reduce((sum, fault) => sum + fault.rate * sizeOf(fault), 0) / whole : 0,
  }
}

const rateOf = (faults: readonly SeenFault[]): number => faults.reduce((sum, { rate }) => sum + rate, 0)
const countOf = (faults: readonly SeenFault[]): number => faults.reduce((sum, { count = 1 }) => sum + count, 0)

const shareOf = (some: readonly SeenFault[], all: readonly SeenFault[]): Share => ({
  byRate: rateOf(all) > 0 ? rateOf(some) / rateOf(all) : 0,
  byCount: countOf(all) > 0 ? countOf(some) / countOf(all) : 0,
})
