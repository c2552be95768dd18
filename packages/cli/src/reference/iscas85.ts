/** Reference kind `iscas85`: minimum-cardinality diagnoses of logic circuits. The folder is not part of the project. */

import { existsSync, readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { type Netlist, parseBench } from './iscas85-bench.js'
import { bitsOf, type GateSet, minimalDiagnoses, setDifferences, smallestDiagnoses } from './iscas85-circuit.js'
import { drawnCases } from './iscas85-draws.js'
import { parseWcnf } from './iscas85-wcnf.js'
import { PlainGates } from './plain-gates.js'
import { judge } from './posterior-compare.js'
import type { CaseResult, Runner } from './runner.js'

interface DiagnosesFile {
  circuit: string
  components: number
  inputOrder: string[]
  outputOrder: string[]
  cases: { inputs: string; outputs: string; minCardinality: number; count: number; diagnoses?: GateSet[] }[]
}

interface ExpectedFile {
  instances: Record<
    string,
    | { observations: number; components: number; mutatedVariable: number; minimalDiagnoses: Record<string, number[][]> }
    | undefined
  >
}

/**
 * Netlists `NAME.bench` with observations and their diagnoses in `diagnoses-NAME.json`; faults are drawn where there is no such file.
 * Instances with several observations in `multi-observation/`, with `expected.json`.
 */
export const iscas85: Runner = (directory) => {
  const names = readdirSync(directory).filter((name) => name.endsWith('.bench'))
  const circuits = names.map((name) => name.replace(/\.bench$/, '')).sort((p, q) => p.localeCompare(q, 'en', { numeric: true }))
  return [...circuits.flatMap((name) => circuitCases(directory, name)), ...instanceCases(join(directory, 'multi-observation'))]
}

function circuitCases(directory: string, name: string): CaseResult[] {
  const netlist = parseBench(readFileSync(join(directory, `${name}.bench`), 'utf8'))
  const path = join(directory, `diagnoses-${name}.json`)
  const file = existsSync(path) ? (JSON.parse(readFileSync(path, 'utf8')) as DiagnosesFile) : undefined
  const counts = judge(`${name}: netlist`, () => countDifferences(netlist, file))
  return [counts, ...(file ? fileCases(name, netlist, file) : drawnCases(name, netlist.network))]
}

/** What the comments of the netlist and the file of its diagnoses say of its size. */
function countDifferences({ network, stated }: Netlist, file: DiagnosesFile | undefined): string[] {
  const gates = network.gates.length
  const expected: [string, number, number | undefined][] = [
    ['inputs', network.inputs.length, stated.inputs],
    ['outputs', network.outputs.length, stated.outputs],
    ['inverters', network.gates.filter(({ type }) => type === 'NOT').length, stated.inverters],
    ['gates and inverters', gates, stated.gates === undefined ? undefined : stated.gates + (stated.inverters ?? 0)],
    ['components', gates, file?.components],
  ]
  return expected
    .filter(([, number, asked]) => asked !== undefined && asked !== number)
    .map(([what, number, asked]) => `${what}: expected ${asked}, got ${number}`)
}

const fileCases = (name: string, { network }: Netlist, file: DiagnosesFile): CaseResult[] =>
  file.cases.map((one, n) =>
    judge(`${name}: observation ${n + 1}`, () => {
      const { minCardinality, count, diagnoses } = one
      const ordered = { ...network, inputs: file.inputOrder, outputs: file.outputOrder }
      const found = smallestDiagnoses(ordered, { inputs: bitsOf(one.inputs), outputs: bitsOf(one.outputs) }, minCardinality)
      const size = found[0]?.length
      return [
        ...(size === minCardinality ? [] : [`minCardinality: expected ${minCardinality}, got ${size ?? 'none so small'}`]),
        ...(found.length === count ? [] : [`count: expected ${count}, got ${found.length}`]),
        ...setDifferences(found, diagnoses ?? found),
      ]
    }),
  )

function instanceCases(directory: string): CaseResult[] {
  if (!existsSync(directory)) return []
  const expected = JSON.parse(readFileSync(join(directory, 'expected.json'), 'utf8')) as ExpectedFile
  const names = readdirSync(directory).filter((name) => name.endsWith('.wcnf'))
  return names.sort().map((name) =>
    judge(name, () => {
      const instance = parseWcnf(readFileSync(join(directory, name), 'utf8'))
      const { network, observations, mutated } = instance
      const asked = expected.instances[name]
      if (asked === undefined) return mutatedAlone(instance)
      const size = Math.max(...Object.keys(asked.minimalDiagnoses).map(Number))
      const diagnoses = Object.values(asked.minimalDiagnoses).flatMap((sets) => sets.map((set) => set.map(String)))
      return [
        ...(network.gates.length === asked.components ? [] : [`components: expected ${asked.components}`]),
        ...(observations.length === asked.observations ? [] : [`observations: expected ${asked.observations}`]),
        ...(Number(mutated) === asked.mutatedVariable ? [] : [`mutatedVariable: expected ${asked.mutatedVariable}`]),
        ...setDifferences(minimalDiagnoses(network, observations, size), diagnoses),
      ]
    }),
  )
}

/** Where no list is expected: single gates, the one that is stuck among them, and each of them tried in the plainest way. */
function mutatedAlone({ network, observations, mutated }: ReturnType<typeof parseWcnf>): string[] {
  const plain = new PlainGates(network)
  const sets = observations.map(({ inputs, outputs }) => {
    const isRight = plain.outputs(inputs, new Map()).join() === outputs.join()
    return new Set(isRight ? plain.order.map(({ output }) => output) : plain.singles(inputs, outputs))
  })
  const singles = plain.order.map(({ output }) => output).filter((gate) => sets.every((set) => set.has(gate)))
  return [
    ...(singles.includes(mutated) ? [] : [`the gate that is stuck, ${mutated}, does not explain all observations`]),
    ...setDifferences(
      minimalDiagnoses(network, observations, 1),
      singles.map((gate) => [gate]),
    ),
  ]
}
