import { ASSUMPTIONS } from '@halfsplit/core'
import { type Belief, beliefWithout, type Cell, decide, type EvidenceRecord } from '@halfsplit/inference'
import { type RepairBelief, repairsOf } from './repair-belief.js'
import { LIMITS, type Standing } from './view.js'

/** What one record does to each repair: the change of its odds in decibans, and the verdict if the record were not there. */
export interface Contribution {
  group: string
  record: EvidenceRecord
  /** By repair: 10 log10 of odds with the record over odds without it. */
  decibans: ReadonlyMap<string, number>
  /** Likeliest repair without it. */
  without: RepairBelief | undefined
  /** The verdict hangs on it: take this one again. */
  decisive: boolean
}

/** Each record weighed by leaving it out: exact, one belief per record. */
export function contributions(standing: Standing): Contribution[] {
  const [top] = standing.repairs
  return standing.evidence.flatMap((group, g) =>
    group.records.map((record, r) => {
      const rest = repairsOf(standing.hypotheses, standingWithout(standing, g, r))
      const before = new Map(rest.map((one) => [one.repair, one.probability]))
      const decibans = new Map(
        standing.repairs.map(({ repair, probability }) => [repair, db(probability) - db(before.get(repair) ?? 0)]),
      )
      const [without] = rest
      return { group: group.id, record, decibans, without, decisive: without?.repair !== top?.repair }
    }),
  )
}

const SMALLEST = 1e-12
const db = (p: number): number => 10 * Math.log10(Math.max(p, SMALLEST) / Math.max(1 - p, SMALLEST))

/** Beliefs without one record, kept: the explanation asks for them more than once. */
const WITHOUT = new WeakMap<Standing, Map<string, Belief>>()

/** The belief as it would be without one record. */
export function standingWithout(standing: Standing, group: number, record: number): Belief {
  const known = WITHOUT.get(standing) ?? new Map<string, Belief>()
  WITHOUT.set(standing, known)
  const key = `${group} ${record}`
  const result = known.get(key) ?? without(standing, group, record)
  known.set(key, result)
  return result
}

function without({ sized, prior, evidence, predict, leftBehind }: Standing, group: number, record: number): Belief {
  const cells: Cell[] = sized.map(({ hypothesis, weight }) => ({ hypothesis, weight }))
  const options = { unknown: ASSUMPTIONS.notDescribed, leftBehind, limits: LIMITS }
  return beliefWithout(cells, prior, evidence, predict, { group, record }, options)
}

export interface Verdict {
  kind: 'repair' | 'test-on'
  repair: string | null
  probability: number
}

/** Repair when one repair covers the belief beyond the threshold (an assumption), else test on. */
export function verdict(standing: Standing): Verdict {
  const decision = decide(
    standing.repairs.map(({ repair, probability }) => ({ id: repair, probability })),
    ASSUMPTIONS.repairAt,
  )
  return { kind: decision.kind, repair: decision.id, probability: decision.probability }
}

/** What is known of a fault's size: the central 90 % of its belief [SI], open-ended where the described sizes end. */
export interface SizeStatement {
  low: number
  high: number
  /** The belief reaches the last size described: nothing says how much larger it may be. */
  openAbove: boolean
  openBelow: boolean
}

/** Size of the fault of a single-fault hypothesis after the evidence; undefined for a fault without a size. */
export function sizeOf(standing: Standing, hypothesisId: string): SizeStatement | undefined {
  const h = standing.hypotheses.findIndex((one) => one.id === hypothesisId)
  const severity = standing.hypotheses[h]?.faults[0]?.severity
  if (!severity || standing.hypotheses[h].faults.length !== 1) return undefined
  const parts = standing.sized
    .map((one, cell) => ({ one, probability: standing.belief.cellProbability[cell] }))
    .filter(({ one }) => one.hypothesis === h)
    .map(({ one, probability }) => ({ stretch: one.stretches[0], probability }))
    .sort((p, q) => p.stretch.middle - q.stretch.middle)
  const total = parts.reduce((sum, { probability }) => sum + probability, 0)
  if (!(total > 0)) return undefined
  const at = (share: number): number => {
    let sum = 0
    for (const { stretch, probability } of parts) {
      const next = sum + probability / total
      if (next >= share) return stretch.middle + stretch.width * ((share - sum) / (next - sum) - 0.5)
      sum = next
    }
    return parts[parts.length - 1].stretch.middle
  }
  const value = (x: number) => (severity.scale === 'log' ? Math.exp(x) : x)
  const first = parts[0]
  const last = parts[parts.length - 1]
  return {
    low: value(at(0.05)),
    high: value(at(0.95)),
    openBelow: first.probability / total > 0.05 && first.stretch.middle < at(0.5),
    openAbove: last.probability / total > 0.05,
  }
}
