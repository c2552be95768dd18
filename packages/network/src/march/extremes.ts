import type { Frame } from './frame.js'

/** The highest and lowest of every node's across quantity so far, by name, so that they outlast a leg. */
export class Extremes {
  private names: readonly string[] = []
  private high = new Float64Array(0)
  private low = new Float64Array(0)
  readonly highest: Record<string, number> = {}
  readonly lowest: Record<string, number> = {}

  begin(names: readonly string[]): void {
    this.gather()
    this.names = names
    this.high = new Float64Array(names.length).fill(Number.NEGATIVE_INFINITY)
    this.low = new Float64Array(names.length).fill(Number.POSITIVE_INFINITY)
  }

  see({ across }: Frame): void {
    const { high, low } = this
    for (let i = 0; i < across.length; i += 1) {
      if (across[i] > high[i]) high[i] = across[i]
      if (across[i] < low[i]) low[i] = across[i]
    }
  }

  gather(): this {
    this.names.forEach((name, i) => {
      this.highest[name] = Math.max(this.highest[name] ?? Number.NEGATIVE_INFINITY, this.high[i])
      this.lowest[name] = Math.min(this.lowest[name] ?? Number.POSITIVE_INFINITY, this.low[i])
    })
    return this
  }
}
