import { type Border, type Branch, type Circuit } from './circuit.js'
import { eliminate, solve, solveTransposed } from './elimination.js'
import { evaluate } from './laws.js'
import type { Law } from './types.js'

/** Across quantities by node (index 0 the reference), with the eliminated Jacobian that belongs to them. */
export interface OperatingPoint {
  across: Float64Array
  /** Flow of each bordered element (source current delivered, machine current taken). */
  borderFlow: Float64Array
  jacobian: Jacobian
  iterations: number
}

/** The eliminated balance equations at an operating point. */
export interface Jacobian {
  w: Float64Array
  pivot: Float64Array
  /** J^-1 B by border, and the inverse of the small border system. */
  columns: Float64Array[]
  schur: number[][]
}

export interface NoConvergence {
  node: string
  residual: number
  iterations: number
}

const MOST_ITERATIONS = 80
/** Relative change at which Newton stops, and the balance (in A, kg/s, W, N.m) below which it never backtracks. */
const STEP_TOLERANCE = 1e-11
const SMALL_RESIDUAL = 1e-12

export const activeLaw = (branch: Branch, state: Uint8Array): Law =>
  branch.signal < 0 || state[branch.signal] ? branch.law : branch.off

/**
 * Operating point for one set of signal states by Newton's method, backtracking while the balance gets worse.
 * Linear networks take one solve. Modified nodal analysis after C.-W. Ho, A. E. Ruehli, P. A. Brennan, IEEE Trans. Circuits
 * and Systems CAS-22 (1975) 504-509 (from memory); sources and machines are bordered.
 */
export function newton(circuit: Circuit, state: Uint8Array, start?: Float64Array): OperatingPoint | NoConvergence {
  const n = circuit.nodeOf.length
  const linear = circuit.linear
  let x = initial(circuit, start)
  let base = x
  let step: Float64Array | undefined
  let share = 1
  let merit = Number.POSITIVE_INFINITY
  let worst = 0
  const borderFlow = new Float64Array(circuit.borders.length)
  for (let iteration = 1; iteration <= MOST_ITERATIONS; iteration += 1) {
    const w = new Float64Array(circuit.pattern.slots)
    const excess = new Float64Array(n)
    const pivot = new Float64Array(n)
    const rhs = new Float64Array(n)
    const balance = assemble(circuit, state, x, borderFlow, w, excess, rhs)
    if (!linear && step && balance.sum > merit * (1 - 1e-4 * share) && balance.sum > SMALL_RESIDUAL && share > 1e-3) {
      share /= 2
      x = moved(base, step, share)
      continue
    }
    merit = balance.sum
    worst = balance.worst
    eliminate(circuit.pattern, w, excess, pivot)
    const jacobian = bordered(circuit, w, pivot)
    const next = solveBordered(circuit, jacobian, rhs, x, borderFlow)
    const change = largestChange(circuit, x, next)
    if (!Number.isFinite(change)) break
    if (linear || change <= STEP_TOLERANCE) return { across: next, borderFlow, jacobian, iterations: iteration }
    base = x
    step = next.map((value, i) => value - base[i])
    share = 1
    x = next
  }
  return { node: circuit.names[worst], residual: merit, iterations: MOST_ITERATIONS }
}

function initial(circuit: Circuit, start?: Float64Array): Float64Array {
  const x = start ? Float64Array.from(start) : Float64Array.from(circuit.rest)
  for (const { node } of circuit.held) x[node] = circuit.heldValue[node]
  x[0] = 0
  return x
}

const moved = (base: Float64Array, step: Float64Array, share: number): Float64Array =>
  base.map((value, i) => value + share * step[i])

function largestChange(circuit: Circuit, x: Float64Array, next: Float64Array): number {
  let most = 0
  for (let i = 1; i < x.length; i += 1) {
    const change = Math.abs(next[i] - x[i]) / (circuit.scale[i] + Math.abs(next[i]))
    if (!(change <= most)) most = change
  }
  return most
}

