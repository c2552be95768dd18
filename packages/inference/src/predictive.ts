/** What the next reading will show, under one cell and given all that was read before. */

import { conditionsOf, hold } from './conditions.js'
import type { Branch, Prediction } from './evidence.js'
import { logSum } from './interval.js'
import { ownProduct, project, spreadOf } from './knowledge.js'
import { type CellState, openBranches } from './likelihood.js'
import type { Path } from './paths.js'

/** Normal part of a mixture; mean and standard deviation in the unit of the reading, weight 0 to 1. */
export interface NormalPart {
  readonly weight: number
  readonly mean: number
  readonly sd: number
}

/** Uniform part of a mixture, over `low..high` in the unit of the reading, weight 0 to 1. */
export interface UniformPart {
  readonly weight: number
  readonly low: number
  readonly high: number
}

/** Distribution of one planned reading: all weights and word probabilities together sum to one. */
export interface Predictive {
  readonly normals: readonly NormalPart[]
  readonly uniforms: readonly UniformPart[]
  readonly words: readonly number[]
}

/** Paths and branches below this share change no expected band and no information worth a minute. */
const SMALL_SHARE = 1e-4

interface WeightedPath {
  readonly path: Path
  readonly share: number
}

function heavyPaths({ paths }: CellState, smallest: number): WeightedPath[] {
  const whole = logSum(paths.map(({ log }) => log))
  const kept = paths.map((path) => ({ path, share: Math.exp(path.log - whole) })).filter(({ share }) => share >= smallest)
  const total = kept.reduce((sum, { share }) => sum + share, 0)
  return kept.map(({ path, share }) => ({ path, share: share / total }))
}

/** Each branch as seen from each path, with what its conditions teach. */
function heavyBranches(state: CellState, branches: readonly Branch[], smallest: number): SeenBranch[] {
  const conditions = branches.map((branch) => ({ conditions: conditionsOf(state.rows, branch.conditions) }))
  return heavyPaths(state, smallest).flatMap(({ path, share }) => {
    const open = openBranches(state.rows, path, conditions)
    const total = logSum(open.map(({ log }) => log))
    return open
      .map((one, b) => ({ open: one.open, b, share: share * Math.exp(one.log - total) }))
      .filter((seen) => seen.share >= smallest)
      .map((seen) => ({
        share: seen.share,
        branch: branches[seen.b],
        known: hold(state.rows, path.known, [...path.held, ...seen.open]).known,
      }))
  })
}

/**
 * The distribution of each reading of a planned group, under one cell, given the evidence so far.
 * @param state of the cell, from `belief`   @param branches what the cell predicts for the group   @param smallest share below which a path or branch is left out
 * @returns one distribution for each prediction of the group; display rounding and misreads not included (see `withMisread`, `Display`)
 * An impossible cell (no path left) gives empty distributions.
 */
export function predictive(state: CellState, branches: readonly Branch[], smallest = SMALL_SHARE): Predictive[] {
  const known = state.rows.size
  const seen = heavyBranches(state, branches, smallest)
  const parts = readings(state, branches, seen)
  state.rows.shrinkTo(known)
  return parts
}

interface SeenBranch {
  readonly share: number
  readonly branch: Branch
  readonly known: Path['known']
}

function readings(state: CellState, branches: readonly Branch[], seen: readonly SeenBranch[]): Predictive[] {
  const total = seen.reduce((sum, { share }) => sum + share, 0)
  return (branches[0]?.predictions ?? []).map((_, r) => {
    const mixture = { normals: [] as NormalPart[], uniforms: [] as UniformPart[], words: [] as number[] }
    for (const branch of branches) {
      const paths = seen.filter((s) => s.branch === branch)
      addReading(mixture, state, branch.predictions[r], paths, total)
    }
    return mixture
  })
}

