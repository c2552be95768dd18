import { ASSUMPTIONS } from '@halfsplit/core'
import type { FaultMode } from './faults.js'
import { type Hypothesis, presence, type SizedHypothesis, sizedHypotheses } from './hypotheses.js'
import type { Notice } from './notice.js'

/** A fault alone: all its sizes, and those an operator would notice. */
export interface Single {
  hypothesis: Hypothesis
  sized: SizedHypothesis[]
  seen: SizedHypothesis[]
}

/** A single fault's prior by size: what would have been noticed has had a month to come, what hides has had two years. */
export function single(fault: FaultMode, notice: Notice): Single {
  const cells = sizedHypotheses(0, [fault])
  const noticed = noticedSizes(cells, fault, notice)
  const sized = cells.map((one, i) => {
    const years = noticed[i] ? ASSUMPTIONS.noticedExposure : ASSUMPTIONS.hiddenExposure
    return { ...one, weight: presence(fault.rate * one.weight, years) }
  })
  const chance = sized.reduce((sum, one) => sum + one.weight, 0)
  const weight = chance / (1 - Math.min(chance, 0.5))
  const seen = sized.filter((_, i) => noticed[i])
  return { hypothesis: { id: fault.id, faults: [fault], absent: false, weight }, sized, seen }
}

/** The same fault, its odds against a sound machine so many times as high. */
export function timesPrior(one: Single, factor: number): Single {
  if (factor === 1) return one
  const { hypothesis, seen } = one
  return {
    ...one,
    hypothesis: { ...hypothesis, weight: hypothesis.weight * factor },
    seen: seen.map((cell) => ({ ...cell, weight: cell.weight * factor })),
  }
}

/** Which sizes would be noticed. On a log scale a worse size shows no less, so the first that shows is found by halving. */
function noticedSizes(cells: readonly SizedHypothesis[], fault: FaultMode, notice: Notice): boolean[] {
  const shows = (i: number) => notice.noticed(cells[i].faults)
  if (fault.severity?.scale !== 'log') return cells.map((_, i) => shows(i))
  const last = cells.length - 1
  const [atFirst, atLast] = [shows(0), shows(last)]
  if (atFirst === atLast) return cells.map(() => atFirst)
  let low = 0
  let high = last
  while (high - low > 1) {
    const middle = (low + high) >> 1
    if (shows(middle) === atFirst) low = middle
    else high = middle
  }
  return cells.map((_, i) => (i <= low ? atFirst : atLast))
}
