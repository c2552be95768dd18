import { ASSUMPTIONS } from '@halfsplit/core'
import type { Step } from '../written/model.js'
import type { Condemned } from './findings.js'
import type { End } from './follow.js'

/** Whether a repair is what an end needed, mends only what the cause destroyed, or is made on a good part. */
export type Outcome = 'cured' | 'cause left' | 'good part'

/** What a repair does for the specimens of an end; undefined where the sheet makes none. */
export function outcomeOf({ conclusion, cell }: End): Outcome | undefined {
  if (conclusion.kind !== 'repair') return undefined
  const { repair } = conclusion
  if (cell.fault?.repair === repair) return 'cured'
  return cell.present.faults.some(({ fault }) => fault.repair === repair) ? 'cause left' : 'good part'
}

/** One way a sheet concludes on a repair: by an answer of a step. */
export interface RepairConclusion {
  step: Step
  passed: boolean
  repair: string
  /** Weight that ends here, and how much of it is cured, or left with its cause. */
  weight: number
  cured: number
  causeLeft: number
  /** What is needed where the part is good (undefined: nothing), heaviest first. */
  instead: readonly { repair: string | undefined; weight: number }[]
}

/** Every repair the sheet concludes on, by the answer that leads to it, in the order of the sheet. */
export function repairConclusions(steps: readonly Step[], ends: readonly End[]): RepairConclusion[] {
  return steps.flatMap((step) =>
    [true, false].flatMap((passed) => {
      const next = passed ? step.pass : step.fail
      if (next.kind !== 'repair') return []
      const here = ends.filter((end) => end.step === step && end.passed === passed)
      const weightOf = (outcome: Outcome) => sumOf(here.filter((end) => outcomeOf(end) === outcome))
      const instead = byRepair(here.filter((end) => outcomeOf(end) === 'good part'))
      return [
        {
          step,
          passed,
          repair: next.repair,
          weight: sumOf(here),
          cured: weightOf('cured'),
          causeLeft: weightOf('cause left'),
          instead,
        },
      ]
    }),
  )
}

function byRepair(ends: readonly End[]): { repair: string | undefined; weight: number }[] {
  const weights = new Map<string | undefined, number>()
  for (const { cell, weight } of ends) weights.set(cell.fault?.repair, (weights.get(cell.fault?.repair) ?? 0) + weight)
  return [...weights].map(([repair, weight]) => ({ repair, weight })).sort((p, q) => q.weight - p.weight)
}

const sumOf = (ends: readonly End[]): number => ends.reduce((sum, { weight }) => sum + weight, 0)

/** A repair to which fewer of all machines come is not judged: a handful of specimens says nothing. */
const TOO_RARE = 0.005

/**
 * Conclusions that too often fall on a good part.
 * @param all weight of all machines that were taken through the sheet and have a fault
 */
export function condemned(conclusions: readonly RepairConclusion[], all: number): Condemned[] {
  return conclusions.flatMap(({ step, passed, repair, weight, cured, causeLeft, instead }) => {
    const wrong = weight > 0 ? (weight - cured - causeLeft) / weight : 0
    if (weight < TOO_RARE * all || !(wrong > ASSUMPTIONS.auditCondemns)) return []
    const shares = instead.map((one) => ({ repair: one.repair, share: one.weight / weight }))
    return [{ kind: 'good part condemned', step, passed, repair, wrong, instead: shares }]
  })
}