/** Fills W, the column excess and the right-hand side of J x = b at x; returns the balance (sum of flows) left at x. */
function assemble(
  circuit: Circuit,
  state: Uint8Array,
  x: Float64Array,
  borderFlow: Float64Array,
  w: Float64Array,
  excess: Float64Array,
  rhs: Float64Array,
): { sum: number; worst: number } {
  const { unknown, nodeOf, injection, insulation, rest } = circuit
  const residual = new Float64Array(x.length)
  for (let u = 0; u < nodeOf.length; u += 1) {
    const i = nodeOf[u]
    excess[u] = insulation[i]
    rhs[u] = injection[i] + insulation[i] * rest[i]
    residual[i] = insulation[i] * (x[i] - rest[i]) - injection[i]
  }
  for (const branch of circuit.branches) {
    const { a, b } = branch
    if (a === b) continue
    const { f, da, db } = evaluate(activeLaw(branch, state), x[a], x[b])
    residual[a] += f
    residual[b] -= f
    // Norton form: f = da xa + db xb + f0.
    const f0 = f - da * x[a] - db * x[b]
    const i = unknown[a]
    const j = unknown[b]
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
  for (const heat of circuit.heats) {
    for (const branch of heat.of) {
      const power = evaluate(activeLaw(branch, state), x[branch.a], x[branch.b]).f * (x[branch.a] - x[branch.b])
      if (unknown[heat.node] >= 0) rhs[unknown[heat.node]] += power
      residual[heat.node] -= power
    }
  }
  circuit.borders.forEach((border, n) => {
    border.nodes.forEach((node, p) => {
      residual[node] -= border.injection[p] * borderFlow[n]
    })
  })
  return weigh(nodeOf, residual)
}

function weigh(nodeOf: Int32Array, residual: Float64Array): { sum: number; worst: number } {
  let sum = 0
  let worst = nodeOf[0] ?? 0
  for (const i of nodeOf) {
    const size = Math.abs(residual[i])
    sum += size
    if (size > Math.abs(residual[worst])) worst = i
  }
  return { sum, worst }
}

function bordered(circuit: Circuit, w: Float64Array, pivot: Float64Array): Jacobian {
  const columns = circuit.borders.map((border) => {
    const column = spread(circuit, border.nodes, border.injection)
    solve(circuit.pattern, w, pivot, column)
    return column
  })
  const schur = circuit.borders.map((row, r) => columns.map((column, c) => dot(circuit, row, column) + (r === c ? row.rho : 0)))
  return { w, pivot, columns, schur: invert(schur) }
}

function solveBordered(
  circuit: Circuit,
  { w, pivot, columns, schur }: Jacobian,
  rhs: Float64Array,
  x: Float64Array,
  borderFlow: Float64Array,
): Float64Array {
  solve(circuit.pattern, w, pivot, rhs)
  const gaps = circuit.borders.map((border) => border.value - dot(circuit, border, rhs) - heldPart(circuit, border, x))
  schur.forEach((row, r) => {
    borderFlow[r] = row.reduce((sum, value, c) => sum + value * gaps[c], 0)
  })
  const next = Float64Array.from(x)
  circuit.nodeOf.forEach((node, u) => {
    next[node] = rhs[u] + columns.reduce((sum, column, c) => sum + column[u] * borderFlow[c], 0)
  })
  return next
}

/** How a probe moves: with a flow drawn out of a node, with the value of a held node, with the value of a bordered source. */
export interface Adjoint {
  /** By node; zero at held nodes. A flow drawn out of node i moves the probe by -lambda[i]. */
  lambda: Float64Array
  /** By node; zero at unknown nodes. */
  heldSlope: Float64Array
  /** By border. */
  mu: number[]
}

/** Adjoint of the balance equations for a probe given as weights by node: one transposed solve. */
export function adjoint(circuit: Circuit, state: Uint8Array, { across, jacobian }: OperatingPoint, probe: Float64Array): Adjoint {
  const first = adjointOnce(circuit, jacobian, probe)
  const heated = heatProbe(circuit, state, across, first.lambda, probe)
  const { lambda, mu } = heated ? adjointOnce(circuit, jacobian, heated) : first
  const heldSlope = new Float64Array(across.length)
  for (const { node } of circuit.held) heldSlope[node] = (heated ?? probe)[node]
  for (const branch of circuit.branches) {
    const { a, b } = branch
    if (circuit.unknown[a] >= 0 && circuit.unknown[b] >= 0) continue
    const { da, db } = evaluate(activeLaw(branch, state), across[a], across[b])
    const gap = lambda[a] - lambda[b]
    if (circuit.unknown[a] < 0) heldSlope[a] -= gap * da
    if (circuit.unknown[b] < 0) heldSlope[b] -= gap * db
  }
  circuit.borders.forEach((border, n) => {
    border.nodes.forEach((node, p) => {
      if (circuit.unknown[node] < 0) heldSlope[node] -= mu[n] * border.constraint[p]
    })
  })
  return { lambda, heldSlope, mu }
}

/** J' lambda + C' mu = probe and rho mu = B' lambda, by the same small system as forward. */
function adjointOnce(circuit: Circuit, { w, pivot, columns, schur }: Jacobian, probe: Float64Array) {
  const c = Float64Array.from(circuit.nodeOf, (node) => probe[node])
  const seen = columns.map((column) => column.reduce((sum, value, u) => sum + value * c[u], 0))
  const mu = columns.map((_, r) => schur.reduce((sum, row, k) => sum + row[r] * seen[k], 0))
  circuit.borders.forEach((border, n) => {
    border.nodes.forEach((node, p) => {
      if (circuit.unknown[node] >= 0) c[circuit.unknown[node]] -= mu[n] * border.constraint[p]
    })
  })
  solveTransposed(circuit.pattern, w, pivot, c)
  const lambda = new Float64Array(circuit.names.length)
  circuit.nodeOf.forEach((node, u) => {
    lambda[node] = c[u]
  })
  return { lambda, mu }
}

/** Heat is one way, so its target's adjoint adds to the probe on the element that makes the heat. */
function heatProbe(
  circuit: Circuit,
  state: Uint8Array,
  x: Float64Array,
  lambda: Float64Array,
  probe: Float64Array,
): Float64Array | undefined {
  if (!circuit.heats.some((heat) => lambda[heat.node] !== 0)) return undefined
  const all = Float64Array.from(probe)
  for (const heat of circuit.heats) {
    for (const branch of heat.of) {
      const { f, da, db } = evaluate(activeLaw(branch, state), x[branch.a], x[branch.b])
      const v = x[branch.a] - x[branch.b]
      all[branch.a] += lambda[heat.node] * (f + v * da)
      all[branch.b] += lambda[heat.node] * (v * db - f)
    }
  }
  return all
}

function spread(circuit: Circuit, nodes: number[], weights: number[]): Float64Array {
  const vector = new Float64Array(circuit.nodeOf.length)
  nodes.forEach((node, p) => {
    if (circuit.unknown[node] >= 0) vector[circuit.unknown[node]] += weights[p]
  })
  return vector
}

const dot = (circuit: Circuit, border: Border, column: Float64Array): number =>
  border.nodes.reduce(
    (sum, node, p) => sum + (circuit.unknown[node] >= 0 ? border.constraint[p] * column[circuit.unknown[node]] : 0),
    0,
  )

const heldPart = (circuit: Circuit, border: Border, x: Float64Array): number =>
  border.nodes.reduce((sum, node, p) => sum + (circuit.unknown[node] < 0 ? border.constraint[p] * x[node] : 0), 0)

/** Inverse of a small dense matrix by Gauss-Jordan with partial pivoting. */
function invert(matrix: number[][]): number[][] {
  const n = matrix.length
  const rows = matrix.map((row, r) => [...row, ...Array.from({ length: n }, (_, c) => (r === c ? 1 : 0))])
  for (let c = 0; c < n; c += 1) {
    let best = c
    for (let r = c + 1; r < n; r += 1) if (Math.abs(rows[r][c]) > Math.abs(rows[best][c])) best = r
    ;[rows[c], rows[best]] = [rows[best], rows[c]]
    const pivot = rows[c][c]
    rows[c] = rows[c].map((value) => value / pivot)
    for (let r = 0; r < n; r += 1) {
      const factor = rows[r][c]
      if (r !== c && factor !== 0) rows[r] = rows[r].map((value, k) => value - factor * rows[c][k])
    }
  }
  return rows.map((row) => row.slice(n))
}
