/** Information a planned test gives about a classification of hypotheses, exactly, by adaptive quadrature. */

import type { NormalPart, Predictive, UniformPart } from './predictive.js'

/** A class of hypotheses (a repair group, or a single hypothesis) and what it predicts for the planned test. */
export interface TestClass {
  /** Any positive scale. */
  readonly probability: number
  readonly predictive: Predictive
}

/** Entropy of a distribution, in bits; the weights may have any positive scale. */
export function entropyBits(weights: ArrayLike<number>): number {
  let total = 0
  for (let i = 0; i < weights.length; i++) total += weights[i]
  let sum = 0
  for (let i = 0; i < weights.length; i++) {
    const p = weights[i] / total
    if (p > 0) sum -= p * Math.log2(p)
  }
  return Math.max(sum, 0)
}

/** A class lighter than this can't add 1e-12 bit. */
const NEGLIGIBLE = 1e-15

/** The classes that count, normalised; classes with the same prediction are one, which changes no information. */
export function mergedClasses(classes: readonly TestClass[]): TestClass[] {
  const total = classes.reduce((sum, { probability }) => sum + probability, 0)
  const merged = new Map<string, { probability: number; predictive: Predictive }>()
  for (const { probability, predictive } of classes) {
    const share = probability / total
    if (!(share > NEGLIGIBLE)) continue
    const key = JSON.stringify(predictive)
    const same = merged.get(key)
    if (same === undefined) merged.set(key, { probability: share, predictive })
    else same.probability += share
  }
  return [...merged.values()]
}

/**
 * sum over classes of p_c f_c log2(f_c / f) with f = sum of p_c f_c: what one outcome adds to the information. It is f times the
 * divergence of the posterior from the prior, so it is never negative but for rounding.
 * The densities of the classes stand from `offset` on.
 */
export function pointInformation(probability: ArrayLike<number>, density: ArrayLike<number>, offset = 0): number {
  let total = 0
  for (let c = 0; c < probability.length; c++) total += probability[c] * density[offset + c]
  if (total <= 0) return 0
  let sum = 0
  for (let c = 0; c < probability.length; c++) {
    const f = density[offset + c]
    if (f > 0) sum += probability[c] * f * Math.log2(f / total)
  }
  return Math.max(sum, 0)
}

/** Information of the words among the outcomes. */
export function wordInformation(classes: readonly TestClass[]): number {
  const probability = classes.map((c) => c.probability)
  const count = Math.max(0, ...classes.map(({ predictive }) => predictive.words.length))
  let sum = 0
  for (let w = 0; w < count; w++) {
    sum += pointInformation(
      probability,
      classes.map(({ predictive }) => predictive.words[w] ?? 0),
    )
  }
  return sum
}

const INVERSE_SQRT_TWO_PI = 0.3989422804014327

/** Beyond so many standard deviations a normal holds less than 1e-18. */
const REACH = 9

function normalDensity({ weight, mean, sd }: NormalPart, x: number): number {
  const z = (x - mean) / sd
  return Math.abs(z) > REACH ? 0 : (weight / sd) * INVERSE_SQRT_TWO_PI * Math.exp((-z * z) / 2)
}

function uniformDensity({ weight, low, high }: UniformPart, x: number): number {
  return x >= low && x <= high ? weight / (high - low) : 0
}

/** The ends of the panels in which the integrand is smooth: ends of uniform parts, and marks on every normal part. */
function panelEnds(classes: readonly TestClass[]): number[] {
  const marks: { at: number; room: number }[] = []
  for (const { predictive } of classes) {
    for (const { low, high } of predictive.uniforms) marks.push({ at: low, room: 0 }, { at: high, room: 0 })
    for (const { mean, sd } of predictive.normals) {
      for (const z of [-REACH, -4, -1.5, 0, 1.5, 4, REACH]) marks.push({ at: mean + z * sd, room: 0.3 * sd })
    }
  }
  marks.sort((a, b) => a.at - b.at || a.room - b.room)
  const ends: number[] = []
  for (const { at, room } of marks) if (ends.length === 0 || at - ends[ends.length - 1] > room) ends.push(at)
  const last = marks.at(-1)
  if (last !== undefined && last.at > ends[ends.length - 1]) ends.push(last.at)
  return ends
}

// Gauss-Kronrod 7/15 nodes and weights (QUADPACK, Piessens et al. 1983, from memory; a wrong digit would fail the reference cases).
const KRONROD_NODES = [
  0.9914553711208126, 0.9491079123427585, 0.8648644233597691, 0.7415311855993945, 0.5860872354676911, 0.4058451513773972,
  0.20778495500789848, 0,
]
const KRONROD_WEIGHTS = [
  0.022935322010529224, 0.06309209262997856, 0.10479001032225019, 0.14065325971552592, 0.1690047266392679, 0.19035057806478542,
  0.20443294007529889, 0.20948214108472782,
]
const GAUSS_WEIGHTS = [0.1294849661688697, 0.27970539148927664, 0.3818300505051189, 0.4179591836734694]

function kronrod(f: (x: number) => number, low: number, high: number): { value: number; error: number } {
  const middle = (low + high) / 2
  const half = (high - low) / 2
  let fine = 0
  let coarse = 0
  for (let i = 0; i < KRONROD_NODES.length; i++) {
    const step = half * KRONROD_NODES[i]
    const value = step === 0 ? f(middle) : f(middle - step) + f(middle + step)
    fine += KRONROD_WEIGHTS[i] * value
    if (i % 2 === 1) coarse += GAUSS_WEIGHTS[(i - 1) / 2] * value
  }
  return { value: fine * half, error: Math.abs(fine - coarse) * half }
}

/** Bits by which one panel may be off; the true error is far below the difference of the two rules. */
const PANEL_TOLERANCE = 1e-11
const DEEPEST = 40

function integrate(f: (x: number) => number, low: number, high: number, depth = 0): number {
  const { value, error } = kronrod(f, low, high)
  if (error <= PANEL_TOLERANCE || depth >= DEEPEST) return value
  const middle = (low + high) / 2
  return integrate(f, low, middle, depth + 1) + integrate(f, middle, high, depth + 1)
}

function densityInformation(classes: readonly TestClass[]): number {
  const probability = classes.map((c) => c.probability)
  const density = new Float64Array(classes.length)
  const integrand = (x: number): number => {
    classes.forEach(({ predictive }, c) => {
      let sum = 0
      for (const part of predictive.normals) sum += normalDensity(part, x)
      for (const part of predictive.uniforms) sum += uniformDensity(part, x)
      density[c] = sum
    })
    return pointInformation(probability, density)
  }
  const ends = panelEnds(classes)
  let sum = 0
  for (let i = 1; i < ends.length; i++) sum += integrate(integrand, ends[i - 1], ends[i])
  return sum
}

/**
 * Mutual information between the result of a planned test and the class, in bits, for a continuous result (no display rounding).
 *     I = integral of sum_c p_c f_c log2(f_c/f), plus the same sum over words
 * @param classes probability and predicted distribution of each class; probabilities of any positive scale
 * @returns [bit], never negative, at most the entropy of the classes. Good to about 1e-9 bit, with sharp and wide parts side by side.
 * Cost: panels times classes; for ranking many tests use `displayInformation`.
 * Source: C. E. Shannon 1948, section 24; D. V. Lindley 1956.  Checked in next-test reference cases and information.prop.test.ts.
 */
export function information(classes: readonly TestClass[]): number {
  const merged = mergedClasses(classes)
  if (merged.length < 2) return 0
  return wordInformation(merged) + densityInformation(merged)
}
