import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeEach, expect, test } from 'vitest'
import { iscas85 } from './iscas85.js'
import { parseBench } from './iscas85-bench.js'
import { parseWcnf } from './iscas85-wcnf.js'
import { PlainGates } from './plain-gates.js'

// The circuits themselves are not part of the project; these small ones and their diagnoses are our own, worked out by hand.
const folder = mkdtempSync(join(tmpdir(), 'iscas85-'))
const clear = () => rmSync(folder, { recursive: true, force: true })
beforeEach(clear)
afterAll(clear)
const put = (files: Record<string, string | object>) => {
  mkdirSync(join(folder, 'multi-observation'), { recursive: true })
  for (const [name, content] of Object.entries({ 'multi-observation/expected.json': { instances: {} }, ...files }))
    writeFileSync(join(folder, name), typeof content === 'string' ? content : JSON.stringify(content))
}

/** A full adder: sum and carry of a, b and c. */
const ADDER = `# adder
# 3 inputs
# 2 outputs
# 0 inverters
# 5 gates ( 2 ANDs + 1 OR + 2 XORs )
INPUT(a)
INPUT(b)
INPUT(c)
OUTPUT(sum)
OUTPUT(carry)
sum = XOR(half, c)   # listed before what it reads
half = XOR(a, b)
both = AND(a, b)
late = AND(half, c)
carry = OR(both, late)
`

/** All at 0, yet both outputs at 1: two gates at least. With the sum alone at 1, one of two. */
const DIAGNOSES = {
  circuit: 'adder',
  components: 5,
  inputOrder: ['a', 'b', 'c'],
  outputOrder: ['sum', 'carry'],
  cases: [
    { inputs: '000', outputs: '10', minCardinality: 1, count: 2, diagnoses: [['half'], ['sum']] },
    { inputs: '000', outputs: '11', minCardinality: 2, count: 6 },
    { inputs: '001', outputs: '01', minCardinality: 1, count: 1, diagnoses: [['half']] },
  ],
}

test('a circuit of our own: its size, its smallest diagnoses in number and by name', () => {
  put({ 'adder.bench': ADDER, 'diagnoses-adder.json': DIAGNOSES })
  expect(iscas85(folder)).toEqual(
    ['netlist', 'observation 1', 'observation 2', 'observation 3'].map((what) => ({ id: `adder: ${what}`, outcome: 'passed' })),
  )
})

test('a count, a list or a size that is another fails, and says how', () => {
  const [first, second] = DIAGNOSES.cases
  const cases = [
    { ...first, diagnoses: [['half'], ['late']] },
    { ...second, count: 5 },
    { ...second, minCardinality: 1 },
  ]
  put({ 'adder.bench': ADDER.replace('5 gates', '6 gates'), 'diagnoses-adder.json': { ...DIAGNOSES, cases } })
  expect(iscas85(folder)).toMatchObject([
    { outcome: 'failed', detail: 'gates and inverters: expected 6, got 5' },
    { outcome: 'failed', detail: 'missed: late; should not be there: sum' },
    { outcome: 'failed', detail: 'count: expected 5, got 6' },
    { outcome: 'failed', detail: expect.stringContaining('minCardinality: expected 1, got none so small') },
  ])
})

test('without a file of diagnoses, faults are drawn and judged by trying all gates', () => {
  put({ 'adder.bench': ADDER })
  const [size, ...drawn] = iscas85(folder)
  expect(size).toMatchObject({ id: 'adder: netlist', outcome: 'passed' })
  expect(drawn).toHaveLength(10)
  expect(drawn.filter(({ outcome }) => outcome !== 'passed')).toEqual([])
  expect(drawn[0].id).toMatch(/^adder: single fault 1 \(\w+ stuck at [01]\)$/)
  expect(drawn[9].id).toMatch(/^adder: double fault 5 \(\w+ stuck at [01], \w+ stuck at [01]\)$/)
})

/** z = NOT(AND(a, b)) with the AND stuck at 1; variables: a 1, b 2, AND 3 (works: 4), z 5 (works: 6). Seen of the sound circuit. */
const INSTANCE = `c mutated gates: p
c corresp. vars: 3
c mutation: 3 0
c # observ: 2
o 1 -2 5 0
o -1 -2 5 0
p wcnf 6 5 3
1 4 0
1 6 0
3 -4 3 0
3 -6 5 3 0
3 -6 -5 -3 0
`
const EXPECTED = { observations: 2, components: 2, mutatedVariable: 3, minimalDiagnoses: { 1: [[3], [5]], 2: [] } }

test('clauses are read as gates, the stuck one as a gate of nothing', () => {
  const { network, observations, mutated } = parseWcnf(INSTANCE)
  const gates = [
    { output: '3', type: 'AND', inputs: [] },
    { output: '5', type: 'NAND', inputs: ['3'] },
  ]
  expect(network).toEqual({ inputs: ['1', '2'], outputs: ['5'], gates })
  expect(observations[0]).toEqual({ inputs: [true, false], outputs: [true] })
  expect(mutated).toBe('3')
  expect(() => parseWcnf(INSTANCE.replace('3 -6 -5 -3 0\n', ''))).toThrow('variable 6 define no gate')
})

test('an instance of several observations is held to its list, and to the plain trial where there is none', () => {
  put({ 'multi-observation/own.wcnf': INSTANCE, 'multi-observation/expected.json': { instances: { 'own.wcnf': EXPECTED } } })
  expect(iscas85(folder)).toEqual([{ id: 'own.wcnf', outcome: 'passed' }])
  put({ 'multi-observation/expected.json': { instances: { 'own.wcnf': { ...EXPECTED, minimalDiagnoses: { 1: [[3]] } } } } })
  expect(iscas85(folder)).toMatchObject([{ outcome: 'failed', detail: 'should not be there: 5' }])
  put({})
  expect(iscas85(folder)).toEqual([{ id: 'own.wcnf', outcome: 'passed' }])
})

test('a line that is no part of a netlist is refused by its number', () => {
  expect(() => parseBench('INPUT(a)\nz = MUX(a, b)')).toThrow(
    'line 2: "z = MUX(a, b)" is no INPUT(n), OUTPUT(n) or n = GATE(a, ...)',
  )
})

test('the plain trial finds the diagnoses of the adder by trying them', () => {
  const plain = new PlainGates(parseBench(ADDER).network)
  expect(plain.outputs([true, true, true], new Map())).toEqual([true, true])
  expect(plain.outputs([true, true, true], new Map([['both', false]]))).toEqual([true, false])
  expect(plain.singles([false, false, false], [true, false]).sort()).toEqual(['half', 'sum'])
  expect(plain.pairs([false, false, false], [true, true])).toHaveLength(6)
})
