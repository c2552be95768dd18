import { expect, test } from 'vitest'
import { libraryText, replaced, systemOf } from './library.js'
import { comparison, drawn, expectAgreement, predicted, type ThresholdCase } from './threshold-case.js'

const DRAWS = 2000

// K2 gets 17.8 V of 22.5 V through 80 Ohm in the tiller plug and pulls in at 18 V: about one machine in four starts.
const weak: ThresholdCase = {
  system: systemOf(replaced(libraryText('starting'), 'voltage: 12.6 V', 'voltage: 11.25 V'), 'starting.yaml'),
  fault: 'X21.1.high_resistance_contact',
  severity: 80,
  setup: { state: 'key_start' },
  look: 'K2.click',
  points: ['K2.coil_a K2.coil_b', 'STM.signal', 'X21.1/a X21.1/b', 'B1.plus'],
}

test('80 Ohm in the tiller plug at 22.5 V: prediction and drawn machines agree on both branches', () => {
  const bench = predicted(weak)
  const judge = drawn(weak, DRAWS, 'starting')
  console.log(comparison(`80 Ohm plug at 22.5 V, ${DRAWS} machines`, weak.points, bench, judge))
  expect(judge.on.share).toBeGreaterThan(0.1)
  expect(judge.on.share).toBeLessThan(0.9)
  expectAgreement(weak.points, bench, judge, DRAWS)
})
