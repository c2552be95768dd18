import { type Dimension, parseQuantity } from '@halfsplit/core'
import type { Branch, Tree } from './tree.js'

/** Dimensions whose scale or system of units is a matter of where one learnt the trade; of the others the size decides. */
const BY_HABIT = ['temperature', 'absolutePressure', 'angularSpeed', 'massFlow', 'volumeFlow', 'torque'] as const

/** A value as a description has it: a number, its unit, and a tolerance or nothing. */
const VALUE = /^(?:<=|>=|≤|≥|at most|at least)?\s*[+-]?(?:\d+\.?\d*|\.\d+)\s*([^\s\d.,+-][^\s+±]*)\s*(?:abs\b|\+-|±|\.\.|\(|$)/

/** The unit in which most values of a description are given, by dimension; the first one used where two are used as often. */
export function unitsUsed(description: Branch): Map<Dimension, string> {
  const counts = new Map<string, number>()
  for (const text of textsIn(description)) {
    const unit = VALUE.exec(text)?.[1]
    if (unit !== undefined) counts.set(unit, (counts.get(unit) ?? 0) + 1)
  }
  const used = new Map<Dimension, string>()
  for (const [unit, count] of counts) {
    // Kelvin is what tolerances and differences are given in.
    const dimension = unit === 'K' ? undefined : BY_HABIT.find((one) => parseQuantity(`1 ${unit}`, one).ok)
    const other = dimension && used.get(dimension)
    if (dimension && count > (other === undefined ? 0 : (counts.get(other) as number))) used.set(dimension, unit)
  }
  return used
}

function textsIn(tree: Tree): string[] {
  if (tree.type === 'text') return [tree.text.trim()]
  return (tree.type === 'list' ? tree.items : tree.entries.map((entry) => entry.value)).flatMap(textsIn)
}
