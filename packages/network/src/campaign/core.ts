import type { Assembly, Fronts } from './fronts.js'
import type { Tree } from './tree.js'

/** Nodes of the core that one fault may touch, and the share of the largest across quantity that rounding may then cost. */
const MOST_TOUCHED = 16
const ROUNDING = 4e-16
const MOST_ERROR = 1e-11

/** The core of one base: its inverse by columns, and its solution. */
export interface CoreBase {
  inverse: Float64Array
  solution: Float64Array
  /** By node of the core: the largest across quantity of its domain, which errors are measured against. */
  largest: Float64Array
}

/**
 * The last steps of the elimination, where the fronts are wide. What a fault changes of it is small: a few conductances among
 * few nodes, as the eliminated ways pass them on. So it is not eliminated anew but updated from its inverse (M. A. Woodbury, 1950, from
 * memory), unless a bound on the rounding says that digits are lost: a main strap gone, an island that only insulation holds.
 */
export class Core {
  readonly first: number
  readonly size: number
  private count = 0
  /** Touched nodes by number in the core, and by node of the core its place among the touched ones, or -1. */
  private readonly touched = new Int32Array(MOST_TOUCHED)
  private readonly placeOf: Int32Array
  /** What has changed among the touched: conductances by row and column, leak, drive; and the size of all that came and went. */
  private readonly between = new Float64Array(MOST_TOUCHED * MOST_TOUCHED)
  private readonly leak = new Float64Array(MOST_TOUCHED)
  private readonly drive = new Float64Array(MOST_TOUCHED)
  private readonly volume = new Float64Array(MOST_TOUCHED)
  private readonly system = new Float64Array(MOST_TOUCHED * MOST_TOUCHED)
  private readonly right = new Float64Array(MOST_TOUCHED)
  private overfull = false

  constructor(private readonly tree: Tree) {
    this.first = tree.coreFirst
    this.size = tree.steps - tree.coreFirst
    this.placeOf = new Int32Array(this.size).fill(-1)
  }

  /** Inverse and solution of the core, from the fronts of an eliminated base; column by column, without a subtraction. */
  base(fronts: Fronts, largest: Float64Array): CoreBase {
    const { first, size, tree } = this
    const inverse = new Float64Array(size * size)
    const pivot = Float64Array.from({ length: size }, (_, i) => fronts.pivot(first + i))
    for (let j = 0; j < size; j += 1) {
      const column = inverse.subarray(j * size, (j + 1) * size)
      column[j] = 1
      this.substitute(fronts, pivot, j, column)
    }
    const solution = new Float64Array(size)
    for (let i = size - 1; i >= 0; i -= 1) {
      const at = fronts.from[first + i]
      solution[i] = fronts.row[at]
      for (let p = at + 1; p < fronts.from[first + i + 1]; p += 1) {
        solution[i] += fronts.row[p] * solution[tree.stepOf[fronts.node[p]] - first]
      }
    }
    return { inverse, solution, largest: Float64Array.from(tree.nodeOf.subarray(first), (node) => largest[node]) }
  }

  /** Solves the core alone for a right-hand side that is zero before place `from`; x takes its place. */
  private substitute(fronts: Fronts, pivot: Float64Array, from: number, x: Float64Array): void {
    const { from: start, node, row } = fronts
    const { first, size } = this
    const { stepOf } = this.tree
    for (let i = from; i < size; i += 1) {
      if (x[i] === 0) continue
      const at = start[first + i]
      const width = start[first + i + 1] - at
      x[i] /= pivot[i]
      for (let p = 1; p < width; p += 1) x[stepOf[node[at + p]] - first] += fronts.outFlow(first + i, p) * x[i]
    }
    for (let i = size - 1; i >= 0; i -= 1) {
      let sum = x[i]
      for (let p = start[first + i] + 1; p < start[first + i + 1]; p += 1) sum += row[p] * x[stepOf[node[p]] - first]
      x[i] = sum
    }
  }

  clear(): void {
    for (let k = 0; k < this.count; k += 1) this.placeOf[this.touched[k]] = -1
    this.count = 0
    this.overfull = false
  }

  private touch(node: number): number {
    const i = this.tree.stepOf[node] - this.first
    const known = this.placeOf[i]
    if (known >= 0) return known
    if (this.count === MOST_TOUCHED) {
      this.overfull = true
      return 0
    }
    const k = this.count
    this.count += 1
    this.placeOf[i] = k
    this.touched[k] = i
    for (let l = 0; l <= k; l += 1) {
      this.between[k * MOST_TOUCHED + l] = 0
      this.between[l * MOST_TOUCHED + k] = 0
    }
    this.leak[k] = 0
    this.drive[k] = 0
    this.volume[k] = 0
    return k
  }

  /** Counts what front e passes on to the core: with sign 1 as come, with -1 as gone. */
  pass({ from, node, leak, drive, matrixFrom, matrix }: Fronts, e: number, sign: number): void {
    const at = from[e]
    const width = from[e + 1] - at
    for (let i = 1; i < width; i += 1) {
      const k = this.touch(node[at + i])
      this.leak[k] += sign * leak[at + i]
      this.drive[k] += sign * drive[at + i]
      this.volume[k] += leak[at + i]
      for (let j = 1; j < width; j += 1) {
        if (j === i) continue
        const value = matrix[matrixFrom[e] + i * width + j]
        const l = this.touch(node[at + j])
        this.between[k * MOST_TOUCHED + l] += sign * value
        this.volume[k] += value
        this.volume[l] += value
      }
    }
  }

