/** Faults and tests given as tables: hypotheses over components with exclusive faults, and what each predicts for each test. */

import { accuracyLimit, type MeterRange } from '@halfsplit/core'
import { type Belief, belief, type Cell } from './belief.js'
import { type EvidenceRecord, NO_SENSITIVITIES, type Prediction } from './evidence.js'
import { entropyBits, information } from './information.js'
import { mix, type Predictive, withMisread } from './predictive.js'

/** Faults of one component exclude each other; components are independent. `prior` is the probability of the fault, 0 to 1. */
export interface TableFault {
  readonly id: string
  readonly component: string
  readonly prior: number
}

interface TestCommon {
  readonly id: string
  /** Probability that a planned result is wrong, 0 to 1. */
  readonly error: number
}

/** A test with words as outcomes, from sound to worst; `rows` by fault id, by `A+B` for a pair, and `none`. */
export interface TableWordTest extends TestCommon {
  readonly kind: 'words'
  readonly outcomes: readonly string[]
  readonly rows: Readonly<Record<string, readonly number[]>>
}

/** A test with a number as result: every fault present shifts the mean and adds spread. Unit: that of the reading. */
export interface TableNumberTest extends TestCommon {
  readonly kind: 'number'
  readonly nominal: number
  /** Part tolerance, percent of the nominal value, at `toleranceK` standard deviations. */
  readonly tolerancePercent: number
  readonly toleranceK: number
  /** Accuracy of the meter: its limit is taken as rectangular, at the mean and not at the result. */
  readonly meter: MeterRange
  /** What a wrong result may show. */
  readonly range: { readonly low: number; readonly high: number }
  readonly effects: Readonly<Record<string, { readonly shift: number; readonly spreadSd: number }>>
}

export type TableTest = TableWordTest | TableNumberTest

export interface TableDescription {
  readonly faults: readonly TableFault[]
  readonly tests: readonly TableTest[]
  readonly maxFaults: 1 | 2
  readonly includeNoFault: boolean
}

export interface TableHypothesis {
  readonly id: string
  readonly faults: readonly TableFault[]
}

/** The hypotheses with their prior, normalised over the list. */
export interface TableModel {
  readonly hypotheses: readonly TableHypothesis[]
  readonly prior: Float64Array
  readonly cells: readonly Cell[]
  readonly tests: ReadonlyMap<string, TableTest>
}

function hypothesesOf({ faults, maxFaults, includeNoFault }: TableDescription): TableHypothesis[] {
  const none = includeNoFault ? [{ id: 'none', faults: [] }] : []
  const singles = faults.map((fault) => ({ id: fault.id, faults: [fault] }))
  const pairs =
    maxFaults < 2
      ? []
      : faults.flatMap((a, i) =>
          faults
            .slice(i + 1)
            .filter((b) => b.component !== a.component)
            .map((b) => ({ id: `${a.id}+${b.id}`, faults: [a, b] })),
        )
  return [...none, ...singles, ...pairs]
}

/** For each component, the probability that it is sound. */
function soundness(faults: readonly TableFault[]): Map<string, number> {
  const sound = new Map<string, number>()
  for (const { component, prior } of faults) sound.set(component, (sound.get(component) ?? 1) - prior)
  return sound
}

function weightOf({ faults }: TableHypothesis, sound: ReadonlyMap<string, number>): number {
  let product = 1
  for (const [component, p] of sound) product *= faults.find((fault) => fault.component === component)?.prior ?? p
  return product
}

/**
 * Hypotheses of a table: none (if included), every single fault, and every pair of faults of different components.
 *     prior ~ product over components of P(its fault in the hypothesis) or P(sound), normalised over the list
 * More faults than listed are ruled out beforehand.  Checked in the posterior reference cases.
 */
export function tableModel(description: TableDescription): TableModel {
  const hypotheses = hypothesesOf(description)
  const sound = soundness(description.faults)
  const weights = hypotheses.map((hypothesis) => weightOf(hypothesis, sound))
  const total = weights.reduce((sum, w) => sum + w, 0)
  return {
    hypotheses,
    prior: Float64Array.from(weights, (w) => w / total),
    cells: hypotheses.map((_, hypothesis) => ({ hypothesis, weight: 1 })),
    tests: new Map(description.tests.map((test) => [test.id, test])),
  }
}

/** The later in the list of two independent draws, one from each row: P(r) = A(r) B(r) - A(r-1) B(r-1), A and B cumulative. */
function laterOf(a: readonly number[], b: readonly number[]): number[] {
  let sumA = 0
  let sumB = 0
  return a.map((p, r) => {
    const before = sumA * sumB
    sumA += p
    sumB += b[r]
    return sumA * sumB - before
  })
}

