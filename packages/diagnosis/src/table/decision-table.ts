import { ASSUMPTIONS } from '@halfsplit/core'
import type { Predictive, TroubleRepair, TroubleSuspect, TroubleTask, TroubleTest } from '@halfsplit/inference'
import type { Bench } from '../bench.js'
import { repairCost, repairTarget } from '../cost.js'
import type { Standpoint } from '../effort.js'
import { predictCell } from '../next.js'
import { type Setup, setupKey } from '../setup.js'
import type { Test } from '../tests.js'
import type { Standing } from '../view.js'
import { type HeavyCell, heavyCells } from './heavy.js'
import { outcomesOf, type TableOutcome, type TestOutcomes } from './outcomes.js'
import { Positions } from './positions.js'
import { proofLook } from './proof-look.js'
import { suspectsOf, type TableSuspect } from './suspects.js'

/** A test of the table with what may come out of it. */
export interface TableTest {
  test: Test
  outcomes: readonly TableOutcome[]
  /** Tests that say the same in the same place and take no less, left out for this one. */
  insteadOf: readonly string[]
}

/** A standing as a finite decision problem. */
export interface DecisionTable {
  task: TroubleTask
  /** Aligned with `task.tests`. */
  tests: readonly TableTest[]
  /** Aligned with `task.suspects`. */
  suspects: readonly TableSuspect[]
  /** Share of the belief that is not in the table: lighter suspects, and *not in this description*. */
  leftOut: number
  notDescribed: number
  /** Looks that make up one proof. */
  proofLooks: number
}

export interface TableOptions {
  /** Where machine and technician are. */
  from: Standpoint
  /** Tests considered, as from `weighTests`; all of the bench unless given. */
  tests?: readonly Test[]
  /** Tests that can't be done here, by id. */
  excluded?: ReadonlySet<string>
  /** Share of the belief that the suspects are to hold, and the most sized hypotheses. */
  share?: number
  mostCells?: number
  /** Sized hypotheses of one set of repairs at most; any number unless given. */
  perRepair?: number
  /** Leaves out what needs no repair: the table of a machine known to be faulty. */
  faultyOnly?: boolean
  /** A sound machine stands among the suspects in any case, of weight 0 if it was left out. */
  withSound?: boolean
  /** What a cell predicts for probes in a setup; `predictCell` unless given. */
  predict?: (cell: number, setup: Setup, probes: readonly Test['probe'][]) => readonly Predictive[]
}

const SHARE = 0.985
const MOST_CELLS = 48
/** Tests that tell less about the repair, alone, are left out [bit]. */
const LEAST_BITS = 0.01

/**
 * The finite decision problem of a standing: suspects (sized hypotheses that the same repairs cure and all tests see alike), tests with
 * the outcomes that tell repairs apart and their chances under each suspect, repairs, proof, and what each costs from where one stands.
 * Given the suspect, tests count as independent: what readings share beyond the suspect's size (a supply, a meter's error) stands in
 * each chance, not between them.
 * Cost: a prediction of each test under each cell.
 */
export function decisionTable(bench: Bench, standing: Standing, options: TableOptions): DecisionTable {
  const { system } = bench
  const { share = SHARE, mostCells = MOST_CELLS, excluded } = options
  const { cells, whole, held } = heavyCells(standing, { ...options, share, most: mostCells })
  const tests = (options.tests ?? bench.tests).filter(({ id }) => !excluded?.has(id))
  const told = withoutSame(
    tellingTests(cells, tests, options.predict ?? ((cell, setup, probes) => predictCell(standing, cell, setup, probes))),
  )
  const suspects = suspectsOf(
    cells,
    told.map(({ rows }) => rows),
  )
  const proof = proofLook(
    system,
    standing,
    cells.map(({ cell, probability, repairs }) => ({ cell, probability, faulty: repairs.length > 0 })),
  )
  const missed = suspects.map((suspect) => meanOf(cells, suspects, suspect, (i) => proof.missed[i]))
  const task = taskOf(bench, { cells, suspects, told, missed }, proof, options.from)
  return {
    task,
    tests: told.map(({ test, outcomes, insteadOf }) => ({ test, outcomes, insteadOf })),
    suspects,
    leftOut: Math.max(0, whole - held) / (whole + standing.notDescribed),
    notDescribed: standing.notDescribed / (whole + standing.notDescribed),
    proofLooks: proof.looks,
  }
}

interface Told extends TestOutcomes {
  test: Test
  insteadOf: string[]
}

