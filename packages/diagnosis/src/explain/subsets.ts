import { ASSUMPTIONS } from '@halfsplit/core'
import { type Belief, belief, type Branch, type GroupEvidence, strayChance } from '@halfsplit/inference'
import { repairsOf } from '../repair-belief.js'
import { LIMITS, type Standing } from '../view.js'
import { complaintGroups, type Place } from './place.js'

/** Sized hypotheses believed less than this, both after the complaint alone and after all readings, are not followed here. */
const LEAST_CELL = 1e-6

/** Belief in each repair as it would be had only some of the readings been taken; the complaint always counts. */
export class Subsets {
  private readonly known = new Map<string, ReadonlyMap<string, number>>()
  private readonly branches = new Map<string, readonly Branch[]>()
  private readonly first: number
  private readonly kept: readonly number[]
  private readonly prior: readonly number[]

  constructor(private readonly standing: Standing) {
    this.first = complaintGroups(standing)
    const all = standing.sized.map((_, cell) => cell)
    const { cellProbability: alone } = this.believe(all, standing.prior, [])
    const { cellProbability: after } = standing.belief
    this.kept = all.filter((cell) => alone[cell] >= LEAST_CELL || after[cell] >= LEAST_CELL)
    this.prior = priorKept(standing, this.kept)
  }

  /** Subsets weighed so far: each costs one belief. */
  get weighed(): number {
    return this.known.size
  }

  /** Probability of each repair after the complaint and these readings alone. */
  repairsAfter(places: readonly Place[]): ReadonlyMap<string, number> {
    const key = places
      .map(({ group, record }) => `${group}.${record}`)
      .sort()
      .join(' ')
    const known = this.known.get(key)
    if (known) return known
    const { hypotheses } = this.standing
    const result = this.believe(this.kept, this.prior, places)
    const found = new Map(repairsOf(hypotheses, result).map(({ repair, probability }) => [repair, probability]))
    this.known.set(key, found)
    return found
  }

  private believe(kept: readonly number[], prior: readonly number[], places: readonly Place[]): Belief {
    const { sized, evidence, leftBehind } = this.standing
    const chosen = evidence.map(({ records }, group) =>
      records.flatMap((_, i) => (group < this.first || places.some((p) => p.group === group && p.record === i) ? [i] : [])),
    )
    const groups = chosen.flatMap((some, group) => (some.length > 0 ? [group] : []))
    const rest: GroupEvidence[] = groups.map((group) => ({
      id: evidence[group].id,
      records: chosen[group].map((i) => evidence[group].records[i]),
    }))
    const dropped = evidence.flatMap(({ records }, group) => records.filter((_, i) => !chosen[group].includes(i)))
    const oddLog = dropped.reduce((log, record) => log - Math.log(strayChance(record)), leftBehind.oddLog)
    return belief(
      kept.map((cell) => ({ hypothesis: sized[cell].hypothesis, weight: sized[cell].weight })),
      prior,
      rest,
      (cell, g) => chosenOf(this.predict(kept[cell], groups[g]), chosen[groups[g]]),
      { unknown: ASSUMPTIONS.notDescribed, leftBehind: { ...leftBehind, oddLog }, limits: LIMITS },
    )
  }

  private predict(cell: number, group: number): readonly Branch[] {
    const key = `${cell} ${group}`
    let known = this.branches.get(key)
    if (!known) {
      known = this.standing.predict(cell, group)
      this.branches.set(key, known)
    }
    return known
  }
}

const chosenOf = (branches: readonly Branch[], chosen: readonly number[]): Branch[] =>
  branches.map((branch) => ({ ...branch, predictions: chosen.map((i) => branch.predictions[i]) }))

/** Prior of each hypothesis, less the share of its sizes that are not followed. */
function priorKept({ sized, prior }: Standing, kept: readonly number[]): number[] {
  const whole = new Float64Array(prior.length)
  const part = new Float64Array(prior.length)
  for (const { hypothesis, weight } of sized) whole[hypothesis] += weight
  for (const cell of kept) part[sized[cell].hypothesis] += sized[cell].weight
  return prior.map((weight, h) => (whole[h] > 0 ? (weight * part[h]) / whole[h] : 0))
}
