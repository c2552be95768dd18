import type { Fronts } from './fronts.js'
import type { Path } from './path.js'

/** Across quantities of the nodes of a path, from the root down. */
export function substitutePath(fronts: Fronts, x: Float64Array): void {
  substitute(fronts, fronts.count - 1, 0, x)
}

/** Across quantities of every other node before the path's end, once those of the path are known. */
export function substituteRest(base: Fronts, path: Path, x: Float64Array): void {
  let above = path.end
  for (let q = path.length - 1; q >= 0; q -= 1) {
    substitute(base, above - 1, path.steps[q] + 1, x)
    above = path.steps[q]
  }
  substitute(base, above - 1, 0, x)
}

/** Across quantities of the watched nodes off the path; `watched` holds, with every step, its whole way to the root. */
export function substituteWatched(base: Fronts, path: Path, watched: Path, x: Float64Array): void {
  for (let q = watched.length - 1; q >= 0; q -= 1) {
    const s = watched.steps[q]
    if (s < path.end && !path.has(s)) substitute(base, s, s, x)
  }
}

/** Solves for another right-hand side, by node and zero off the path, with the eliminated path; the solution takes its place. */
export function solvePath(fronts: Fronts, x: Float64Array): void {
  const { from, node, row, count } = fronts
  for (let e = 0; e < count; e += 1) {
    const at = from[e]
    const width = from[e + 1] - at
    x[node[at]] /= fronts.pivot(e)
    if (x[node[at]] === 0) continue
    for (let i = 1; i < width; i += 1) x[node[at + i]] += fronts.outFlow(e, i) * x[node[at]]
  }
  for (let e = count - 1; e >= 0; e -= 1) {
    let sum = x[node[from[e]]]
    for (let i = from[e] + 1; i < from[e + 1]; i += 1) sum += row[i] * x[node[i]]
    x[node[from[e]]] = sum
  }
}

function substitute({ from, node, row }: Fronts, last: number, first: number, x: Float64Array): void {
  for (let e = last, end = from[last + 1]; e >= first; e -= 1) {
    const at = from[e]
    let sum = row[at]
    for (let i = at + 1; i < end; i += 1) sum += row[i] * x[node[i]]
    x[node[at]] = sum
    end = at
  }
}
