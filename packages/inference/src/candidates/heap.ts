/** A binary heap: the first by `isBefore` is on top. */
export class Heap<T> {
  private readonly entries: T[] = []

  constructor(private readonly isBefore: (one: T, other: T) => boolean) {}

  get top(): T | undefined {
    return this.entries[0]
  }

  get all(): readonly T[] {
    return this.entries
  }

  push(entry: T): void {
    const { entries } = this
    let at = entries.length
    while (at > 0) {
      const above = (at - 1) >> 1
      if (!this.isBefore(entry, entries[above])) break
      entries[at] = entries[above]
      at = above
    }
    entries[at] = entry
  }

  /** Takes the top away. */
  pop(): void {
    const last = this.entries.pop()
    if (this.entries.length > 0) this.sink(last as T)
  }

  /** Puts the top where it belongs after it has changed; it may only have gone back. */
  renew(): void {
    this.sink(this.entries[0])
  }

  private sink(entry: T): void {
    const { entries } = this
    let at = 0
    for (;;) {
      let below = 2 * at + 1
      if (below >= entries.length) break
      if (below + 1 < entries.length && this.isBefore(entries[below + 1], entries[below])) below += 1
      if (!this.isBefore(entries[below], entry)) break
      entries[at] = entries[below]
      at = below
    }
    entries[at] = entry
  }
}