function addReading(
  { normals, uniforms, words }: { normals: NormalPart[]; uniforms: UniformPart[]; words: number[] },
  state: CellState,
  prediction: Prediction,
  paths: readonly SeenBranch[],
  total: number,
): void {
  const weight = paths.reduce((sum, { share }) => sum + share, 0) / total
  if (prediction.kind === 'words') return addWords(words, prediction.probabilities, weight)
  const { broad, sensitivities, mean, freshSd } = prediction
  const own = ownProduct(sensitivities)
  const products = state.rows.against(sensitivities)
  for (const { share, known } of paths) {
    const { shift, variance } = project(known, own, products)
    const sd = Math.sqrt(spreadOf(mean, variance + freshSd * freshSd))
    normals.push({ weight: (share / total) * (1 - (broad?.weight ?? 0)), mean: mean + shift, sd })
  }
  if (broad && weight > 0) uniforms.push({ ...broad, weight: weight * broad.weight })
}

function addWords(words: number[], probabilities: ArrayLike<number>, weight: number): void {
  for (let w = 0; w < probabilities.length; w++) words[w] = (words[w] ?? 0) + weight * probabilities[w]
}

/** Mixture of distributions of one planned reading, as over the cells of one class; weights are normalised. */
export function mix(parts: readonly { readonly weight: number; readonly predictive: Predictive }[]): Predictive {
  const total = parts.reduce((sum, { weight }) => sum + weight, 0)
  const scaled = <T extends { readonly weight: number }>(share: number, list: readonly T[]) =>
    list.map((part) => ({ ...part, weight: share * part.weight }))
  const words: number[] = []
  for (const { weight, predictive: p } of parts) addWords(words, p.words, weight / total)
  return {
    normals: parts.flatMap(({ weight, predictive: p }) => scaled(weight / total, p.normals)),
    uniforms: parts.flatMap(({ weight, predictive: p }) => scaled(weight / total, p.uniforms)),
    words,
  }
}

/**
 * The distribution of what will be written down, where a record is wrong with probability `error`: a wrong number is uniform over
 * `range`, a wrong word equally any other, (1-e) P + e (1-P)/(k-1).
 */
export function withMisread(p: Predictive, error: number, range?: { readonly low: number; readonly high: number }): Predictive {
  if (error === 0) return p
  const numbers = p.normals.reduce((sum, { weight }) => sum + weight, 0) + p.uniforms.reduce((sum, { weight }) => sum + weight, 0)
  if (numbers > 0 && range === undefined) throw new RangeError('a reading that may be wrong needs a range for a wrong number')
  const good = 1 - error
  const scaled = <T extends { readonly weight: number }>(list: readonly T[]) =>
    list.map((part) => ({ ...part, weight: good * part.weight }))
  const wrong = numbers > 0 && range !== undefined ? [{ weight: error * numbers, low: range.low, high: range.high }] : []
  const mass = p.words.reduce((sum, w) => sum + w, 0)
  const words = p.words.map((w) => (p.words.length > 1 ? good * w + (error * (mass - w)) / (p.words.length - 1) : w))
  return { normals: scaled(p.normals), uniforms: [...scaled(p.uniforms), ...wrong], words }
}

/** Mean and standard deviation of the numbers among the outcomes; null where there are none. */
export function moments({ normals, uniforms }: Predictive): { mean: number; sd: number } | null {
  const parts = [
    ...normals.map(({ weight, mean, sd }) => ({ weight, mean, variance: sd * sd })),
    ...uniforms.map(({ weight, low, high }) => ({ weight, mean: (low + high) / 2, variance: (high - low) ** 2 / 12 })),
  ]
  const total = parts.reduce((sum, { weight }) => sum + weight, 0)
  if (total === 0) return null
  const mean = parts.reduce((sum, part) => sum + (part.weight / total) * part.mean, 0)
  const variance = parts.reduce((sum, part) => sum + (part.weight / total) * (part.variance + (part.mean - mean) ** 2), 0)
  return { mean, sd: Math.sqrt(variance) }
}
