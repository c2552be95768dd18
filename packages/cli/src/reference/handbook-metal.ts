import { convert, resistanceMethodConstant } from '@halfsplit/core'
import { inputIn, type Row } from './handbook-row.js'

/**
 * Constant of the resistance method of the row's metal [K]: from k, or from a coefficient and the temperature it is referred to
 * (said in the row's words, t1 if not said); undefined for copper, which is what the project assumes.
 */
export function methodConstant(row: Row, t1: number): number | undefined {
  const k = inputIn(row, 'k', 'K')
  if (k !== undefined) return k
  const references = { alpha0: 273.15, alpha20: 293.15, alpha: statedReference(row) ?? t1 }
  for (const [name, reference] of Object.entries(references)) {
    const alpha = inputIn(row, name, 'K-1')
    if (alpha !== undefined) return resistanceMethodConstant(alpha, reference)
  }
  return undefined
}

function statedReference(row: Row): number | undefined {
  const degrees = /referred to (-?\d+) Cel/.exec(row.what)?.[1]
  return degrees === undefined ? undefined : convert(Number(degrees), 'Cel', 'K')
}
