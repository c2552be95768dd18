import type { Belief } from '@halfsplit/inference'
import { stretches } from './faults.js'
import { type Hypothesis, refined, type SizedHypothesis } from './hypotheses.js'

/** Share of belief from which a hypothesis' sizes are worth a closer look. */
const REFINE_FROM = 0.004
const REFINE_PAIR_FROM = 0.02
/** Neighbouring stretches whose log likelihoods differ by more than this want a closer look. */
const REFINE_STEP = 1

/** Whether sizes next to this one have been left behind as hopeless: the likelihood falls steeply there. Sizes on a log scale join up. */
function besideGap({ faults, stretches: [own] }: SizedHypothesis, near: readonly SizedHypothesis[]): boolean {
  const [{ fault }] = faults
  if (faults.length > 1 || fault.severity?.scale !== 'log') return false
  const all = stretches(fault.severity)
  const ends = [own.middle - own.width / 2, own.middle + own.width / 2]
  const joined = [all[0], ...near.map((one) => one.stretches[0]), all[all.length - 1]].flatMap(({ middle, width }, k, list) =>
    k === 0 ? [middle - width / 2] : k === list.length - 1 ? [middle + width / 2] : [middle - width / 2, middle + width / 2],
  )
  return !ends.every((end) => joined.some((other) => Math.abs(end - other) < 1e-9))
}

/** Cuts the stretches that matter finer, where the likelihood changes much from one to the next. */
export function refine(
  hypotheses: readonly Hypothesis[],
  sized: readonly SizedHypothesis[],
  result: Belief,
): readonly SizedHypothesis[] {
  const cut = new Set<number>()
  const byHypothesis = new Map<number, number[]>()
  sized.forEach(({ hypothesis }, i) => byHypothesis.set(hypothesis, [...(byHypothesis.get(hypothesis) ?? []), i]))
  for (const [h, cells] of byHypothesis) {
    const worth = hypotheses[h].faults.length > 1 ? REFINE_PAIR_FROM : REFINE_FROM
    if (!(result.probability[h] > worth) || !hypotheses[h].faults.some((fault) => fault.severity)) continue
    const best = Math.max(...cells.map((i) => result.logLikelihood[i]))
    cells.forEach((i, k) => {
      const near = [cells[k - 1], cells[k + 1]].filter((j) => j !== undefined)
      const heavy = (j: number) => result.logLikelihood[j] > best - 6
      const steep =
        besideGap(
          sized[i],
          near.map((j) => sized[j]),
        ) || near.some((j) => Math.abs(result.logLikelihood[i] - result.logLikelihood[j]) > REFINE_STEP)
      if (steep && (heavy(i) || near.some(heavy))) cut.add(i)
    })
  }
  if (cut.size === 0) return sized
  return sized.flatMap((one, i) => (cut.has(i) ? refined(one) : [one]))
}
