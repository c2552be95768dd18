import { describe, expect, test } from 'vitest'
import practice from '../../../reference/trade-practice.json' with { type: 'json' }
import { modeIncidence } from './incidence.js'
import type { Kind } from './kind.js'
import { KINDS } from './registry.js'

/**
 * Source of every figure here: reference/trade-practice.json, the project's own compilation of trade practice, working judgement
 * (common practice, no source). A kind's modes are held against its rows: the incidence of what a row became, times what it is
 * counted per, must be the table's incidence times the row's share.
 */
interface Source {
  rows: string
  /** Where a mode is not called as its row: mode -> row. Several modes may share a row. */
  renamed?: Readonly<Record<string, string>>
  /** How many of the kind make up what the table counts as one; 1 unless said. */
  per?: number
}

const SOURCES: Readonly<Record<string, readonly Source[]>> = {
  'air-clutch': [{ rows: 'clutch' }],
  'air-supply': [{ rows: 'air_governor_and_dryer' }],
  battery: [{ rows: 'battery' }],
  'coolant-pump': [{ rows: 'pump' }],
  'delay-module': [{ rows: 'control_module' }],
  diode: [{ rows: 'diode' }],
  fitting: [{ rows: 'fitting' }],
  fuse: [{ rows: 'fuse' }],
  ground: [{ rows: 'ground' }],
  hose: [{ rows: 'hose' }],
  'key-switch': [
    {
      rows: 'switch',
      renamed: {
        run_high_contact_resistance: 'high_contact_resistance',
        start_high_contact_resistance: 'high_contact_resistance',
        run_open: 'open',
        start_open: 'open',
        run_stuck_closed: 'stuck_closed',
        start_stuck_closed: 'stuck_closed',
      },
    },
  ],
  lamp: [{ rows: 'lamp' }],
  motor: [{ rows: 'motor' }],
  pin: [{ rows: 'connector', per: 2 }],
  'pressure-switch': [{ rows: 'pressure_switch' }],
  regulator: [{ rows: 'regulator' }],
  relay: [{ rows: 'relay', renamed: { coil_open: 'no_pull_in' } }],
  'solenoid-valve-2-2': [
    {
      rows: 'solenoid_valve',
      renamed: {
        sticks_at_rest: 'sticks_or_slow',
        sticks_operated: 'sticks_or_slow',
        coil_opens_when_hot: 'coil_open',
        filter_blocked: 'exhaust_or_filter_blocked',
      },
    },
  ],
  'solenoid-valve-3-2': [
    {
      rows: 'solenoid_valve',
      renamed: { sticks_at_rest: 'sticks_or_slow', sticks_operated: 'sticks_or_slow', coil_opens_when_hot: 'coil_open' },
    },
  ],
  splice: [{ rows: 'splice' }],
  starter: [{ rows: 'motor' }, { rows: 'relay', renamed: { pull_winding_open: 'no_pull_in', hold_winding_open: 'no_pull_in' } }],
  switch: [{ rows: 'switch' }],
  'temperature-switch': [{ rows: 'thermal_switch' }],
  'twin-lamp': [{ rows: 'lamp', renamed: { tail_filament_open: 'filament_open', stop_filament_open: 'filament_open' } }],
  wire: [{ rows: 'wire' }],
}

/** Kinds for which the table has no rows: their modes are assumptions, as their files say. */
const NOT_IN_TABLE = ['coolant', 'engine-coolant', 'fan', 'load', 'radiator', 'resistor', 'screen', 'thermostat']

