import { ASSUMPTIONS } from '@halfsplit/core'
import { belief } from '@halfsplit/inference'
import type { Standing } from './view.js'

/** Repairs that the readings taken do not tell apart. */
export interface RepairGroup {
  /** Likeliest first. */
  repairs: readonly string[]
  /** Probability that at least one of them is needed. */
  probability: number
  /** Largest difference between two of them in how well their best fitting fault explains the readings taken [deciban]. */
  decibansApart: number
}

/** Repairs apart by less than this on the readings taken are one group [deciban]. */
const ONE_GROUP = 1
/** Repairs believed less than this stand in no group. */
const LEAST_BELIEF = 0.01
const DECIBANS_PER_NEPER = 10 / Math.LN10

/**
 * How well each repair's best fitting single fault, at its best fitting size, explains the readings and looks taken [deciban, up to
 * a constant]. Priors and the complaint are left out: what remains between two repairs is what the readings say.
 */
export function readingSupport(standing: Standing): Map<string, number> {
  const { hypotheses, sized, evidence, prior, predict } = standing
  // The complaint stands first, one group however many looks it ties together.
  const complaint = evidence.length - standing.groups.length
  const cells = sized.map(({ hypothesis, weight }) => ({ hypothesis, weight }))
  const { logLikelihood } = belief(cells, prior, evidence.slice(complaint), (cell, group) => predict(cell, group + complaint))
  const best = new Map<string, number>()
  sized.forEach(({ hypothesis }, cell) => {
    const { faults } = hypotheses[hypothesis]
    if (faults.length !== 1) return
    const { repair } = faults[0]
    best.set(repair, Math.max(best.get(repair) ?? Number.NEGATIVE_INFINITY, logLikelihood[cell] * DECIBANS_PER_NEPER))
  })
  return best
}

/**
 * Groups of repairs that the readings taken do not tell apart: within a group any two differ by less than one deciban. Every repair
 * believed at 1 in 100 or more stands in one group; groups with the likeliest repair first.
 */
export function repairGroups(standing: Standing): RepairGroup[] {
  const support = readingSupport(standing)
  const left = standing.repairs.filter(({ probability }) => probability >= LEAST_BELIEF).map(({ repair }) => repair)
  const groups: RepairGroup[] = []
  while (left.length > 0) {
    const members = [left.shift() as string]
    for (const repair of [...left]) {
      if (!(apart([...members, repair], support) < ONE_GROUP)) continue
      members.push(repair)
      left.splice(left.indexOf(repair), 1)
    }
    groups.push(groupOf(standing, members, support))
  }
  return groups
}

/** The fewest of the likeliest repairs that together reach the belief at which a repair is proposed, or all that are believed at all. */
export function leadingRepairs(standing: Standing): RepairGroup {
  const support = readingSupport(standing)
  const members: string[] = []
  for (const { repair, probability } of standing.repairs) {
    if (coverOf(standing, members) >= ASSUMPTIONS.repairAt || probability < LEAST_BELIEF) break
    members.push(repair)
  }
  return groupOf(standing, members, support)
}

const groupOf = (standing: Standing, repairs: string[], support: ReadonlyMap<string, number>): RepairGroup => ({
  repairs,
  probability: coverOf(standing, repairs),
  decibansApart: apart(repairs, support),
})

/** Probability that at least one of the repairs is needed. */
function coverOf({ hypotheses, belief: { probability } }: Standing, repairs: readonly string[]): number {
  return hypotheses.reduce(
    (sum, { faults }, h) => (faults.some(({ repair }) => repairs.includes(repair)) ? sum + probability[h] : sum),
    0,
  )
}

function apart(repairs: readonly string[], support: ReadonlyMap<string, number>): number {
  if (repairs.length < 2) return 0
  const values = repairs.map((repair) => support.get(repair) ?? Number.NEGATIVE_INFINITY)
  const difference = Math.max(...values) - Math.min(...values)
  return Number.isNaN(difference) ? 0 : difference
}
