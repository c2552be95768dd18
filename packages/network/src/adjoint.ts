import { activeLaw, branchFlow } from './balance.js'
import type { Jacobian } from './border.js'
import type { Branch, Circuit } from './circuit.js'
import { solveTransposed } from './elimination.js'
import { followed } from './gains.js'
import type { OperatingPoint } from './newton.js'

/** How a probe moves: with a flow drawn out of a node, with the value of a held node, with the value of a bordered source. */
export interface Adjoint {
  /** By node; zero at held nodes. A flow drawn out of node i moves the probe by -lambda[i]. */
  lambda: Float64Array
  /** By node; zero at unknown nodes. Nodes that are held from it move along. */
  heldSlope: Float64Array
  /** By border. */
  mu: number[]
}

/** A linear view of the solution: weights by node on the across quantities, by border on the flows. */
export interface Weights {
  node: Float64Array
  border: Float64Array
}

/** Rounds granted to chains of heat and gains that hand a probe's question on from node to node. */
const MOST_ROUNDS = 40

/** Adjoint of the balance equations for a weighted view of the solution: one transposed solve, more where heat or gains are seen. */
export function adjoint(circuit: Circuit, state: Uint8Array, { across, jacobian }: OperatingPoint, weights: Weights): Adjoint {
  let seen = weights
  let { lambda, mu } = adjointOnce(circuit, jacobian, weights)
  for (let round = 0; round < MOST_ROUNDS; round += 1) {
    const further = furtherWeights(circuit, state, across, lambda, weights)
    if (!further || sameNodes(further, seen)) break
    seen = further
    ;({ lambda, mu } = adjointOnce(circuit, jacobian, further))
  }
  const heldSlope = slopesOfHeld(circuit, state, across, seen.node, lambda, mu)
  return { lambda, heldSlope, mu }
}

const sameNodes = ({ node }: Weights, other: Weights): boolean =>
  node.every((value, i) => Math.abs(value - other.node[i]) <= 1e-14 * Math.abs(value))

/** J' lambda + C' mu = node weights, rho mu - B' lambda = border weights, by the same small system as forward. */
function adjointOnce(circuit: Circuit, { w, pivot, columns, schur }: Jacobian, { node: weight, border: own }: Weights) {
  const { nodeOf, unknown, borders, pattern, names } = circuit
  const c = Float64Array.from(nodeOf, (node) => weight[node])
  const seen = columns.map((column, n) => column.reduce((sum, value, u) => sum + value * c[u], own[n]))
  const mu = columns.map((_, r) => schur.reduce((sum, row, k) => sum + row[r] * seen[k], 0))
  borders.forEach(({ nodes, constraint }, n) => {
    nodes.forEach((node, p) => {
      if (unknown[node] >= 0) c[unknown[node]] -= mu[n] * constraint[p]
    })
  })
  solveTransposed(pattern, w, pivot, c)
  const lambda = new Float64Array(names.length)
  for (let u = 0; u < c.length; u += 1) lambda[nodeOf[u]] = c[u]
  return { lambda, mu }
}

/**
 * Heat and gains go one way and stand in no Jacobian: what they do to the probe further on is added to the weights of the nodes they
 * come from. Undefined when the probe sees none of them.
 */
function furtherWeights(
  circuit: Circuit,
  state: Uint8Array,
  x: Float64Array,
  lambda: Float64Array,
  { node, border }: Weights,
): Weights | undefined {
  const all = Float64Array.from(node)
  let found = false
  for (const { of, node: heated } of circuit.heats) {
    if (lambda[heated] === 0) continue
    found = true
    const { f, da, db } = branchFlow(of, state, x)
    const v = x[of.a] - x[of.b]
    all[of.a] += lambda[heated] * (f + v * da)
    all[of.b] += lambda[heated] * (v * db - f)
    for (const { at, slope } of elsewhere(of, state, x)) all[at] += lambda[heated] * v * slope
  }
  for (const branch of circuit.curved) {
    const gap = lambda[branch.a] - lambda[branch.b]
    if (branch.gains.length === 0 || gap === 0) continue
    for (const { at, slope } of elsewhere(branch, state, x)) {
      found = true
      all[at] -= gap * slope
    }
  }
  return found ? { node: all, border } : undefined
}

/** How a branch's flow moves with the nodes its gains look at, other than its own ends, which its slopes hold already. */
function elsewhere(branch: Branch, state: Uint8Array, x: Float64Array): { at: number; slope: number }[] {
  const { a, b, gains } = branch
  const law = activeLaw(branch, state)
  return gains.flatMap(({ node, less }, n) => {
    const slope = followed(law, gains, n, x, x[a], x[b])
    const seen = [
      { at: node, slope },
      { at: less, slope: -slope },
    ]
    return seen.filter(({ at }) => at !== 0 && at !== a && at !== b)
  })
}

function slopesOfHeld(
  { held, unknown, branches, borders }: Circuit,
  state: Uint8Array,
  x: Float64Array,
  weight: Float64Array,
  lambda: Float64Array,
  mu: number[],
): Float64Array {
  const slope = new Float64Array(x.length)
  for (const { node } of held) slope[node] = weight[node]
  for (const branch of branches) {
    const { a, b } = branch
    if (unknown[a] >= 0 && unknown[b] >= 0) continue
    const { da, db } = branchFlow(branch, state, x)
    const gap = lambda[a] - lambda[b]
    if (unknown[a] < 0) slope[a] -= gap * da
    if (unknown[b] < 0) slope[b] -= gap * db
  }
  borders.forEach(({ nodes, constraint }, n) => {
    nodes.forEach((node, p) => {
      if (unknown[node] < 0) slope[node] -= mu[n] * constraint[p]
    })
  })
  for (let k = held.length - 1; k >= 0; k -= 1) slope[held[k].from] += slope[held[k].node]
  slope[0] = 0
  return slope
}
