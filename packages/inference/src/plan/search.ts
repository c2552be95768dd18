/**
 * Exact AND/OR search, best first, memoised on what is left: the cost of every node is bounded from below, the bound of the most
 * promising choice is raised until it is proved, and the bound of the root is valid at every moment.
 *
 * The order is that of AO* (A. Martelli, U. Montanari, 1973; N. J. Nilsson, 1980), walked depth first with thresholds as in RBFS
 * (R. E. Korf, 1993) so that a node is left only when another way has become the better one; from memory.
 */

import type { Choice, DecisionProblem } from './problem.js'

/** A node of the graph with what is proved of it. `lower` is weighted, and exact once the vertex is closed. */
export interface Vertex<Node, Action> {
  readonly node: Node
  lower: number
  isClosed: boolean
  /** Its choices, once it was looked into. */
  edges?: readonly Edge<Node, Action>[]
  /** The choice that looks best, and is best once the vertex is closed; none at an end. */
  best?: Edge<Node, Action>
}

/** A choice with the vertices it leads to; `cost` is weighted. */
export interface Edge<Node, Action> {
  readonly action: Action
  readonly price: number
  readonly cost: number
  readonly outcomes: readonly number[]
  readonly children: readonly Vertex<Node, Action>[]
}

/** Costs closer than this share of the root's cost are equal: rounding of the sums. */
const ROUNDING = 1e-13

/** A node is worked at until it is worse than the next best by this share: fewer changes of mind, the same result. */
const PATIENCE = 1e-3

/** Search over one problem. Vertices are kept, so that later questions cost little. */
export class AndOrSearch<Node, Action> {
  readonly root: Vertex<Node, Action>
  private readonly vertices = new Map<string, Vertex<Node, Action>>()

  /** @param limit vertices that may be made; the search stops there, its bounds still valid */
  constructor(
    private readonly problem: DecisionProblem<Node, Action>,
    private readonly limit: number,
  ) {
    this.root = this.vertexOf(problem.root)
  }

  /** Vertices made so far: what memory and time go with. */
  get made(): number {
    return this.vertices.size
  }

  get isExhausted(): boolean {
    return this.vertices.size >= this.limit
  }

  /** Raises the bound of a vertex until it is exact, above the threshold, or the limit of vertices is reached. */
  raise(vertex: Vertex<Node, Action>, threshold: number): void {
    while (!vertex.isClosed && vertex.lower <= threshold) {
      if (vertex.edges === undefined) {
        if (this.isExhausted) return
        vertex.edges = this.problem
          .undominated(vertex.node, this.problem.choicesOf(vertex.node))
          .map((choice) => this.edgeOf(vertex, choice))
      }
      const second = this.settle(vertex)
      if (vertex.isClosed || vertex.lower > threshold || this.isExhausted) return
      this.raiseEdge(vertex.best as Edge<Node, Action>, Math.min(second, threshold))
    }
  }

  /** Raises an edge's bound by its costliest open child, until the edge is above the threshold or that child is closed. */
  private raiseEdge(edge: Edge<Node, Action>, threshold: number): void {
    const open = edge.children.filter(({ isClosed }) => !isClosed)
    const child = open.reduce((most, one) => (one.lower > most.lower ? one : most))
    this.raise(child, child.lower + Math.max(0, threshold - lowerOf(edge)) + PATIENCE * child.lower)
  }

  /** Weighted cost of a plan that begins with a choice at the root: exact, or a bound above the threshold or at the limit. */
  costIfFirst(choice: Choice<Node, Action>, threshold: number): { cost: number; isExact: boolean } {
    const edge = this.edgeOf(this.root, choice)
    const isOpen = () => edge.children.some(({ isClosed }) => !isClosed)
    while (isOpen() && lowerOf(edge) <= threshold && !this.isExhausted) this.raiseEdge(edge, threshold)
    return { cost: lowerOf(edge), isExact: !isOpen() }
  }

  /** Takes over the best of the edges; returns the bound of the second best. */
  private settle(vertex: Vertex<Node, Action>): number {
    const same = ROUNDING * this.root.lower
    let best: Edge<Node, Action> | undefined
    let least = Number.POSITIVE_INFINITY
    let second = Number.POSITIVE_INFINITY
    for (const edge of vertex.edges ?? []) {
      const lower = lowerOf(edge)
      const isBetter = lower < least - same || (lower <= least + same && isClosed(edge) && !(best && isClosed(best)))
      second = Math.min(second, isBetter ? least : lower)
      if (isBetter || best === undefined) [best, least] = [edge, lower]
    }
    vertex.best = best
    vertex.isClosed = best === undefined || least === Number.POSITIVE_INFINITY || isClosed(best)
    vertex.lower = vertex.isClosed ? least : Math.max(vertex.lower, least)
    return second
  }

  private edgeOf(vertex: Vertex<Node, Action>, { action, price, branches }: Choice<Node, Action>): Edge<Node, Action> {
    return {
      action,
      price,
      cost: price * this.problem.weightOf(vertex.node),
      outcomes: branches.map(({ outcome }) => outcome),
      children: branches.map(({ next }) => this.vertexOf(next)),
    }
  }

  private vertexOf(node: Node): Vertex<Node, Action> {
    const key = this.problem.keyOf(node)
    const known = this.vertices.get(key)
    if (known !== undefined) return known
    const end = this.problem.endCostOf(node)
    const vertex = { node, lower: end ?? this.problem.boundOf(node), isClosed: end !== undefined }
    this.vertices.set(key, vertex)
    return vertex
  }
}

function lowerOf<Node, Action>({ cost, children }: Edge<Node, Action>): number {
  let sum = cost
  for (const { lower } of children) sum += lower
  return sum
}

const isClosed = <Node, Action>({ children }: Edge<Node, Action>): boolean => children.every((child) => child.isClosed)