function wordRow({ rows }: TableWordTest, { id, faults }: TableHypothesis): readonly number[] {
  if (id in rows) return rows[id]
  const listed = faults.filter((fault) => fault.id in rows).map((fault) => rows[fault.id])
  return listed.length === 0 ? rows.none : listed.reduce(laterOf)
}

/** What a hypothesis predicts for a test; a fault the table does not list acts as `none`. */
function predictTest(test: TableTest, hypothesis: TableHypothesis): Prediction {
  if (test.kind === 'words') return { kind: 'words', probabilities: wordRow(test, hypothesis) }
  const effects = hypothesis.faults.filter(({ id }) => id in test.effects).map(({ id }) => test.effects[id])
  const mean = effects.reduce((sum, { shift }) => sum + shift, test.nominal)
  const spread = effects.reduce((sum, { spreadSd }) => sum + spreadSd ** 2, 0)
  const tolerance = ((test.tolerancePercent / 100) * Math.abs(test.nominal)) / test.toleranceK
  const freshSd = Math.sqrt(tolerance ** 2 + spread + accuracyLimit(test.meter, mean) ** 2 / 3)
  return { kind: 'number', mean, sensitivities: NO_SENSITIVITIES, freshSd }
}

/** A test that was done: a number, one of the outcome words, or null for not done; `error` is the probability that it is wrong. */
export interface TableResult {
  readonly test: string
  readonly result: number | string | null
  readonly error: number
}

function testOf(model: TableModel, id: string): TableTest {
  const test = model.tests.get(id)
  if (test === undefined) throw new RangeError(`no test '${id}' in the table`)
  return test
}

function recordOf(test: TableTest, result: number | string, error: number): EvidenceRecord {
  if (test.kind === 'number') {
    return { id: test.id, outcome: { kind: 'number', value: Number(result), halfWidth: 0 }, error, range: test.range }
  }
  const word = test.outcomes.indexOf(String(result))
  if (word < 0) throw new RangeError(`'${result}' is no outcome of test '${test.id}'`)
  return { id: test.id, outcome: { kind: 'word', word, words: test.outcomes.length }, error }
}

/** Belief over the hypotheses of a table after some results; items are independent given the hypothesis, repeats too. Throws RangeError on an unknown name. */
export function tableBelief(model: TableModel, results: readonly TableResult[]): Belief {
  const done = results.filter(({ result }) => result !== null)
  const evidence = done.map(({ test, result, error }) => ({
    id: test,
    records: [recordOf(testOf(model, test), result ?? '', error)],
  }))
  return belief(model.cells, model.prior, evidence, (cell, group) => [
    { conditions: [], predictions: [predictTest(testOf(model, done[group].test), model.hypotheses[cell])] },
  ])
}

/** Probability of each fault, and of any fault of each component: sums over the hypotheses that contain it. */
export function tableMarginals({ hypotheses }: TableModel, probability: ArrayLike<number>) {
  const faults: Record<string, number> = {}
  const components: Record<string, number> = {}
  hypotheses.forEach((hypothesis, h) => {
    for (const { id, component } of hypothesis.faults) {
      faults[id] = (faults[id] ?? 0) + probability[h]
      components[component] = (components[component] ?? 0) + probability[h]
    }
  })
  return { faults, components }
}

export interface PlannedResult {
  /** Distribution of the result over all hypotheses, wrong results included. */
  readonly predictive: Predictive
  /** Mutual information of result and hypothesis [bit]. */
  readonly information: number
  /** Expected entropy of the hypotheses after the test [bit]. */
  readonly expectedEntropy: number
}

/** What doing a test once (again) is worth, at a belief over the hypotheses. */
export function planTableTest(model: TableModel, probability: ArrayLike<number>, id: string): PlannedResult {
  const test = testOf(model, id)
  const classes = model.hypotheses.map((hypothesis, h) => {
    const prediction = predictTest(test, hypothesis)
    const range = test.kind === 'number' ? test.range : undefined
    return { probability: probability[h], predictive: withMisread(distributionOf(prediction), test.error, range) }
  })
  const bits = information(classes)
  const predictive = mix(classes.map((c) => ({ weight: c.probability, predictive: c.predictive })))
  return { predictive, information: bits, expectedEntropy: Math.max(entropyBits(probability) - bits, 0) }
}

function distributionOf(prediction: Prediction): Predictive {
  if (prediction.kind === 'words') return { normals: [], uniforms: [], words: Array.from(prediction.probabilities) }
  return { normals: [{ weight: 1, mean: prediction.mean, sd: prediction.freshSd }], uniforms: [], words: [] }
}
