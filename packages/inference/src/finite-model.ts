/** Models with finite domains: parts tie variables together while they are sound; which sets of parts can be at fault? */

import { type Belief, belief } from './belief.js'
import { entropyBits, information } from './information.js'

/**
 * A tie between variables that depends on which of some parts are faulty. `weight` is 1 or 0 for allowed or not, or the probability
 * of the last variable given the others where probabilities are wanted; faulty flags stand in the order of `parts`.
 */
export interface Relation {
  readonly parts: readonly string[]
  readonly variables: readonly string[]
  readonly weight: (values: readonly number[], faulty: readonly boolean[]) => number
}

export interface FiniteModel {
  readonly parts: readonly { readonly name: string; readonly prior: number }[]
  readonly variables: readonly { readonly name: string; readonly domain: readonly number[] }[]
  readonly relations: readonly Relation[]
}

/** Values seen, by variable. */
export type Observed = Readonly<Record<string, number>>

/** Sets of parts are enumerated: beyond this the count of sets is past any use. */
const MOST_PARTS = 16

/** All sets of parts, smaller sets first, then in the order of the parts. */
function allSets(names: readonly string[]): string[][] {
  if (names.length > MOST_PARTS) throw new RangeError(`${names.length} parts: at most ${MOST_PARTS} can be enumerated`)
  const sets = Array.from({ length: 2 ** names.length }, (_, bits) => names.filter((_name, i) => (bits >> i) & 1))
  return sets.sort((a, b) => a.length - b.length || compareSets(names, a, b))
}

function compareSets(names: readonly string[], a: readonly string[], b: readonly string[]): number {
  for (let i = 0; i < a.length; i++) if (a[i] !== b[i]) return names.indexOf(a[i]) - names.indexOf(b[i])
  return 0
}

/** A relation bound to places of the variables, to be looked at once its last variable has a value. */
interface BoundRelation {
  readonly places: readonly number[]
  readonly weight: (values: readonly number[]) => number
}

function bind({ variables, relations }: FiniteModel, faults: ReadonlySet<string>): BoundRelation[][] {
  const place = new Map(variables.map(({ name }, i) => [name, i]))
  const byLast: BoundRelation[][] = variables.map(() => [])
  for (const relation of relations) {
    const places = relation.variables.map((name) => place.get(name) ?? -1)
    if (places.includes(-1)) throw new RangeError(`a relation of ${relation.parts.join(', ')} names an unknown variable`)
    const faulty = relation.parts.map((part) => faults.has(part))
    byLast[Math.max(...places)].push({ places, weight: (values) => relation.weight(values, faulty) })
  }
  return byLast
}

/**
 * Total weight of all assignments that agree with what was seen, by the value of one variable if named (else under key 0): depth
 * first over the variables in their order, cut off as soon as a relation forbids.
 */
function weights(model: FiniteModel, faults: readonly string[], observed: Observed, by?: string): Map<number, number> {
  const relations = bind(model, new Set(faults))
  const asked = model.variables.findIndex(({ name }) => name === by)
  const values: number[] = []
  const totals = new Map<number, number>()
  const visit = (v: number, weight: number): void => {
    if (weight === 0) return
    if (v === model.variables.length) {
      const key = asked < 0 ? 0 : values[asked]
      totals.set(key, (totals.get(key) ?? 0) + weight)
      return
    }
    const { name, domain } = model.variables[v]
    for (const value of name in observed ? [observed[name]] : domain) {
      values[v] = value
      visit(
        v + 1,
        relations[v].reduce((w, { places, weight: f }) => w * f(places.map((p) => values[p])), weight),
      )
    }
  }
  visit(0, 1)
  return totals
}

function isConsistent(model: FiniteModel, faults: readonly string[], observed: Observed): boolean {
  return weights(model, faults, observed).size > 0
}

const within = (small: readonly string[], large: readonly string[]): boolean => small.every((name) => large.includes(name))

function minimal(sets: readonly string[][], holds: (set: readonly string[]) => boolean): string[][] {
  const found: string[][] = []
  for (const set of sets) if (!found.some((smaller) => within(smaller, set)) && holds(set)) found.push(set)
  return found
}

