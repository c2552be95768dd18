import { convert, STANDARD_ATMOSPHERE, parseQuantity } from '@halfsplit/core'
import type { Answer, Topic } from './handbook-row.js'
import { hasInputs } from './handbook-row.js'

/** Topic 16: one number, to be had in the unit of every expected name; or a vacuum as absolute pressure. */
export const units: Topic = (row) => {
  if (hasInputs(row, 'pAtm', 'vac')) return vacuum(row)
  const x = row.input?.x
  if (!hasInputs(row, 'x') || typeof x !== 'object') return { cannot: 'no conversion of one number' }
  const answers: Record<string, Answer> = {}
  for (const [name, expected] of Object.entries(row.expected)) {
    if (typeof expected === 'object') answers[name] = { value: convert(x.value, x.unit, expected.unit), unit: expected.unit }
  }
  return answers
}

/** A vacuum is a negative gauge pressure; the project counts those from the standard atmosphere. */
function vacuum(row: Parameters<Topic>[0]): ReturnType<Topic> {
  const { vac, pAtm } = row.input ?? {}
  if (typeof vac !== 'object' || typeof pAtm !== 'object') return { cannot: 'no numbers' }
  if (convert(pAtm.value, pAtm.unit, 'Pa') !== STANDARD_ATMOSPHERE)
    return { cannot: 'gauge pressure counts from the standard atmosphere' }
  const absolute = parseQuantity(`-${vac.value} ${vac.unit}`, 'absolutePressure')
  return absolute.ok ? { pAbs: { value: absolute.value.value, unit: 'Pa' } } : { cannot: absolute.message }
}
