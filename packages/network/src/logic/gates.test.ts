import { expect, test } from 'vitest'
import { NetworkError } from '../errors.js'
import { compileGates, evaluateGates, type Gate, type GateNetwork } from './gates.js'

const gate = (output: string, type: Gate['type'], ...inputs: string[]): Gate => ({ output, type, inputs })

/** Outputs for vectors of inputs given as text, `01` being a at 0 and b at 1. */
function outputs(network: GateNetwork, vectors: readonly string[]): string[] {
  const gates = compileGates(network)
  const words = new Int32Array(gates.nets.length)
  vectors.forEach((vector, n) => Array.from(vector, (bit, place) => (words[place] |= Number(bit) << n)))
  evaluateGates(gates, words)
  return vectors.map((_, n) => Array.from(gates.outputs, (net) => (words[net] >>> n) & 1).join(''))
}

test('every gate keeps its table of truth, four vectors in one word', () => {
  const types: Gate['type'][] = ['AND', 'NAND', 'OR', 'NOR', 'XOR', 'XNOR']
  const gates = [...types.map((type) => gate(type, type, 'a', 'b')), gate('NOT', 'NOT', 'a'), gate('BUFF', 'BUFF', 'a')]
  const network = { inputs: ['a', 'b'], outputs: gates.map(({ output }) => output), gates }
  expect(outputs(network, ['00', '01', '10', '11'])).toEqual(['01010110', '01101010', '01101001', '10100101'])
})

test('gates of three inputs, of one, and of none', () => {
  const gates = [
    gate('all', 'AND', 'a', 'b', 'c'),
    gate('odd', 'XOR', 'a', 'b', 'c'),
    gate('turned', 'NAND', 'a'),
    gate('one', 'AND'),
    gate('zero', 'OR'),
  ]
  const network = { inputs: ['a', 'b', 'c'], outputs: gates.map(({ output }) => output), gates }
  expect(outputs(network, ['111', '110', '000'])).toEqual(['11010', '00010', '00110'])
})

test('gates may be listed in any order: each is evaluated after what it reads', () => {
  const gates = [gate('z', 'NOT', 'y'), gate('y', 'AND', 'x', 'a'), gate('x', 'NOT', 'b')]
  expect(compileGates({ inputs: ['a', 'b'], outputs: ['z'], gates }).nets).toEqual(['a', 'b', 'x', 'y', 'z'])
  expect(outputs({ inputs: ['a', 'b'], outputs: ['z', 'a'], gates }, ['10', '11'])).toEqual(['01', '11'])
})

/** The error of a network, with its code and the gates it names. */
function refused(gates: Gate[], outputs: string[] = []): { code: string; message: string; elements: string[] } {
  try {
    compileGates({ inputs: ['a'], outputs, gates })
  } catch (error) {
    if (error instanceof NetworkError) return { code: error.code, message: error.message, elements: error.elements }
    throw error
  }
  throw new Error('it was not refused')
}

test('a ring of gates is named, and only the ring', () => {
  const gates = [gate('p', 'AND', 'a', 'r'), gate('q', 'NOT', 'p'), gate('r', 'BUFF', 'q'), gate('behind', 'NOT', 'r')]
  const { code, message, elements } = refused(gates)
  expect(code).toBe('SIGNAL_RING')
  expect([...elements].sort()).toEqual(['p', 'q', 'r'])
  expect(message).toContain('in a ring')
})

test('a net that nothing drives, one that two drive, and a NOT of two are refused by name', () => {
  expect(refused([gate('p', 'AND', 'a', 'b')])).toMatchObject({ code: 'UNKNOWN_SIGNAL', elements: ['p'] })
  expect(refused([gate('p', 'AND', 'a', 'b')]).message).toBe("gate 'p' reads 'b', which nothing drives")
  expect(refused([], ['z']).message).toBe("the network gives out 'z', which nothing drives")
  expect(refused([gate('a', 'NOT', 'a')])).toMatchObject({ code: 'DRIVEN_TWICE', elements: ['a'] })
  expect(refused([gate('p', 'NOT', 'a', 'a')])).toMatchObject({ code: 'ELEMENT_VALUE', elements: ['p'] })
})
