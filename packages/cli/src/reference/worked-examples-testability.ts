/** Worked examples of testability: fractions detected and isolated, from a matrix of tests. */

import { testability } from '@halfsplit/inference'
import type { Answers, WorkedExample } from './worked-examples-case.js'

interface Inputs {
  faults: { name: string; ratePerMillionHours: number; unit: string; signature: string }[]
}

export function testabilityExample({ inputs }: WorkedExample): Answers {
  const { faults } = inputs as Inputs
  if (!Array.isArray(faults)) return 'no faults'
  const { detected, isolated, groups, meanGroupSize } = testability(
    faults.map(({ ratePerMillionHours, unit, signature }) => ({
      rate: ratePerMillionHours,
      unit,
      signature,
      isDetected: signature.includes('1'),
    })),
  )
  return {
    fractionDetectedByRate: detected.byRate,
    fractionDetectedByCount: detected.byCount,
    groupSizesInUnits: Object.fromEntries([...groups].map(([signature, units]) => [signature, units.length])),
    fractionIsolatedToAtMostLUnitsByRate: Object.fromEntries(isolated.map(({ byRate }, i) => [String(i + 1), byRate])),
    meanGroupSizeByRate: meanGroupSize,
  }
}
