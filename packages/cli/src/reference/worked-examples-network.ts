/** Topic `fault simulation`: a resistor network driven by one current, healthy and with every single fault of every resistor. */

import { type Element, type Network, probeValue, settle } from '@halfsplit/network'
import type { CaseResult } from './runner.js'
import { type Answers, judgeExample, type WorkedExample } from './worked-examples-case.js'

interface Resistor {
  name: string
  i: number
  j: number
  ohm: number
}

interface NetworkInputs {
  resistors: Resistor[]
  source: string
  faults: string
}

const SOURCE = /^\s*(\S+)\s*A into node (\d+) from node (\d+)\s*$/

export function networkExample(example: unknown): CaseResult {
  const worked = example as WorkedExample
  return judgeExample(worked, answer(worked))
}

function answer({ inputs, expected }: WorkedExample): Answers {
  const { resistors, source, faults } = inputs as NetworkInputs
  const drive = SOURCE.exec(source)
  if (!drive) return `no way to read the source '${source}'`
  const nodes = [...new Set(resistors.flatMap(({ i, j }) => [i, j]))].filter((node) => node !== 0).sort((p, q) => p - q)
  const current: Element = { type: 'through', id: 'source', a: drive[2], b: drive[3], value: Number(drive[1]) }
  const volts = (changed?: string, conductance?: number): number[] => {
    const elements = resistors.map(
      ({ name, i, j, ohm }): Element => ({
        type: 'law',
        id: name,
        a: String(i),
        b: String(j),
        law: { law: 'linear', g: name === changed && conductance !== undefined ? conductance : 1 / ohm },
      }),
    )
    return voltages({ nodes: nodes.map(wire), elements: [...elements, current], signals: [] })
  }
  const answers: Record<string, unknown> = { healthyVoltages: volts() }
  const cases = expected.find(({ name }) => name === 'faultyVoltages')?.value
  if (!Array.isArray(cases)) return answers
  answers.faultyVoltages = (cases as { resistor: string; fault: string }[]).map(({ resistor, fault }) => {
    const { ohm } = resistors.find(({ name }) => name === resistor) ?? { ohm: Number.NaN }
    return { resistor, fault, voltages: volts(resistor, faulty(faults, fault, ohm)) }
  })
  return answers
}

/** The example knows no insulation: every node hangs on its resistors alone. */
const wire = (node: number): Network['nodes'][number] => ({ id: String(node), domain: 'electrical', insulation: 0, rest: 0 })

function voltages(network: Network): number[] {
  const settled = settle(network)
  if (settled.status !== 'settled') throw new Error(`${settled.status}: ${settled.parts.join(', ')}`)
  return network.nodes.map(({ id }) => probeValue(settled, { across: { [id]: 1 } }))
}

/** Conductance [S] of a faulty resistor by the text of the example: `open: conductance becomes 1e-9 S; short: 0.01 ohm; ...`. */
function faulty(faults: string, name: string, ohm: number): number {
  const text = faults.split(';').find((one) => one.trim().startsWith(`${name}:`)) ?? ''
  const value = Number(/[\d.]+(?:e[+-]?\d+)?/i.exec(text)?.[0])
  if (/conductance becomes .* S$/.test(text.trim())) return value
  if (/twice the resistance/.test(text)) return 1 / (2 * ohm)
  if (/times the resistance/.test(text)) return 1 / (value * ohm)
  if (/ohm$/i.test(text.trim())) return 1 / value
  throw new Error(`no way to read the fault '${name}' in '${faults}'`)
}
