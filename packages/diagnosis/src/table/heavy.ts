import type { Standing } from '../view.js'

/** A sized hypothesis that matters, with all the repairs it needs. */
export interface HeavyCell {
  cell: number
  probability: number
  /** Sorted by name; none where nothing is wrong. */
  repairs: readonly string[]
  /** Ids of its faults, sorted. */
  faults: readonly string[]
}

export interface HeavyOptions {
  /** Share of the described belief that the cells are to hold, 0 to 1. */
  share: number
  most: number
}

/** The sized hypotheses that hold nearly all of the belief, heaviest first. */
export function heavyCells({ sized, hypotheses, belief, notDescribed }: Standing, { share, most }: HeavyOptions): HeavyCell[] {
  const all = sized.map((_, cell) => ({ cell, probability: belief.cellProbability[cell] }))
  all.sort((p, q) => q.probability - p.probability || p.cell - q.cell)
  const enough = share * (1 - notDescribed)
  const heavy: HeavyCell[] = []
  let sum = 0
  for (const { cell, probability } of all) {
    if (heavy.length >= most || sum > enough || !(probability > 0)) break
    sum += probability
    const { faults } = hypotheses[sized[cell].hypothesis]
    const repairs = [...new Set(faults.map(({ repair }) => repair))].sort()
    heavy.push({ cell, probability, repairs, faults: faults.map(({ id }) => id).sort() })
  }
  return heavy
}
