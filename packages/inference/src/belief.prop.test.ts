import * as fc from 'fast-check'
import { expect, test } from 'vitest'
import { type Branch, belief, type EvidenceRecord, type GroupEvidence, type Prediction, predictive } from './index.js'

/** A random job: latents, hypotheses with severities, groups of numbers and words, some with a threshold. */
const HYPOTHESES = 3
const LATENTS = 4

const real = (min: number, max: number) => fc.double({ min, max, noNaN: true })
const rowArb = fc
  .array(real(-0.5, 0.5), { minLength: LATENTS, maxLength: LATENTS })
  .map((value) => ({ index: [0, 1, 2, 3], value }))
/** A row that moves: the first latent always counts. */
const movedArb = rowArb.map(({ index, value }) => ({ index, value: [0.05 + Math.abs(value[0]), ...value.slice(1)] }))
const numberArb = fc
  .record({ mean: real(0, 10), sensitivities: rowArb, freshSd: real(0.001, 0.1) })
  .map((p): Prediction => ({ kind: 'number', ...p }))
const wordsArb = real(0.01, 0.99).map((p): Prediction => ({ kind: 'words', probabilities: [p, 1 - p] }))

const slotArb = fc.oneof(
  fc.record({
    value: real(0, 10),
    error: fc.constantFrom(0.02, 0.1),
    predictions: fc.array(numberArb, { minLength: 2 * HYPOTHESES, maxLength: 2 * HYPOTHESES }),
  }),
  fc.record({
    word: fc.constantFrom(0, 1),
    error: fc.constantFrom(0.02, 0.1),
    predictions: fc.array(wordsArb, { minLength: 2 * HYPOTHESES, maxLength: 2 * HYPOTHESES }),
  }),
)
const groupArb = fc.record({
  slots: fc.array(slotArb, { minLength: 1, maxLength: 3 }),
  margin: fc.option(fc.record({ mean: real(-1, 1), sensitivities: rowArb }), { nil: null }),
})
const jobArb = fc.record({
  groups: fc.array(groupArb, { minLength: 1, maxLength: 3 }),
  prior: fc.array(real(0.01, 1), { minLength: 3, maxLength: 3 }),
})

type Job = typeof jobArb extends fc.Arbitrary<infer T> ? T : never
type Order = readonly { readonly group: number; readonly records: readonly number[] }[]

const cells = Array.from({ length: HYPOTHESES }, (_, hypothesis) => ({ hypothesis, weight: 1 }))

function recordOf(slot: Job['groups'][number]['slots'][number], id: string): EvidenceRecord {
  const outcome =
    'word' in slot
      ? { kind: 'word' as const, word: slot.word, words: 2 }
      : { kind: 'number' as const, value: slot.value, halfWidth: 0.005 }
  return { id, outcome, error: slot.error, range: { low: 0, high: 20 } }
}

function branchesOf({ slots, margin }: Job['groups'][number], cell: number, order: readonly number[]): Branch[] {
  const at = (side: 0 | 1) => order.map((i) => slots[i].predictions[2 * cell + side])
  if (margin === null) return [{ conditions: [], predictions: at(0) }]
  return [
    { conditions: [{ ...margin, side: 1 }], predictions: at(0) },
    { conditions: [{ ...margin, side: -1 }], predictions: at(1) },
  ]
}

function inOrder(job: Job, order: Order) {
  const evidence: GroupEvidence[] = order.map(({ group, records }) => ({
    id: `g${group}`,
    records: records.map((i) => recordOf(job.groups[group].slots[i], `r${i}`)),
  }))
  return belief(
    cells,
    job.prior,
    evidence,
    (cell, place) => branchesOf(job.groups[order[place].group], cell, order[place].records),
    { unknown: 0.03 },
  )
}

const asTaken = (job: Job): Order => job.groups.map(({ slots }, group) => ({ group, records: slots.map((_, i) => i) }))
const turnedRound = (job: Job): Order =>
  asTaken(job)
    .map(({ group, records }) => ({ group, records: [...records].reverse() }))
    .reverse()

test('beliefs sum to one', () => {
  fc.assert(
    fc.property(jobArb, (job) => {
      const { probability, unknown, cellProbability } = inOrder(job, asTaken(job))
      const sum = (list: Float64Array) => list.reduce((s, p) => s + p, 0)
      expect(sum(probability) + unknown).toBeCloseTo(1, 9)
      expect(sum(cellProbability) + unknown).toBeCloseTo(1, 9)
    }),
  )
})

test('the order of groups and of readings does not matter, exactly', () => {
  fc.assert(
    fc.property(jobArb, (job) => {
      const one = inOrder(job, asTaken(job))
      const other = inOrder(job, turnedRound(job))
      expect([...other.probability]).toEqual([...one.probability])
      expect(other.logEvidence).toBe(one.logEvidence)
    }),
  )
})

test('the distribution of a next reading sums to one', () => {
  fc.assert(
    fc.property(jobArb, groupArb, (job, next) => {
      const { states } = inOrder(job, asTaken(job))
      const order = next.slots.map((_, i) => i)
      cells.forEach((_, cell) => {
        for (const { normals, uniforms, words } of predictive(states[cell], branchesOf(next, cell, order))) {
          const mass = [...normals, ...uniforms].reduce((s, { weight }) => s + weight, 0) + words.reduce((s, w) => s + w, 0)
          expect(mass).toBeCloseTo(1, 9)
        }
      })
    }),
    { numRuns: 50 },
  )
})

test('reading one point again moves no belief by more than the rounding of the display explains', () => {
  const pointArb = fc.array(fc.record({ mean: real(4.5, 5.5), sensitivities: movedArb }), {
    minLength: HYPOTHESES,
    maxLength: HYPOTHESES,
  })
  fc.assert(
    fc.property(pointArb, real(4.5, 5.5), (points, value) => {
      const record: EvidenceRecord = {
        id: 'p',
        outcome: { kind: 'number', value, halfWidth: 0.005 },
        error: 0,
        range: { low: 0, high: 20 },
      }
      const after = (times: number) =>
        belief(cells, [1, 1, 1], [{ id: 'g', records: Array.from({ length: times }, () => record) }], (cell) => [
          { conditions: [], predictions: Array.from({ length: times }, () => ({ kind: 'number', freshSd: 0, ...points[cell] })) },
        ]).probability
      const [once, twice] = [after(1), after(2)]
      once.forEach((p, h) => expect(Math.abs(twice[h] - p)).toBeLessThan(1e-9))
    }),
  )
})
