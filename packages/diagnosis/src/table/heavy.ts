import { NOTHING_WRONG } from '../hypotheses.js'
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
  /** Share of the belief that the cells are to hold, 0 to 1. */
  share: number
  most: number
  /** Cells of one set of repairs at most; any number unless given. */
  perRepair?: number
  /** Leaves out what needs no repair. */
  faultyOnly?: boolean
  /** A sound machine is in the list in any case, of weight 0 if it was left out. */
  withSound?: boolean
}

export interface HeavyCells {
  cells: readonly HeavyCell[]
  /** Belief in all that could be in the list, and in what is. */
  whole: number
  held: number
}

/** The sized hypotheses that hold nearly all of the belief, heaviest first. */
export function heavyCells(standing: Standing, options: HeavyOptions): HeavyCells {
  const { share, most, perRepair = Number.POSITIVE_INFINITY, faultyOnly = false, withSound = false } = options
  const { sized, belief } = standing
  const all = sized.flatMap(({ faults }, cell) =>
    faultyOnly && faults.length === 0 ? [] : [{ cell, probability: belief.cellProbability[cell] }],
  )
  all.sort((p, q) => q.probability - p.probability || p.cell - q.cell)
  const whole = all.reduce((sum, { probability }) => sum + probability, 0)
  const cells: HeavyCell[] = []
  const ofRepair = new Map<string, number>()
  let held = 0
  for (const { cell, probability } of all) {
    if (cells.length >= most || held > share * whole || !(probability > 0)) break
    const one = describedCell(standing, cell, probability)
    const label = one.repairs.join()
    const before = ofRepair.get(label) ?? 0
    if (before >= perRepair) continue
    ofRepair.set(label, before + 1)
    cells.push(one)
    held += probability
  }
  const sound = sized.findIndex(({ hypothesis }) => standing.hypotheses[hypothesis].id === NOTHING_WRONG)
  if (withSound && !cells.some(({ cell }) => cell === sound)) cells.push(describedCell(standing, sound, 0))
  return { cells, whole, held }
}

function describedCell({ sized, hypotheses }: Standing, cell: number, probability: number): HeavyCell {
  const { faults } = hypotheses[sized[cell].hypothesis]
  const repairs = [...new Set(faults.map(({ repair }) => repair))].sort()
  return { cell, probability, repairs, faults: faults.map(({ id }) => id).sort() }
}