/** All sets of parts that, faulty with all others sound, agree with what was seen; smaller sets first. Cost: 2^parts. */
export function diagnoses(model: FiniteModel, observed: Observed): string[][] {
  return allSets(model.parts.map(({ name }) => name)).filter((set) => isConsistent(model, set, observed))
}

/** The diagnoses of which no part may be left out.  Source: R. Reiter 1987, J. de Kleer & B. C. Williams 1987, from memory.  Checked in the worked examples. */
export function minimalDiagnoses(model: FiniteModel, observed: Observed): string[][] {
  return minimal(allSets(model.parts.map(({ name }) => name)), (set) => isConsistent(model, set, observed))
}

/** Sets of parts that can't all be sound, of which no part may be left out. Presumes that a faulty part may do anything. */
export function minimalConflicts(model: FiniteModel, observed: Observed): string[][] {
  const names = model.parts.map(({ name }) => name)
  const others = (set: readonly string[]) => names.filter((name) => !set.includes(name))
  return minimal(allSets(names), (set) => !isConsistent(model, others(set), observed))
}

/** Belief over all sets of faulty parts. */
export interface FiniteBelief {
  readonly sets: readonly (readonly string[])[]
  readonly belief: Belief
}

/**
 * Belief over all sets of faulty parts, parts faulty independently with their priors, given what was seen.
 * Relations must carry probabilities. Cost: 2^parts times the assignments of the free variables.
 */
export function finiteBelief(model: FiniteModel, observed: Observed): FiniteBelief {
  const sets = allSets(model.parts.map(({ name }) => name))
  const prior = sets.map((set) =>
    model.parts.reduce((product, { name, prior: p }) => product * (set.includes(name) ? p : 1 - p), 1),
  )
  const seen = sets.map((set) => weights(model, set, observed).get(0) ?? 0)
  const record = { id: 'seen', outcome: { kind: 'word', word: 0, words: 2 } as const, error: 0 }
  const cells = sets.map((_, hypothesis) => ({ hypothesis, weight: 1 }))
  const predict = (cell: number) => [
    { conditions: [], predictions: [{ kind: 'words' as const, probabilities: [seen[cell], 1 - seen[cell]] }] },
  ]
  return { sets, belief: belief(cells, prior, [{ id: 'all', records: [record] }], predict) }
}

/** Probability that each part is at fault. */
export function partProbability({ parts }: FiniteModel, { sets, belief: b }: FiniteBelief): Record<string, number> {
  return Object.fromEntries(
    parts.map(({ name }) => [name, sets.reduce((sum, set, s) => sum + (set.includes(name) ? b.probability[s] : 0), 0)]),
  )
}

/** Distribution of a variable under each set of faulty parts, given what was seen. */
function conditionals(model: FiniteModel, observed: Observed, { sets, belief: b }: FiniteBelief, variable: string) {
  const domain = model.variables.find(({ name }) => name === variable)?.domain ?? []
  return sets.map((set, s) => {
    if (b.probability[s] === 0) return { probability: 0, words: domain.map(() => 0) }
    const totals = weights(model, set, observed, variable)
    const total = domain.reduce((sum, value) => sum + (totals.get(value) ?? 0), 0)
    return { probability: b.probability[s], words: domain.map((value) => (totals.get(value) ?? 0) / total) }
  })
}

/** Distribution of a variable that was not seen, by value; values that can't be are left out. */
export function variableMarginal(
  model: FiniteModel,
  observed: Observed,
  known: FiniteBelief,
  variable: string,
): Map<number, number> {
  const domain = model.variables.find(({ name }) => name === variable)?.domain ?? []
  const rows = conditionals(model, observed, known, variable)
  const marginal = domain.map((value, i): [number, number] => [
    value,
    rows.reduce((sum, row) => sum + row.probability * row.words[i], 0),
  ])
  return new Map(marginal.filter(([, p]) => p > 0))
}

/** Entropy of the fault sets now, and the expected entropy once a variable is measured without error [bit]. */
export function measuringEntropy(model: FiniteModel, observed: Observed, known: FiniteBelief, variable: string) {
  const rows = conditionals(model, observed, known, variable)
  const now = entropyBits(known.belief.probability)
  const classes = rows.map(({ probability, words }) => ({ probability, predictive: { normals: [], uniforms: [], words } }))
  const bits = information(classes)
  return { now, information: bits, expected: Math.max(now - bits, 0) }
}