  /** Counts a branch that the core owns, with the numbers it has or had. */
  branch({ a, b, across }: Assembly, n: number, ga: number, gb: number, f0: number, sign: number): void {
    const { stepOf } = this.tree
    const k = stepOf[a[n]] < 0 ? -1 : this.touch(a[n])
    const l = stepOf[b[n]] < 0 ? -1 : this.touch(b[n])
    if (k >= 0) {
      this.volume[k] += ga + gb
      this.drive[k] -= sign * f0
    }
    if (l >= 0) {
      this.volume[l] += ga + gb
      this.drive[l] += sign * f0
    }
    if (k >= 0 && l >= 0) {
      this.between[k * MOST_TOUCHED + l] += sign * gb
      this.between[l * MOST_TOUCHED + k] += sign * ga
    } else if (k >= 0) {
      this.leak[k] += sign * ga
      this.drive[k] += sign * gb * across[b[n]]
    } else if (l >= 0) {
      this.leak[l] += sign * gb
      this.drive[l] += sign * ga * across[a[n]]
    }
  }

  /** Solves the core with what has changed into `across`. @returns false where rounding could cost too much */
  solve(base: CoreBase, across: Float64Array): boolean {
    if (this.overfull) return false
    const { first, size, count, touched, right, tree } = this
    this.arrange(base)
    const least = eliminateSmall(this.system, right, count)
    let reach = 0
    let largest = Number.POSITIVE_INFINITY
    for (let k = 0; k < count; k += 1) largest = Math.min(largest, base.largest[touched[k]])
    for (let k = 0; k < count; k += 1) reach += base.inverse[touched[k] * (size + 1)] * Math.abs(right[k])
    if (count > 0 && !(ROUNDING * reach <= MOST_ERROR * largest * least)) return false
    for (let i = 0; i < size; i += 1) {
      let x = base.solution[i]
      for (let k = 0; k < count; k += 1) x += base.inverse[touched[k] * size + i] * right[k]
      across[tree.nodeOf[first + i]] = x
    }
    return true
  }

  /** (1 + dS Z) y = db - dS x among the touched, every row over what rounding in it is measured against. */
  private arrange({ inverse, solution }: CoreBase): void {
    const { size, count, touched, between, system, right, leak, drive, volume } = this
    let widest = 0
    for (let k = 0; k < count; k += 1) widest = Math.max(widest, inverse[touched[k] * (size + 1)])
    for (let j = 0; j < count; j += 1) {
      let out = leak[j]
      for (let i = 0; i < count; i += 1) if (i !== j) out += between[i * MOST_TOUCHED + j]
      between[j * MOST_TOUCHED + j] = -out
    }
    for (let i = 0; i < count; i += 1) {
      const weight = 1 / (1 + volume[i] * widest)
      let rest = drive[i]
      for (let l = 0; l < count; l += 1) rest += between[i * MOST_TOUCHED + l] * solution[touched[l]]
      right[i] = weight * rest
      for (let j = 0; j < count; j += 1) {
        let sum = i === j ? 1 : 0
        for (let l = 0; l < count; l += 1) sum -= between[i * MOST_TOUCHED + l] * inverse[touched[j] * size + touched[l]]
        system[i * MOST_TOUCHED + j] = weight * sum
      }
    }
  }
}

/** Gauss elimination with partial pivoting; `right` becomes the solution. @returns the smallest pivot */
function eliminateSmall(matrix: Float64Array, right: Float64Array, count: number): number {
  let least = 1
  for (let c = 0; c < count; c += 1) {
    let best = c
    for (let r = c + 1; r < count; r += 1) {
      if (Math.abs(matrix[r * MOST_TOUCHED + c]) > Math.abs(matrix[best * MOST_TOUCHED + c])) best = r
    }
    if (best !== c) swapRows(matrix, right, c, best, count)
    const pivot = matrix[c * MOST_TOUCHED + c]
    least = Math.min(least, Math.abs(pivot))
    for (let r = c + 1; r < count; r += 1) {
      const share = matrix[r * MOST_TOUCHED + c] / pivot
      if (share === 0) continue
      right[r] -= share * right[c]
      for (let j = c + 1; j < count; j += 1) matrix[r * MOST_TOUCHED + j] -= share * matrix[c * MOST_TOUCHED + j]
    }
  }
  for (let r = count - 1; r >= 0; r -= 1) {
    for (let j = r + 1; j < count; j += 1) right[r] -= matrix[r * MOST_TOUCHED + j] * right[j]
    right[r] /= matrix[r * MOST_TOUCHED + r]
  }
  return least
}

function swapRows(matrix: Float64Array, right: Float64Array, p: number, q: number, count: number): void {
  for (let j = 0; j < count; j += 1) {
    const kept = matrix[p * MOST_TOUCHED + j]
    matrix[p * MOST_TOUCHED + j] = matrix[q * MOST_TOUCHED + j]
    matrix[q * MOST_TOUCHED + j] = kept
  }
  const kept = right[p]
  right[p] = right[q]
  right[q] = kept
}
