import type { Belief } from '@halfsplit/inference'
import type { Hypothesis } from './hypotheses.js'

export interface RepairBelief {
  repair: string
  probability: number
  /** The hypotheses behind it, likeliest first. */
  hypotheses: readonly { id: string; probability: number }[]
}

/** Each repair's probability of being among those needed; pairs count for both of theirs. */
export function repairsOf(hypotheses: readonly Hypothesis[], result: Belief): RepairBelief[] {
  const found = new Map<string, { probability: number; hypotheses: { id: string; probability: number }[] }>()
  hypotheses.forEach(({ id, faults }, h) => {
    for (const repair of new Set(faults.map((fault) => fault.repair))) {
      const entry = found.get(repair) ?? { probability: 0, hypotheses: [] }
      entry.probability += result.probability[h]
      entry.hypotheses.push({ id, probability: result.probability[h] })
      found.set(repair, entry)
    }
  })
  return [...found]
    .map(([repair, entry]) => ({
      repair,
      probability: entry.probability,
      hypotheses: entry.hypotheses.sort((a, b) => b.probability - a.probability || (a.id < b.id ? -1 : 1)),
    }))
    .sort((a, b) => b.probability - a.probability || (a.repair < b.repair ? -1 : 1))
}
