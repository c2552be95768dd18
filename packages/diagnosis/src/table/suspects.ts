import type { HeavyCell } from './heavy.js'

/** Cells that one repair cures and that all tests see alike. */
export interface TableSuspect {
  id: string
  repairs: readonly string[]
  /** Ids of the faults of its heaviest cell. */
  faults: readonly string[]
  probability: number
  /** What it is made of: faults, with the belief in the sizes of theirs that stand here. */
  members: readonly { faults: readonly string[]; probability: number }[]
  /** Numbers in the list of heavy cells, heaviest first; none for a suspect that is only reached by a repair. */
  cells: readonly number[]
  /** Suspect that it is after each of its repairs alone, aligned with `repairs`; none for a single one. */
  then?: readonly number[]
  /** The suspect whose chances it shares, where it has no cells of its own. */
  seenAs?: number
}

/** Chances closer than this are alike: no more than an observer slips. */
const ALIKE = 0.05

/**
 * Cells grouped by repairs and by what the tests show of them, so that sizes that look different stay apart.
 * @param rows by test and cell
 */
export function suspectsOf(cells: readonly HeavyCell[], rows: readonly (readonly Float64Array[])[]): TableSuspect[] {
  const groups: { label: string; cells: number[] }[] = []
  for (const [i, { repairs }] of cells.entries()) {
    const label = repairs.join(' + ')
    const group = groups.find((one) => one.label === label && isAlike(rows, one.cells[0], i))
    if (group) group.cells.push(i)
    else groups.push({ label, cells: [i] })
  }
  const found: TableSuspect[] = groups.map(({ cells: list }) => ({
    id: '',
    repairs: cells[list[0]].repairs,
    faults: cells[list[0]].faults,
    probability: list.reduce((sum, i) => sum + cells[i].probability, 0),
    members: membersOf(list.map((i) => cells[i])),
    cells: list,
  }))
  addHalfMended(found, cells)
  return found.map((one, s) => ({ ...one, id: `${one.faults.join(' & ') || 'nothing wrong'} #${s}` }))
}

function membersOf(cells: readonly HeavyCell[]): TableSuspect['members'] {
  const found = new Map<string, { faults: readonly string[]; probability: number }>()
  for (const { faults, probability } of cells) {
    const key = faults.join(' & ')
    found.set(key, { faults, probability: probability + (found.get(key)?.probability ?? 0) })
  }
  return [...found.values()]
}

function isAlike(rows: readonly (readonly Float64Array[])[], one: number, other: number): boolean {
  return rows.every((test) => test[one].every((chance, o) => Math.abs(chance - test[other][o]) <= ALIKE))
}

/** What is left after one of several repairs: the suspect of the other fault alone if there is one, else one that looks as before. */
function addHalfMended(found: TableSuspect[], cells: readonly HeavyCell[]): void {
  for (let s = 0; s < found.length; s++) {
    const { repairs, seenAs } = found[s]
    if (repairs.length < 2) continue
    const then = repairs.map((repair) => {
      const rest = repairs.filter((one) => one !== repair)
      const known = found.findIndex((one) => one.repairs.join() === rest.join() && isPartOf(one, found[s], cells))
      if (known >= 0) return known
      return (
        found.push({
          id: '',
          repairs: rest,
          faults: found[s].faults,
          probability: 0,
          members: [],
          cells: [],
          seenAs: seenAs ?? s,
        }) - 1
      )
    })
    found[s] = { ...found[s], then }
  }
}

const isPartOf = (one: TableSuspect, whole: TableSuspect, cells: readonly HeavyCell[]): boolean =>
  one.cells.some((i) => cells[i].faults.every((fault) => whole.faults.includes(fault))) || one.seenAs !== undefined
