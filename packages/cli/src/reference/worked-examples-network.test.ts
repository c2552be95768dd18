import { readFileSync } from 'node:fs'
import { expect, test } from 'vitest'
import { networkExample } from './worked-examples-network.js'

// Constructed with the formula of Sherman and Morrison, see the source line of the file.
const file = new URL('../../../../reference/worked-examples/network-single-fault-update.json', import.meta.url)
const example = JSON.parse(readFileSync(file, 'utf8')) as { inputs: { source: string; faults: string } }

test('healthy and faulty voltages of the worked example agree', () => {
  expect(networkExample(example)).toEqual({ id: 'network-single-fault-update', outcome: 'passed' })
})

test('another current gives other voltages, so the case fails', () => {
  const other = { ...example, inputs: { ...example.inputs, source: '2 A into node 1 from node 0' } }
  expect(networkExample(other).outcome).toBe('failed')
})

test('a source in other words is skipped with the reason', () => {
  const other = { ...example, inputs: { ...example.inputs, source: '5 V at node 1' } }
  expect(networkExample(other)).toMatchObject({ outcome: 'skipped', detail: expect.stringContaining('5 V at node 1') })
})

test('a small network of the same form, worked by hand', () => {
  // 2 A into node 7, two resistors of 10 ohm to node 0 by way of node 3: 40 V and 20 V; the lower one tripled: 80 V and 60 V.
  const byHand = {
    id: 'by-hand',
    topic: 'fault simulation',
    inputs: {
      resistors: [
        { name: 'upper', i: 7, j: 3, ohm: 10 },
        { name: 'lower', i: 3, j: 0, ohm: 10 },
      ],
      source: '2 A into node 7 from node 0',
      faults: 'tripled: 3 times the resistance',
    },
    expected: [
      { name: 'healthyVoltages', value: [20, 40], tolerance: 1e-9 },
      { name: 'faultyVoltages', value: [{ resistor: 'lower', fault: 'tripled', voltages: [60, 80] }], tolerance: 1e-9 },
    ],
  }
  expect(networkExample(byHand)).toEqual({ id: 'by-hand', outcome: 'passed' })
})
