import { readFileSync } from 'node:fs'
import { printIssue } from '@halfsplit/core'
import { settle } from '@halfsplit/network'
import { checkSystem, type Fault, nodeAt, Realiser, recipe, type System } from '@halfsplit/system'
import { expect, it } from 'vitest'

const file = new URL('../../library/trailer-lights/trailer-lights.yaml', import.meta.url)

function trailer(): System {
  const { system, issues } = checkSystem(readFileSync(file, 'utf8'), 'trailer-lights.yaml')
  expect(issues.map((one) => printIssue(one))).toEqual([])
  return system as System
}

/** GL of a good trailer has 2 mOhm of its own. */
const LEFT_GROUND: Record<string, Fault> = {
  '0.02 Ohm': { part: 'GL', mode: 'high_resistance', severity: 0.018 },
  '1 Ohm': { part: 'GL', mode: 'high_resistance', severity: 0.998 },
  '5 Ohm': { part: 'GL', mode: 'high_resistance', severity: 4.998 },
  open: { part: 'GL', mode: 'open' },
}

/** Volts between the points of a lamp in a state. The plate lamp is out: the table was solved without it. */
function volts(system: System, state: string, fault: Fault, red: string, black: string): number {
  const settings = new Map(system.defaults)
  for (const step of recipe(system, state)) for (const one of step) settings.set(`${one.part}.${one.setting}`, one.value)
  const conditions = { settings, faults: [fault], intervention: { do: 'unplug', parts: ['E1'] } as const }
  const settled = settle(new Realiser(system).realise(conditions).network)
  if (settled.status !== 'settled') throw new Error(settled.status)
  const at = (port: string) => settled.point.across[settled.circuit.index.get(nodeAt(system, port)) as number]
  return at(red) - at(black)
}

// Worked for this project by a separate calculation with feeds of 12.6 V (tail) and 12.4 V (stop, turn) and the filament law
// R ~ V^0.45, cold 1/12 of hot. 0.1 V: the wires here bring those feeds about, not exactly.
it.each([
  ['0.02 Ohm', 12.6, 12.6, 12.4, 12.4, 0.0, 0.0],
  ['1 Ohm', 12.1, 10.6, 10.4, 12.4, 0.5, 0.5],
  ['5 Ohm', 11.0, 5.6, 5.4, 12.4, 1.5, 1.5],
  ['open', 8.3, 0.15, -0.05, 12.4, 3.1, 3.1],
])('left ground of %s: the lamps share what the table says', (ground, tail, brakedTail, leftStop, rightStop, glow, stopGlow) => {
  const system = trailer()
  const seen = (state: string, red: string, black: string) => volts(system, state, LEFT_GROUND[ground], red, black)
  const rows: [number, number][] = [
    [seen('tail', 'L1.tail', 'L1.ground'), tail],
    [seen('tail_stop', 'L1.tail', 'L1.ground'), brakedTail],
    [seen('tail_stop', 'L1.stop', 'L1.ground'), leftStop],
    [seen('tail_stop', 'R1.stop', 'R1.ground'), rightStop],
    [Math.abs(seen('left_turn', 'L1.tail', 'L1.ground')), glow],
    [Math.abs(seen('left_turn', 'R1.stop', 'R1.ground')), stopGlow],
  ]
  for (const [got, want] of rows) expect(Math.abs(got - want)).toBeLessThan(0.1)
})
