import type { DecisionTable, Test } from '@halfsplit/diagnosis'

/** How surely a test tells two suspects apart: half the sum of the differences of their chances (total variation), 0 to 1. */
export function apart({ task }: DecisionTable, test: number, one: number, other: number): number {
  const { outcomes, chances } = task.tests[test]
  let sum = 0
  for (let o = 0; o < outcomes; o++) sum += Math.abs(chances[one * outcomes + o] - chances[other * outcomes + o])
  return sum / 2
}

/** The surest of all tests for two suspects. */
export function surest(table: DecisionTable, one: number, other: number): number {
  let most = 0
  for (let t = 0; t < table.task.tests.length; t++) most = Math.max(most, apart(table, t, one, other))
  return most
}

/** A pair counts as told apart from here on: a slip of the observer in twenty, on either side. */
const TOLD = 0.85

/**
 * Tests that a plan is made of: those that tell most about the repairs for their minutes, then those that tell apart what no test so far
 * does, heaviest pairs first.
 */
export function chooseTests(table: DecisionTable, most: number): Test[] {
  const { task, suspects } = table
  const worth = task.tests.map((_, t) => worthOf(table, t))
  const byWorth = task.tests.map((_, t) => t).sort((a, b) => worth[b] - worth[a] || a - b)
  const chosen = new Set(byWorth.slice(0, Math.ceil(most / 2)))
  const pairs = suspects.flatMap((one, i) =>
    suspects.slice(i + 1).flatMap((other, k) => {
      const same = one.repairs.join() === other.repairs.join()
      return same ? [] : [{ one: i, other: i + 1 + k, weight: Math.min(one.probability, other.probability) }]
    }),
  )
  pairs.sort((p, q) => q.weight - p.weight || p.one - q.one || p.other - q.other)
  for (const { one, other } of pairs) {
    if (chosen.size >= most) break
    if ([...chosen].some((t) => apart(table, t, one, other) >= TOLD)) continue
    const best = byWorth.reduce((top, t) => (apart(table, t, one, other) > apart(table, top, one, other) + 0.01 ? t : top))
    chosen.add(best)
  }
  return [...chosen].sort((a, b) => a - b).map((t) => table.tests[t].test)
}

/** Information about the repair per minute from the start [bit/min]. */
function worthOf({ task, suspects }: DecisionTable, test: number): number {
  const { outcomes, chances, state, place, time } = task.tests[test]
  const minutes = task.changes[task.start.state][state] + task.ways[task.start.place][place] + time
  const labels = [...new Set(suspects.map(({ repairs }) => repairs.join()))]
  const total = suspects.reduce((sum, { probability }) => sum + probability, 0)
  let bits = 0
  for (let o = 0; o < outcomes; o++) {
    const byLabel = labels.map((label) =>
      suspects.reduce(
        (sum, { repairs, probability }, s) =>
          repairs.join() === label ? sum + (probability / total) * chances[s * outcomes + o] : sum,
        0,
      ),
    )
    const whole = byLabel.reduce((sum, one) => sum + one, 0)
    for (const one of byLabel) if (one > 0) bits += one * Math.log2(one / whole)
  }
  return (bits - entropyOf(labels, suspects, total)) / Math.max(minutes, 0.1)
}

const entropyOf = (labels: readonly string[], suspects: DecisionTable['suspects'], total: number): number =>
  labels.reduce((sum, label) => {
    const share = suspects.reduce(
      (all, { repairs, probability }) => (repairs.join() === label ? all + probability / total : all),
      0,
    )
    return share > 0 ? sum + share * Math.log2(share) : sum
  }, 0)
