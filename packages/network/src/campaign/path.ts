import type { Tree } from './tree.js'

/** Steps to eliminate anew, ascending: with every step its whole way to the root of the elimination tree. */
export class Path {
  readonly steps: Int32Array
  length = 0
  private readonly mark: Int32Array
  private readonly run: Int32Array
  private round = 1
  /** Steps from here on are left out. */
  end: number

  constructor(private readonly tree: Tree) {
    this.end = tree.steps
    this.steps = new Int32Array(tree.steps)
    this.run = new Int32Array(tree.steps)
    this.mark = new Int32Array(tree.steps)
  }

  clear(): void {
    this.round += 1
    this.length = 0
  }

  /** Every step there is. */
  fill(): void {
    this.clear()
    for (let s = 0; s < this.tree.steps; s += 1) this.steps[s] = s
    this.mark.fill(this.round)
    this.length = this.tree.steps
  }

  has(step: number): boolean {
    return this.mark[step] === this.round
  }

  /** Adds a step and its way to the root; -1, a held node, adds nothing. */
  add(step: number): void {
    const { mark, run, round } = this
    const { parent } = this.tree
    let found = 0
    for (let s = step; s >= 0 && s < this.end && mark[s] !== round; s = parent[s]) {
      mark[s] = round
      run[found] = s
      found += 1
    }
    this.merge(found)
  }

  /** Merges the ascending run into the ascending steps, from behind. */
  private merge(found: number): void {
    const { steps, run } = this
    let p = this.length - 1
    let q = found - 1
    this.length += found
    for (let at = this.length - 1; q >= 0; at -= 1) {
      if (p >= 0 && steps[p] > run[q]) {
        steps[at] = steps[p]
        p -= 1
      } else {
        steps[at] = run[q]
        q -= 1
      }
    }
  }

  /** Starts from the steps of another path of the same tree. */
  copy(other: Path): void {
    this.clear()
    for (let i = 0; i < other.length; i += 1) {
      this.steps[i] = other.steps[i]
      this.mark[other.steps[i]] = this.round
    }
    this.length = other.length
  }
}
