/** Worked examples of meter accuracy: percent of the reading plus counts. */

import { accuracyLimit } from '@halfsplit/core'
import { rectangular } from '@halfsplit/measurement'
import type { Answers, WorkedExample } from './worked-examples-case.js'

interface MeterInput {
  percent: number
  counts: number
  resolution: number
  reading: number
}

/** Every quantity these examples ask for. */
export function meterExample({ inputs }: WorkedExample): Answers {
  const rows = inputs as MeterInput[]
  if (
    !Array.isArray(rows) ||
    !rows.every(({ percent, counts, resolution }) => [percent, counts, resolution].every(Number.isFinite))
  ) {
    return 'no list of meter readings with percent, counts and resolution'
  }
  const limits = rows.map(({ reading, ...accuracy }) => accuracyLimit({ ...accuracy, top: reading }, reading))
  return { limits, standardUncertaintyIfRectangular: limits.map(rectangular) }
}
