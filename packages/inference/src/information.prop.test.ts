import * as fc from 'fast-check'
import { expect, test } from 'vitest'
import { displayInformation, entropyBits, information, type Predictive, rankTests, withMisread } from './index.js'

const real = (min: number, max: number) => fc.double({ min, max, noNaN: true })
const sdArb = real(-4, 2).map((e) => 10 ** e)
const predictiveArb = fc
  .array(fc.record({ weight: real(0.05, 1), mean: real(0, 20), sd: sdArb }), { minLength: 1, maxLength: 3 })
  .map((parts): Predictive => {
    const total = parts.reduce((s, { weight }) => s + weight, 0)
    return { normals: parts.map((p) => ({ ...p, weight: p.weight / total })), uniforms: [], words: [] }
  })
const classesArb = fc.array(fc.record({ probability: real(1e-6, 1), predictive: predictiveArb }), { minLength: 2, maxLength: 6 })
const wordClassesArb = fc.array(
  fc.record({
    probability: real(1e-6, 1),
    predictive: real(0, 1).map((p): Predictive => ({ normals: [], uniforms: [], words: [p, 1 - p] })),
  }),
  { minLength: 2, maxLength: 6 },
)
const range = { low: 0, high: 40 }

test('information is never negative and never more than there is to learn', () => {
  fc.assert(
    fc.property(fc.oneof(classesArb, wordClassesArb), (classes) => {
      const bits = information(classes)
      expect(bits).toBeGreaterThanOrEqual(0)
      expect(bits).toBeLessThanOrEqual(entropyBits(classes.map((c) => c.probability)) + 1e-8)
    }),
    { numRuns: 60 },
  )
})

test('a display never tells more than the quantity itself, nor less than nothing', () => {
  fc.assert(
    fc.property(classesArb, fc.constantFrom(0, 0.001, 0.1, 1), (classes, resolution) => {
      const bits = displayInformation(classes, { resolution, low: 0, high: 40 })
      expect(bits).toBeGreaterThanOrEqual(0)
      expect(bits).toBeLessThanOrEqual(information(classes) + 2e-6)
    }),
    { numRuns: 60 },
  )
})

test('wider tolerance never sharpens: spread added to every suspect adds no information', () => {
  fc.assert(
    fc.property(classesArb, sdArb, (classes, added) => {
      const wider = classes.map(({ probability, predictive }) => ({
        probability,
        predictive: { ...predictive, normals: predictive.normals.map((p) => ({ ...p, sd: Math.hypot(p.sd, added) })) },
      }))
      expect(information(wider)).toBeLessThanOrEqual(information(classes) + 1e-8)
    }),
    { numRuns: 60 },
  )
})

test('a chance of a misread adds no information', () => {
  fc.assert(
    fc.property(classesArb, real(0.001, 0.5), (classes, error) => {
      const misread = classes.map((c) => ({ ...c, predictive: withMisread(c.predictive, error, range) }))
      expect(information(misread)).toBeLessThanOrEqual(information(classes) + 1e-8)
    }),
    { numRuns: 60 },
  )
})

test('two suspects far apart are told apart by one reading, two alike by none', () => {
  const at = (mean: number, sd = 0.05) => ({
    probability: 0.5,
    predictive: { normals: [{ weight: 1, mean, sd }], uniforms: [], words: [] },
  })
  expect(information([at(12), at(0)])).toBeCloseTo(1, 9)
  expect(information([at(12), at(12)])).toBe(0)
  expect(displayInformation([at(12), at(0)], { resolution: 0.01, low: 0, high: 40 })).toBeCloseTo(1, 4)
  expect(displayInformation([at(12), at(12.001)], { resolution: 0.01, low: 0, high: 40 })).toBeLessThan(1e-3)
})

test('two suspects whose readings differ by less than a step of the display look alike', () => {
  const at = (mean: number) => ({
    probability: 0.5,
    predictive: { normals: [{ weight: 1, mean, sd: 1e-4 }], uniforms: [], words: [] },
  })
  expect(information([at(12.001), at(12.003)])).toBeCloseTo(1, 6)
  expect(displayInformation([at(12.001), at(12.003)], { resolution: 0.01, low: 0, high: 40 })).toBeLessThan(1e-9)
})

test('tests rank by information per cost, near ties by name', () => {
  const ranked = rankTests([
    { id: 'c', information: 0.3, cost: 1 },
    { id: 'b', information: 0.1 + 0.2, cost: 1 },
    { id: 'a', information: 0.9, cost: 6 },
    { id: 'd', information: 1e-14, cost: 0.1 },
  ])
  expect(ranked.map(({ id }) => id)).toEqual(['b', 'c', 'a', 'd'])
  expect(ranked[3].score).toBe(0)
})
