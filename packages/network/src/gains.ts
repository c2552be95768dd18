import { NetworkError } from './errors.js'
import { evaluate, type Flow } from './laws.js'
import type { Curve, Gain, Law } from './types.js'

/** A gain with its names turned into indices. */
export interface Follower {
  of: string
  node: number
  less: number
  curve: Curve
}

/** @throws NetworkError UNKNOWN_NODE, ELEMENT_VALUE */
export function compileGains(gains: readonly Gain[] | undefined, nodes: ReadonlyMap<string, number>, id: string): Follower[] {
  return (gains ?? []).map(({ of, node, less, curve }) => ({
    of,
    node: at(nodes, node, id),
    less: less === undefined ? 0 : at(nodes, less, id),
    curve: fit(curve, id),
  }))
}

function at(nodes: ReadonlyMap<string, number>, name: string, id: string): number {
  const node = nodes.get(name)
  if (node === undefined) throw new NetworkError('UNKNOWN_NODE', `'${id}' follows the unknown node '${name}'`, [id])
  return node
}

function fit(curve: Curve, id: string): Curve {
  const numbers = Object.values(curve).filter((value) => typeof value === 'number')
  const turned = curve.curve === 'ramp' ? !(curve.to > curve.from) || Math.min(curve.low, curve.high) < 0 : false
  const reference = 'reference' in curve && !(curve.reference > 0)
  if (turned || reference || !numbers.every(Number.isFinite)) {
    throw new NetworkError('ELEMENT_VALUE', `'${id}' follows a ${curve.curve} that no part can have`, [id])
  }
  return curve
}

/** The factor of a curve at x, never negative. */
export function curveAt(curve: Curve, x: number): number {
  switch (curve.curve) {
    case 'ramp': {
      const share = Math.min(1, Math.max(0, (x - curve.from) / (curve.to - curve.from)))
      return curve.low + (curve.high - curve.low) * share
    }
    case 'power':
      return x > 0 ? (x / curve.reference) ** curve.exponent : 0
    case 'resistor':
      return 1 / Math.max(1 + curve.alpha * (x - curve.reference), LEAST_RATIO)
  }
}

/** A resistance falls to no less than this share of its reference, however cold: the straight line is not true down there. */
const LEAST_RATIO = 0.01

const seenBy = ({ node, less }: Follower, x: Float64Array): number => x[node] - x[less]

function curveSlope(curve: Curve, x: number): number {
  switch (curve.curve) {
    case 'ramp':
      return x > curve.from && x < curve.to ? (curve.high - curve.low) / (curve.to - curve.from) : 0
    case 'power':
      return x > 0 ? (curve.exponent / curve.reference) * (x / curve.reference) ** (curve.exponent - 1) : 0
    case 'resistor': {
      const ratio = 1 + curve.alpha * (x - curve.reference)
      return ratio > LEAST_RATIO ? -curve.alpha / ratio ** 2 : 0
    }
  }
}

/** Product of the factors that act on the number `of`. */
export function gainOf(followers: readonly Follower[], of: string, x: Float64Array): number {
  let factor = 1
  for (const follower of followers) if (follower.of === of) factor *= curveAt(follower.curve, seenBy(follower, x))
  return factor
}

/** The law with its numbers as they are at x; a gain on a number that it lacks leaves it alone. */
export function lawAt(law: Law, followers: readonly Follower[], x: Float64Array): Law {
  const numbers = { ...law } as Record<string, unknown>
  for (const follower of followers) {
    const number = numbers[follower.of]
    if (typeof number === 'number') numbers[follower.of] = number * curveAt(follower.curve, seenBy(follower, x))
  }
  return numbers as unknown as Law
}

/** Change of a law's number, against its size, over which the slope of its flow is taken where it is not plainly in proportion. */
const STEP = 1e-6

/** How the flow moves with the node that a follower looks at, all else kept still. */
export function followed(law: Law, followers: readonly Follower[], n: number, x: Float64Array, xa: number, xb: number): number {
  const follower = followers[n]
  const slope = curveSlope(follower.curve, seenBy(follower, x))
  const own = numberOf(law, follower.of)
  if (slope === 0 || own === undefined) return 0
  let others = own
  followers.forEach((other, i) => {
    if (i !== n && other.of === follower.of) others *= curveAt(other.curve, seenBy(other, x))
  })
  if (law.law === 'linear') return others * slope * (xa - xb)
  const now = lawAt(law, followers, x)
  const value = numberOf(now, follower.of) as number
  const step = STEP * (Math.abs(value) || Math.abs(own) || 1)
  const flowWith = (number: number) => evaluate({ ...now, [follower.of]: number } as Law, xa, xb).f
  return (
    (others * slope * (flowWith(value + step) - flowWith(Math.max(0, value - step)))) / (value + step - Math.max(0, value - step))
  )
}

function numberOf(law: Law, name: string): number | undefined {
  const value = (law as unknown as Record<string, unknown>)[name]
  return typeof value === 'number' ? value : undefined
}

/**
 * Flow of a law with its gains, and its slopes with its own two ends. Where a gain looks at one of these ends the slope takes it in, as
 * far as the flow stays a rising one; what it follows elsewhere is left to the next step of the iteration.
 */
export function followedFlow(law: Law, followers: readonly Follower[], a: number, b: number, x: Float64Array): Flow {
  let [da, db] = [0, 0]
  followers.forEach(({ node, less }, n) => {
    if (node !== a && node !== b && less !== a && less !== b) return
    const slope = followed(law, followers, n, x, x[a], x[b])
    if (node === a) da += slope
    if (node === b) db += slope
    if (less === a && less !== 0) da -= slope
    if (less === b && less !== 0) db -= slope
  })
  const flow = evaluate(lawAt(law, followers, x), x[a], x[b])
  if (da === 0 && db === 0) return flow
  flow.da = Math.max(0, flow.da + da)
  flow.db = Math.min(0, flow.db + db)
  return flow
}
