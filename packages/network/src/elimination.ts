/**
 * Elimination without subtraction for the matrices of flow networks.
 *
 * What leaves node j arrives elsewhere, so the Jacobian is J = D - W with W >= 0 and column sums `excess` >= 0 (what leaks to
 * a held node). Storing W and the excess instead of the diagonal, every step only adds, multiplies and divides positive
 * numbers; a cut-off node behind milliohms and gigaohms keeps fifteen digits where plain LU keeps five.
 * Source: W. K. Grassmann, M. I. Taksar, D. P. Heyman, Operations Research 33 (1985) 1107-1116 (from memory).
 */

/** The order of elimination and every slot it touches, worked out once for a pattern of connections. */
export interface Pattern {
  size: number
  /** Directed slots: slot(i, j) holds w_ij, the share of x_j in the balance of node i. */
  slots: number
  slotOf: (i: number, j: number) => number
  order: Int32Array
  /** For step s: neighbours[start[s] .. start[s+1]) with their slots in both directions. */
  start: Int32Array
  neighbour: Int32Array
  toPivot: Int32Array
  fromPivot: Int32Array
  /** For step s: the slots of all ordered pairs of neighbours, in the order of two nested loops. */
  fillStart: Int32Array
  fill: Int32Array
}

/** Minimum-degree order (ties to the lowest index), with fill. Cost about n (d^2 + log n) for networks that are nearly trees. */
export function analysePattern(size: number, edges: readonly (readonly [number, number])[]): Pattern {
  const adjacent: Set<number>[] = Array.from({ length: size }, () => new Set())
  const slot = new Map<number, number>()
  const connect = (i: number, j: number) => {
    if (i === j || adjacent[i].has(j)) return
    adjacent[i].add(j)
    adjacent[j].add(i)
    if (slot.has(i * size + j)) return
    slot.set(i * size + j, slot.size)
    slot.set(j * size + i, slot.size)
  }
  for (const [i, j] of edges) connect(i, j)
  const slotOf = (i: number, j: number) => slot.get(i * size + j) as number

  const order = new Int32Array(size)
  const start = new Int32Array(size + 1)
  const fillStart = new Int32Array(size + 1)
  const neighbour: number[] = []
  const toPivot: number[] = []
  const fromPivot: number[] = []
  const fill: number[] = []
  const queue = new DegreeQueue(adjacent)
  for (let step = 0; step < size; step += 1) {
    const k = queue.take()
    const around = [...adjacent[k]].sort((p, q) => p - q)
    for (const i of around) for (const j of around) if (i < j) connect(i, j)
    for (const i of around) {
      neighbour.push(i)
      toPivot.push(slotOf(i, k))
      fromPivot.push(slotOf(k, i))
      for (const j of around) if (i !== j) fill.push(slotOf(i, j))
      adjacent[i].delete(k)
    }
    adjacent[k].clear()
    for (const i of around) queue.put(i)
    order[step] = k
    start[step + 1] = neighbour.length
    fillStart[step + 1] = fill.length
  }
  return {
    size,
    slots: slot.size,
    slotOf,
    order,
    start,
    fillStart,
    neighbour: Int32Array.from(neighbour),
    toPivot: Int32Array.from(toPivot),
    fromPivot: Int32Array.from(fromPivot),
    fill: Int32Array.from(fill),
  }
}

/** Nodes by degree, then by index: a binary heap in which a node whose degree has moved stands again, its old places void. */
class DegreeQueue {
  private readonly heap: number[] = []
  private readonly taken: Uint8Array

  constructor(private readonly adjacent: readonly ReadonlySet<number>[]) {
    this.taken = new Uint8Array(adjacent.length)
    for (let i = 0; i < adjacent.length; i += 1) this.put(i)
  }

  /** Both sort keys in one number: degree and index are each below the count of nodes. */
  private key(i: number): number {
    return this.adjacent[i].size * this.adjacent.length + i
  }

  put(i: number): void {
    const { heap } = this
    const key = this.key(i)
    let at = heap.length
    heap.push(key)
    for (let up = (at - 1) >> 1; at > 0 && heap[up] > key; up = (at - 1) >> 1) {
      heap[at] = heap[up]
      at = up
    }
    heap[at] = key
  }

  take(): number {
    for (;;) {
      const key = this.heap[0]
      this.removeFirst()
      const i = key % this.adjacent.length
      if (this.taken[i] || key !== this.key(i)) continue
      this.taken[i] = 1
      return i
    }
  }

  private removeFirst(): void {
    const { heap } = this
    const key = heap.pop() as number
    if (heap.length === 0) return
    let at = 0
    for (;;) {
      let down = 2 * at + 1
      if (down >= heap.length) break
      if (down + 1 < heap.length && heap[down + 1] < heap[down]) down += 1
      if (heap[down] >= key) break
      heap[at] = heap[down]
      at = down
    }
    heap[at] = key
  }
}

/** Eliminates in place: `w` by slot and `excess` by node; fills `pivot` by node. Every entry stays >= 0. */
export function eliminate(pattern: Pattern, w: Float64Array, excess: Float64Array, pivot: Float64Array): void {
  const { order, start, neighbour, toPivot, fromPivot, fillStart, fill, size } = pattern
  for (let s = 0; s < size; s += 1) {
    const k = order[s]
    const from = start[s]
    const to = start[s + 1]
    let d = excess[k]
    for (let p = from; p < to; p += 1) d += w[toPivot[p]]
    pivot[k] = d
    let q = fillStart[s]
    const leak = excess[k] / d
    for (let p = from; p < to; p += 1) {
      excess[neighbour[p]] += w[fromPivot[p]] * leak
      const share = w[toPivot[p]] / d
      for (let r = from; r < to; r += 1) {
        if (r !== p) w[fill[q++]] += share * w[fromPivot[r]]
      }
    }
  }
}

/** Solves J x = b after `eliminate`; b is overwritten by x. */
export function solve(pattern: Pattern, w: Float64Array, pivot: Float64Array, b: Float64Array): void {
  substitute(pattern, w, pivot, b, pattern.toPivot, pattern.fromPivot)
}

/** Solves J' y = c (the adjoint) after `eliminate`; c is overwritten by y. */
export function solveTransposed(pattern: Pattern, w: Float64Array, pivot: Float64Array, c: Float64Array): void {
  substitute(pattern, w, pivot, c, pattern.fromPivot, pattern.toPivot)
}

function substitute(
  { order, start, neighbour, size }: Pattern,
  w: Float64Array,
  pivot: Float64Array,
  b: Float64Array,
  forward: Int32Array,
  backward: Int32Array,
): void {
  for (let s = 0; s < size; s += 1) {
    const k = order[s]
    const share = b[k] / pivot[k]
    if (share !== 0) for (let p = start[s]; p < start[s + 1]; p += 1) b[neighbour[p]] += w[forward[p]] * share
  }
  for (let s = size - 1; s >= 0; s -= 1) {
    const k = order[s]
    let sum = b[k]
    for (let p = start[s]; p < start[s + 1]; p += 1) sum += w[backward[p]] * b[neighbour[p]]
    b[k] = sum / pivot[k]
  }
}