/** Share of a row, by kind and row, that is left out of the kind, with the reason. What is not named here must be there in full. */
const LEFT_OUT: Readonly<Record<string, Readonly<Record<string, readonly [number, string]>>>> = {
  'air-clutch': { heat_fuse_or_overheat_release_blown: [0.02, 'follows from slipping, whatever made it slip'] },
  'air-supply': {
    desiccant_spent_heater_dead: [0.17, 'shows as water and ice downstream, over days'],
    check_valve_leaks: [0.15, 'shows at a purge, not at rest'],
  },
  battery: {
    discharged_by_something_else: [0.14, 'the cause is a draw or a charging fault elsewhere'],
    series_pair_unequal_24_v: [0.02, 'takes two batteries described one by one'],
  },
  'coolant-pump': { starved_or_drawing_air: [0.22, 'the cause is the level of the coolant'] },
  'delay-module': { missing_feed_ground_or_input_not_the_module: [0.45, 'the cause is in the wiring'] },
  fitting: { draws_air_suction_side: [0.03, 'is of oil on the suction side'] },
  fuse: { open_by_overload: [0.55, 'the cause is the overload; kept as a consequence, share 0'] },
  hose: { swapped_at_reconnection: [0.03, 'takes two hoses to describe'] },
  'key-switch': { out_of_adjustment: [0.2, 'no lever has to reach it'] },
  lamp: { filament_shorted_to_its_neighbour: [0.05, 'takes a twin lamp'] },
  pin: { wrong_or_crossed_position: [0.02, 'takes two pins to describe'] },
  relay: {
    no_pull_in: [0.16, 'a third is the coil; the rest is feed, ground, supply or heat, which the model brings about'],
    suppression_part_shorted: [0.02, 'this relay has none; a diode across it is a part of its own'],
    suppression_part_open: [0.02, 'this relay has none; a diode across it is a part of its own'],
  },
  splice: { wrong_wire_joined: [0.03, 'takes a second wire to describe'] },
  starter: {
    no_pull_in: [0.16, 'as for the relay'],
    socket_contact: [0.22, 'its terminals are studs: wires and their joints are parts of their own'],
    intermittent: [0.07, 'counted with its brushes'],
    coil_partly_shorted: [0.03, 'small against the rest of a starter'],
    suppression_part_shorted: [0.02, 'it has none'],
    suppression_part_open: [0.02, 'it has none'],
  },
}

type Table = Record<string, { relative_incidence: number; modes: { id: string; relative_rate: number }[] }>
const TABLE: Table = practice.failure_modes

const rowOf = (source: Source, mode: string): string => source.renamed?.[mode] ?? mode

/** Incidence of the modes that a row became, as the table counts. */
function incidenceOf(kind: Kind, source: Source, row: string): number {
  const own = kind.modes.filter((mode) => rowOf(source, mode.id) === row)
  return own.reduce((sum, mode) => sum + modeIncidence(kind, mode.id), 0) * (source.per ?? 1)
}

describe('failure modes against the table of trade practice', () => {
  test('every kind has its rows, or is said to have none', () => {
    expect([...Object.keys(SOURCES), ...NOT_IN_TABLE].sort()).toEqual([...KINDS.keys()].sort())
  })

  test.each(Object.entries(SOURCES))('%s: every mode is a row of the table', (name, sources) => {
    const rows = sources.flatMap((source) => TABLE[source.rows].modes.map((row) => row.id))
    const modes = KINDS.get(name)?.modes ?? []
    const known = (mode: string) => sources.some((source) => rows.includes(rowOf(source, mode)))
    expect(modes.map((mode) => mode.id).filter((mode) => !known(mode))).toEqual([])
  })

  test.each(Object.entries(SOURCES))('%s: every row has its incidence, less what is left out', (name, sources) => {
    const kind = KINDS.get(name) as Kind
    for (const source of sources) {
      const { relative_incidence: incidence, modes } = TABLE[source.rows]
      for (const row of modes) {
        const share = row.relative_rate - (LEFT_OUT[name]?.[row.id]?.[0] ?? 0)
        // Shares are given to two digits; halves of them are summed.
        expect(incidenceOf(kind, source, row.id), `${source.rows}.${row.id}`).toBeCloseTo(incidence * share, 9)
      }
    }
  })

  test('what is left out is in the table', () => {
    const unknown = Object.entries(LEFT_OUT).flatMap(([name, rows]) =>
      Object.keys(rows).filter((row) => !SOURCES[name].some((source) => TABLE[source.rows].modes.some((one) => one.id === row))),
    )
    expect(unknown).toEqual([])
  })
})
