import { activeLaw } from './balance.js'
import type { Jacobian } from './border.js'
import type { Circuit } from './circuit.js'
import { solveTransposed } from './elimination.js'
import { evaluate } from './laws.js'
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

/** Adjoint of the balance equations for a weighted view of the solution: one transposed solve, two where heat is seen. */
export function adjoint(circuit: Circuit, state: Uint8Array, { across, jacobian }: OperatingPoint, weights: Weights): Adjoint {
  const first = adjointOnce(circuit, jacobian, weights)
  const heated = heatedWeights(circuit, state, across, first.lambda, weights)
  const { lambda, mu } = heated ? adjointOnce(circuit, jacobian, heated) : first
  const heldSlope = slopesOfHeld(circuit, state, across, (heated ?? weights).node, lambda, mu)
  return { lambda, heldSlope, mu }
}

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

/** Heat goes one way, so what its target does to the probe is added to the weights of the element that makes the heat. */
function heatedWeights(
  circuit: Circuit,
  state: Uint8Array,
  x: Float64Array,
  lambda: Float64Array,
  { node, border }: Weights,
): Weights | undefined {
  if (!circuit.heats.some((heat) => lambda[heat.node] !== 0)) return undefined
  const all = Float64Array.from(node)
  for (const { of, node: heated } of circuit.heats) {
    const { f, da, db } = evaluate(activeLaw(of, state), x[of.a], x[of.b])
    const v = x[of.a] - x[of.b]
    all[of.a] += lambda[heated] * (f + v * da)
    all[of.b] += lambda[heated] * (v * db - f)
  }
  return { node: all, border }
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
    const { da, db } = evaluate(activeLaw(branch, state), x[a], x[b])
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
