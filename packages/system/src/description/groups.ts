/** Things numbered from 0, gathered into groups; a group goes by its lowest number. */
export class Groups {
  private readonly parent: number[]

  constructor(count: number) {
    this.parent = Array.from({ length: count }, (_, i) => i)
  }

  copy(): Groups {
    const twin = new Groups(0)
    twin.parent.push(...this.parent)
    return twin
  }

  of(i: number): number {
    let root = i
    while (this.parent[root] !== root) root = this.parent[root]
    this.parent[i] = root
    return root
  }

  same(i: number, j: number): boolean {
    return this.of(i) === this.of(j)
  }

  join(i: number, j: number): void {
    const [low, high] = [Math.min(this.of(i), this.of(j)), Math.max(this.of(i), this.of(j))]
    this.parent[high] = low
  }
}