/** Tests with their outcomes, those left out that tell nothing. Tests of one setup are predicted together. */
function tellingTests(
  cells: readonly HeavyCell[],
  tests: readonly Test[],
  predict: NonNullable<TableOptions['predict']>,
): Told[] {
  const labels = [...new Set(cells.map(({ repairs }) => repairs.join(' + ')))]
  const classes = cells.map(({ repairs }) => labels.indexOf(repairs.join(' + ')))
  const bySetup = new Map<string, Test[]>()
  for (const test of tests) bySetup.set(setupKey(test.setup), [...(bySetup.get(setupKey(test.setup)) ?? []), test])
  return [...bySetup.values()]
    .flatMap((same) => {
      const probes = same.map(({ probe }) => probe)
      const seen = cells.map(({ cell }) => predict(cell, same[0].setup, probes))
      return same.map((test, t) => {
        const of = cells.map(({ probability }, i) => ({ probability, class: classes[i], predictive: seen[i][t] }))
        return { test, insteadOf: [], ...outcomesOf(test.probe, of, labels.length) }
      })
    })
    .filter(({ outcomes, information }) => outcomes.length > 1 && information >= LEAST_BITS)
}

/** Chances closer than this are the same. */
const SAME = 0.01

/** Of tests that say the same in one setup and place, the shortest; ties go by name. */
function withoutSame(tests: readonly Told[]): Told[] {
  const kept: Told[] = []
  const byMinutes = [...tests].sort((a, b) => a.test.minutes - b.test.minutes || (a.test.id < b.test.id ? -1 : 1))
  for (const one of byMinutes) {
    const same = kept.find((other) => isSame(one, other))
    if (same) same.insteadOf.push(one.test.id)
    else kept.push(one)
  }
  return kept.sort((a, b) => (a.test.id < b.test.id ? -1 : 1))
}

const isSame = (one: Told, other: Told): boolean =>
  one.outcomes.length === other.outcomes.length &&
  setupKey(one.test.setup) === setupKey(other.test.setup) &&
  [...one.test.places].sort().join() === [...other.test.places].sort().join() &&
  one.rows.every((row, i) => row.every((chance, o) => Math.abs(chance - other.rows[i][o]) <= SAME))

interface Content {
  cells: readonly HeavyCell[]
  suspects: readonly TableSuspect[]
  told: readonly Told[]
  missed: readonly number[]
}

function taskOf(
  bench: Bench,
  { cells, suspects, told, missed }: Content,
  proof: { at: Standpoint; minutes: number },
  from: Standpoint,
): TroubleTask {
  const { system } = bench
  const positions = new Positions(system)
  const start = positions.at(from)
  const proofAt = positions.at(proof.at)
  const names = [...new Set(suspects.flatMap(({ repairs }) => repairs))].sort()
  const repairs = names.map((name): TroubleRepair => {
    const { place } = repairTarget(system, name).part
    const { minutes, price } = repairCost(system, name, place === undefined ? [] : [place])
    return { id: name, place: place === undefined ? undefined : positions.placeOf([place]), time: minutes, price }
  })
  const tests = told.map(({ test, outcomes, rows }): TroubleTest => {
    const at = positions.at(test)
    const chances = suspects.flatMap((suspect) => outcomes.map((_, o) => meanOf(cells, suspects, suspect, (i) => rows[i][o])))
    return { id: test.id, ...at, time: test.minutes, outcomes: outcomes.length, chances: Float64Array.from(chances) }
  })
  return {
    suspects: suspects.map(
      ({ id, probability, repairs: needed, then }, s): TroubleSuspect => ({
        id,
        weight: probability,
        needs: needed.map((name) => names.indexOf(name)),
        then,
        missed: needed.length === 0 ? 0 : missed[s],
      }),
    ),
    tests,
    repairs,
    changes: positions.changes(),
    ways: positions.ways(),
    start,
    proof: { ...proofAt, time: proof.minutes },
    timeCost: ASSUMPTIONS.moneyPerMinute,
    comeback: { time: ASSUMPTIONS.comebackMinutes, price: ASSUMPTIONS.comebackMoney },
    badNewPart: ASSUMPTIONS.badNewPart,
  }
}

/** Mean over the cells of a suspect, by their probability; one without cells is as the suspect it comes from. */
function meanOf(
  cells: readonly HeavyCell[],
  suspects: readonly TableSuspect[],
  suspect: TableSuspect,
  of: (cell: number) => number,
): number {
  const list = suspect.cells.length > 0 ? suspect.cells : suspects[suspect.seenAs as number].cells
  const total = list.reduce((sum, i) => sum + cells[i].probability, 0)
  if (total === 0) return of(list[0])
  return list.reduce((sum, i) => sum + cells[i].probability * of(i), 0) / total
}
