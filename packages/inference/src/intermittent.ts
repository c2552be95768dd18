/** A part that misbehaves only now and then: what good looks at it are worth. */

import { type Belief, belief } from './belief.js'

/** A suspect that misbehaves with probability `shows` at each look (1: always), and whether a look can see it at all. */
export interface IntermittentSuspect {
  readonly id: string
  readonly prior: number
  readonly shows: number
  readonly seenByLook: boolean
}

/**
 * Belief over suspects, exactly one at fault, after the complaint was seen once and so many looks found nothing wrong.
 * Model: an intermittent part misbehaves with a given probability at each look, independently (J. de Kleer, IJCAI 2009, from memory).
 * Checked in the worked examples.
 */
export function intermittentBelief(suspects: readonly IntermittentSuspect[], goodLooks: number): Belief {
  const record = (id: string) => ({ id, records: [{ id, outcome: { kind: 'word' as const, word: 0, words: 2 }, error: 0 }] })
  const evidence = [record('complaint'), ...Array.from({ length: goodLooks }, (_, look) => record(`look ${look}`))]
  const words = (p: number) => [{ conditions: [], predictions: [{ kind: 'words' as const, probabilities: [p, 1 - p] }] }]
  const cells = suspects.map((_, hypothesis) => ({ hypothesis, weight: 1 }))
  return belief(
    cells,
    suspects.map(({ prior }) => prior),
    evidence,
    (cell, group) => {
      const { shows, seenByLook } = suspects[cell]
      return words(group === 0 ? shows : seenByLook ? 1 - shows : 1)
    },
  )
}

/**
 * Number of good looks after which a fault that shows with probability `shows` at each look would have stayed hidden with
 * probability `risk` or less: smallest n with (1 - shows)^n <= risk.
 * @param shows above 0, at most 1   @param risk above 0, below 1
 */
export function looksNeeded(shows: number, risk: number): number {
  if (!(shows > 0)) return Number.POSITIVE_INFINITY
  let hidden = 1
  let looks = 0
  while (hidden > risk) {
    hidden *= 1 - shows
    looks++
  }
  return looks
}
