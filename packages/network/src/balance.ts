import type { Branch, Circuit } from './circuit.js'
import { type Follower, followedFlow, lawAt } from './gains.js'
import { evaluate, type Flow } from './laws.js'
import type { Law } from './types.js'

export const activeLaw = (branch: Branch, state: Uint8Array): Law =>
  branch.signal < 0 || state[branch.signal] ? branch.law : branch.off

/**
 * Flow of a branch at x with its two slopes, gains and all. What its numbers follow elsewhere than at its own ends is taken at `seen`.
 * The object is reused by the next call.
 */
export function branchFlow(branch: Branch, state: Uint8Array, x: Float64Array, seen = x): Flow {
  const { a, b, gains } = branch
  const law = activeLaw(branch, state)
  if (gains.length === 0) return evaluate(law, x[a], x[b])
  if (seen === x) return followedFlow(law, gains, a, b, x)
  const atEnds = ({ node, less }: Follower) => [node, less].some((n) => n !== 0 && (n === a || n === b))
  const elsewhere = gains.filter((follower) => !atEnds(follower))
  return followedFlow(lawAt(law, elsewhere, seen), gains.filter(atEnds), a, b, x)
}

/** J x = b: off-diagonal conductances by slot, what each unknown leaks to held nodes, right-hand side. */
export interface System {
  w: Float64Array
  excess: Float64Array
  rhs: Float64Array
}

/** The part of the system that no step of Newton's method changes, with the conductance of every straight branch. */
export interface LinearPart extends System {
  conductance: Float64Array
}

/**
 * Room for one solve after another of the same circuit. What a solve returns lies in it: whoever keeps an operating point while the
 * next is solved gives each its own.
 */
export interface Workspace {
  linear: LinearPart
  system: System
  pivot: Float64Array
  residual: Float64Array
  /** Three of each: where a step began, where it stands, where it goes. */
  across: Float64Array[]
  flow: Float64Array[]
}

export function workspace({ pattern, nodeOf, names, straight, borders }: Circuit): Workspace {
  const system = (): System => ({
    w: new Float64Array(pattern.slots),
    excess: new Float64Array(nodeOf.length),
    rhs: new Float64Array(nodeOf.length),
  })
  const three = (length: number) => [0, 1, 2].map(() => new Float64Array(length))
  return {
    linear: { ...system(), conductance: new Float64Array(straight.length) },
    system: system(),
    pivot: new Float64Array(nodeOf.length),
    residual: new Float64Array(names.length),
    across: three(names.length),
    flow: three(borders.length),
  }
}

/** Assembles insulation, sources and straight branches for one set of signal states. */
export function assembleLinear(circuit: Circuit, state: Uint8Array, { w, excess, rhs, conductance }: LinearPart): void {
  const { unknown, nodeOf, injection, insulation, rest, straight, heldValue } = circuit
  w.fill(0)
  for (let u = 0; u < nodeOf.length; u += 1) {
    const i = nodeOf[u]
    excess[u] = insulation[i]
    rhs[u] = injection[i] + insulation[i] * rest[i]
  }
  for (let n = 0; n < straight.length; n += 1) {
    const branch = straight[n]
    const law = activeLaw(branch, state)
    const g = law.law === 'linear' ? law.g : 0
    conductance[n] = g
    const i = unknown[branch.a]
    const j = unknown[branch.b]
    if (i >= 0 && j >= 0) {
      w[branch.slotAB] += g
      w[branch.slotBA] += g
    } else if (i >= 0) {
      excess[i] += g
      rhs[i] += g * heldValue[branch.b]
    } else if (j >= 0) {
      excess[j] += g
      rhs[j] += g * heldValue[branch.a]
    }
  }
}

/** Adds the curved branches and heats, linearised at x in Norton form: f = da xa + db xb + f0. */
export function addCurved(circuit: Circuit, state: Uint8Array, x: Float64Array, { w, excess, rhs }: System): void {
  const { unknown } = circuit
  for (const branch of circuit.curved) {
    const { a, b } = branch
    const { f, da, db } = branchFlow(branch, state, x)
    const i = unknown[a]
    const j = unknown[b]
    const f0 = f - da * x[a] - db * x[b]
    if (i >= 0) rhs[i] -= f0
    if (j >= 0) rhs[j] += f0
    if (i >= 0 && j >= 0) {
      w[branch.slotAB] -= db
      w[branch.slotBA] += da
    } else if (i >= 0) {
      excess[i] += da
      rhs[i] -= db * x[b]
    } else if (j >= 0) {
      excess[j] -= db
      rhs[j] += da * x[a]
    }
  }
  for (const { of, node } of circuit.heats) {
    if (unknown[node] >= 0) rhs[unknown[node]] += branchFlow(of, state, x).f * (x[of.a] - x[of.b])
  }
}

/** What is left over of the balance at x, each node against the ordinary flow of its domain. */
export interface Balance {
  sum: number
  /** The part of `sum` that rounding alone can make: below it, better cannot be told from worse. */
  noise: number
  worst: number
}

const ROUNDING = 4e-16

export function balanceAt(
  circuit: Circuit,
  state: Uint8Array,
  x: Float64Array,
  borderFlow: Float64Array,
  { linear: { conductance }, residual }: Workspace,
  seen = x,
): Balance {
  const { straight, curved, insulation, rest, injection, flowScale } = circuit
  residual[0] = 0
  let size = 0
  for (let i = 1; i < x.length; i += 1) residual[i] = insulation[i] * (x[i] - rest[i]) - injection[i]
  for (let n = 0; n < straight.length; n += 1) {
    const { a, b } = straight[n]
    const f = conductance[n] * (x[a] - x[b])
    residual[a] += f
    residual[b] -= f
    size += (conductance[n] * (Math.abs(x[a]) + Math.abs(x[b]))) / flowScale[a || b]
  }
  for (const branch of curved) {
    const { a, b } = branch
    const { f, da, db } = branchFlow(branch, state, x, seen)
    residual[a] += f
    residual[b] -= f
    size += (da * Math.abs(x[a]) - db * Math.abs(x[b])) / flowScale[a || b]
  }
  for (const { of, node } of circuit.heats) {
    residual[node] -= branchFlow(of, state, x, seen).f * (x[of.a] - x[of.b])
  }
  circuit.borders.forEach(({ nodes, injection: share }, n) => {
    for (let p = 0; p < nodes.length; p += 1) residual[nodes[p]] -= share[p] * borderFlow[n]
  })
  return weigh(circuit, residual, ROUNDING * size)
}

function weigh({ nodeOf, flowScale }: Circuit, residual: Float64Array, noise: number): Balance {
  let sum = 0
  let worst = nodeOf.length > 0 ? nodeOf[0] : 0
  let most = 0
  for (let u = 0; u < nodeOf.length; u += 1) {
    const i = nodeOf[u]
    const size = Math.abs(residual[i]) / flowScale[i]
    sum += size
    if (size <= most) continue
    most = size
    worst = i
  }
  return { sum, noise, worst }
}
