import type { Border, Circuit } from './circuit.js'
import { solve } from './elimination.js'

/**
 * Sources between floating nodes and machines add their own flow y to the unknowns: J x - B y = r, C x + rho y = e. The
 * small system S = C J^-1 B + rho is solved dense, so the elimination of J itself still never subtracts.
 */
export interface Jacobian {
  w: Float64Array
  pivot: Float64Array
  /** J^-1 B by border, and the inverse of S. */
  columns: Float64Array[]
  schur: number[][]
}

const NONE: never[] = []

export function bordered(circuit: Circuit, w: Float64Array, pivot: Float64Array): Jacobian {
  if (circuit.borders.length === 0) return { w, pivot, columns: NONE, schur: NONE }
  const columns = circuit.borders.map((border) => {
    const column = spread(circuit, border)
    solve(circuit.pattern, w, pivot, column)
    return column
  })
  const schur = circuit.borders.map((row, r) => columns.map((column, c) => dot(circuit, row, column) + (r === c ? row.rho : 0)))
  return { w, pivot, columns, schur: invert(schur) }
}

/** Solves for the across quantities (into `next`) and the bordered flows; `rhs` is overwritten. */
export function solveBordered(
  circuit: Circuit,
  { w, pivot, columns, schur }: Jacobian,
  rhs: Float64Array,
  next: Float64Array,
  borderFlow: Float64Array,
): void {
  const { nodeOf, borders } = circuit
  solve(circuit.pattern, w, pivot, rhs)
  if (borders.length > 0) {
    const gaps = borders.map((border) => border.value - dot(circuit, border, rhs) - heldPart(circuit, border))
    schur.forEach((row, r) => {
      borderFlow[r] = row.reduce((sum, value, c) => sum + value * gaps[c], 0)
    })
    columns.forEach((column, c) => {
      for (let u = 0; u < rhs.length; u += 1) rhs[u] += column[u] * borderFlow[c]
    })
  }
  for (let u = 0; u < rhs.length; u += 1) next[nodeOf[u]] = rhs[u]
}

function spread({ nodeOf, unknown }: Circuit, { nodes, injection }: Border): Float64Array {
  const vector = new Float64Array(nodeOf.length)
  for (let p = 0; p < nodes.length; p += 1) {
    const u = unknown[nodes[p]]
    if (u >= 0) vector[u] += injection[p]
  }
  return vector
}

function dot({ unknown }: Circuit, { nodes, constraint }: Border, column: Float64Array): number {
  let sum = 0
  for (let p = 0; p < nodes.length; p += 1) {
    const u = unknown[nodes[p]]
    if (u >= 0) sum += constraint[p] * column[u]
  }
  return sum
}

const heldPart = ({ unknown, heldValue }: Circuit, { nodes, constraint }: Border): number =>
  nodes.reduce((sum, node, p) => sum + (unknown[node] < 0 ? constraint[p] * heldValue[node] : 0), 0)

/** Inverse of a small dense matrix by Gauss-Jordan with partial pivoting. */
export function invert(matrix: number[][]): number[][] {
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
