import fc from 'fast-check'
import { expect, test } from 'vitest'
import { plainValue, randomGates } from '../testing/random-gates.js'
import { type FailingLogic, failingLogic } from './failing.js'
import { compileGates, evaluateGates, type GateNetwork } from './gates.js'
import { InvertedGates } from './inverted.js'

const vectorsOf = (inputs: number): boolean[][] =>
  Array.from({ length: 2 ** inputs }, (_, row) => Array.from({ length: inputs }, (_, n) => ((row >> n) & 1) === 1))

/** All vectors of up to five inputs stand side by side in one word. */
const packedVectors = (inputs: number): Int32Array =>
  Int32Array.from({ length: inputs }, (_, place) =>
    vectorsOf(inputs).reduce((word, vector, n) => (vector[place] ? word | (1 << n) : word), 0),
  )

test('all vectors of a word come out as a recursive evaluation has them', () => {
  fc.assert(
    fc.property(randomGates(12), (network) => {
      const gates = compileGates(network)
      const words = new Int32Array(gates.nets.length)
      words.set(packedVectors(gates.inputs))
      evaluateGates(gates, words)
      vectorsOf(gates.inputs).forEach((vector, n) => {
        gates.nets.forEach((net, place) => expect(((words[place] >>> n) & 1) === 1).toBe(plainValue(network, net, vector)))
      })
    }),
  )
})

test('inverted gates, evaluated along their cones, are as evaluated afresh, and restored as at first', () => {
  fc.assert(
    fc.property(randomGates(12), fc.array(fc.tuple(fc.nat(11), fc.integer()), { maxLength: 4 }), (network, picks) => {
      const gates = compileGates(network)
      const worlds = new InvertedGates(gates, packedVectors(gates.inputs))
      const sound = worlds.words.slice()
      const inverted = picks.map(([pick, mask]) => ({ gate: pick % network.gates.length, mask }))
      for (const { gate, mask } of inverted) worlds.invert(gate, mask)
      worlds.evaluate()
      vectorsOf(gates.inputs).forEach((vector, n) => {
        const faulty = inverted.filter(({ mask }) => (mask >>> n) & 1).map(({ gate }) => gates.nets[gates.inputs + gate])
        gates.nets.forEach((net, place) =>
          expect(((worlds.words[place] >>> n) & 1) === 1).toBe(plainValue(network, net, vector, faulty)),
        )
      })
      worlds.restore()
      expect(worlds.words).toEqual(sound)
    }),
  )
})

/** Outputs with these gates inverted. */
const seenWith = (network: GateNetwork, vector: readonly boolean[], faulty: readonly string[]): boolean[] =>
  network.outputs.map((net) => plainValue(network, net, vector, faulty))

/** All sets of gates, by number. */
const everySet = (gates: number): number[][] =>
  Array.from({ length: 2 ** gates }, (_, bits) => Array.from({ length: gates }, (_, n) => n).filter((n) => (bits >> n) & 1))

interface Seen {
  network: GateNetwork
  logic: FailingLogic
  explaining: number[][]
}

/** What is seen of a network with some of its gates inverted, and every set of gates that explains it. */
function seen(network: GateNetwork, rows: readonly number[], faults: readonly (readonly number[])[]): Seen {
  const gates = compileGates(network)
  const nameOf = (gate: number) => gates.nets[gates.inputs + gate]
  const observations = rows.map((row, n) => {
    const vector = vectorsOf(gates.inputs)[row % 2 ** gates.inputs]
    return {
      inputs: vector,
      outputs: seenWith(
        network,
        vector,
        faults[n].map((gate) => nameOf(gate % network.gates.length)),
      ),
    }
  })
  const works = ({ inputs, outputs }: (typeof observations)[number], set: readonly number[]) =>
    seenWith(network, inputs, set.map(nameOf)).join() === outputs.join()
  const all = everySet(network.gates.length)
  const within = (set: readonly number[]) => all.filter((some) => some.every((gate) => set.includes(gate)))
  const explains = (set: readonly number[]) =>
    observations.length === 1
      ? works(observations[0], set)
      : observations.every((one) => within(set).some((some) => works(one, some)))
  return { network, logic: failingLogic(gates, observations), explaining: all.filter(explains) }
}

const faults = fc.array(fc.nat(20), { maxLength: 3 })
const oneSeen = fc.tuple(randomGates(6), fc.nat(31), faults).map(([network, row, fault]) => seen(network, [row], [fault]))
const manySeen = fc
  .tuple(randomGates(5), fc.array(fc.tuple(fc.nat(31), faults), { minLength: 2, maxLength: 40 }))
  .map(([network, all]) =>
    seen(
      network,
      all.map(([row]) => row),
      all.map(([, fault]) => fault),
    ),
  )

test.each([
  ['one observation', oneSeen],
  ['several observations', manySeen],
])('%s: a set explains what it was seen to explain, one candidate or 32', (_, all) => {
  fc.assert(
    fc.property(all, ({ network, logic, explaining }) => {
      const gates = network.gates.map((_gate, k) => k)
      for (const set of everySet(gates.length)) {
        const others = gates.filter((gate) => !set.includes(gate))
        const expected = others.map((gate) =>
          explaining.some((one) => one.join() === [...set, gate].sort((p, q) => p - q).join()),
        )
        expect(logic.explains(set, others)).toEqual(expected)
      }
    }),
    { numRuns: 40 },
  )
})

test.each([
  ['one observation', oneSeen],
  ['several observations', manySeen],
])('%s: every explanation that goes on from a set has a gate of its conflict', (_, all) => {
  fc.assert(
    fc.property(all, ({ network, logic, explaining }) => {
      for (const set of everySet(network.gates.length)) {
        const isSettled = Uint8Array.from(network.gates, (_gate, k) => (set.includes(k) ? 1 : 0))
        const conflict = logic.conflict(set, isSettled)
        expect(conflict === undefined).toBe(explaining.some((one) => one.join() === set.join()))
        if (conflict === undefined) continue
        const larger = explaining.filter((one) => set.every((gate) => one.includes(gate)))
        for (const one of larger) expect(one.some((gate) => conflict.includes(gate))).toBe(true)
        expect(conflict.some((gate) => set.includes(gate))).toBe(false)
      }
    }),
    { numRuns: 40 },
  )
})

test('vectors of another length, and no observation at all, are refused', () => {
  const gates = compileGates({ inputs: ['a'], outputs: ['p'], gates: [{ output: 'p', type: 'NOT', inputs: ['a'] }] })
  expect(() => failingLogic(gates, [])).toThrow('1 inputs and 1 outputs')
  expect(() => failingLogic(gates, [{ inputs: [], outputs: [true] }])).toThrow('1 inputs and 1 outputs')
})
