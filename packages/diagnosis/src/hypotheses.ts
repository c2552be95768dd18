import { ASSUMPTIONS } from '@halfsplit/core'
import { type FaultMode, type SizedFault, sized, type Stretch, split, stretches } from './faults.js'

/** What may be the matter: no fault, one, or several at once. */
export interface Hypothesis {
  id: string
  faults: readonly FaultMode[]
  /** *Absent now*: the complaint was true, but the machine is sound while it is being tested. */
  absent: boolean
  /** Prior weight against a machine with nothing wrong (odds). */
  weight: number
}

/** A hypothesis at one stretch of each of its faults' sizes. */
export interface SizedHypothesis {
  hypothesis: number
  faults: readonly SizedFault[]
  stretches: readonly Stretch[]
  /** Share of the hypothesis' prior. */
  weight: number
}

export const NOTHING_WRONG = 'nothing wrong'
export const ABSENT_NOW = 'absent now'

export const nothingWrong = (): Hypothesis => ({ id: NOTHING_WRONG, faults: [], absent: false, weight: 1 })
export const absentNow = (): Hypothesis => ({ id: ABSENT_NOW, faults: [], absent: true, weight: ASSUMPTIONS.absentNow })

export function pairOf(one: Hypothesis, other: Hypothesis): Hypothesis {
  const [p, q] = one.id < other.id ? [one, other] : [other, one]
  return { id: `${p.id} & ${q.id}`, faults: [...p.faults, ...q.faults], absent: false, weight: p.weight * q.weight }
}

/** Chance that a fault of this rate is present, given the years it could have come in. */
export const presence = (ratePerYear: number, years: number): number => -Math.expm1(-ratePerYear * years)

/** Every combination of the stretches of a hypothesis' faults: `of` gives each fault's stretches with their shares. */
export function sizedHypotheses(
  hypothesis: number,
  faults: readonly FaultMode[],
  of: (fault: FaultMode) => readonly Stretch[] = (fault) => stretches(fault.severity),
): SizedHypothesis[] {
  let all: SizedHypothesis[] = [{ hypothesis, faults: [], stretches: [], weight: 1 }]
  for (const fault of faults) all = all.flatMap((one) => of(fault).map((stretch) => atStretch(one, fault, stretch)))
  return all
}

const atStretch = (one: SizedHypothesis, fault: FaultMode, stretch: Stretch): SizedHypothesis => ({
  hypothesis: one.hypothesis,
  faults: [...one.faults, sized(fault, stretch)],
  stretches: [...one.stretches, stretch],
  weight: one.weight * stretch.share,
})

/** Neighbouring stretches taken together until at most `most` are left. */
export function coarser(parts: readonly Stretch[], most: number): Stretch[] {
  const merge = Math.ceil(parts.length / most)
  const found: Stretch[] = []
  for (let i = 0; i < parts.length; i += merge) {
    const some = parts.slice(i, i + merge)
    const low = some[0].middle - some[0].width / 2
    const high = some[some.length - 1].middle + some[some.length - 1].width / 2
    found.push({ middle: (low + high) / 2, width: high - low, share: some.reduce((sum, one) => sum + one.share, 0) })
  }
  return found
}

/** The same hypothesis with every stretch of its sizes cut in three: learning a size more closely. */
export function refined(one: SizedHypothesis): SizedHypothesis[] {
  let all: SizedHypothesis[] = [
    { ...one, faults: [], stretches: [], weight: one.weight / one.stretches.reduce((product, s) => product * s.share, 1) },
  ]
  one.faults.forEach(({ fault }, k) => {
    const parts = fault.severity ? split(one.stretches[k], 3) : [one.stretches[k]]
    all = all.flatMap((half) => parts.map((stretch) => atStretch(half, fault, stretch)))
  })
  return all
}
