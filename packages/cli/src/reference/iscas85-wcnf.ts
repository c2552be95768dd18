import type { Gate, GateNetwork, LogicObservation } from '@halfsplit/network'

/** A circuit with one gate stuck, and what was seen of the sound one. Nets are named by their variables. */
export interface Instance {
  network: GateNetwork
  observations: LogicObservation[]
  /** The gate that is stuck. */
  mutated: string
}

type Clause = readonly number[]

/**
 * Reads an instance of the benchmark of Ignatiev and others (2019): weighted clauses with comments. A soft clause `1 v 0` says that the gate
 * with output v - 1 works; the hard clauses with -v define it; `o` lines are observations of the inputs and outputs.
 * @throws Error for a gate whose clauses are not those of any gate known here
 */
export function parseWcnf(text: string): Instance {
  const lines = text.split('\n').map((line) => line.trim().split(/\s+/))
  const observed = lines.filter(([word]) => word === 'o').map((words) => literals(words.slice(1)))
  const weighted = lines.filter(([word]) => /^\d+$/.test(word))
  const soft = weighted.filter(([weight]) => weight === '1').map((words) => Number(words[1]))
  const hard = weighted.filter(([weight]) => weight !== '1').map((words) => literals(words.slice(1)))
  const gates = soft.map((works) => gateOf(works, hard))
  const driven = new Set(gates.map(({ output }) => output))
  const named = observed[0].map((literal) => String(Math.abs(literal)))
  const inputs = named.filter((net) => !driven.has(net))
  const outputs = named.filter((net) => driven.has(net))
  const [, , mutation] = /^c mutation: (-?)(\d+)/m.exec(text) ?? []
  if (mutation === undefined) throw new Error('no comment tells which gate is stuck')
  const observations = observed.map((seen) => {
    const on = new Set(seen.filter((literal) => literal > 0).map(String))
    return { inputs: inputs.map((net) => on.has(net)), outputs: outputs.map((net) => on.has(net)) }
  })
  return { network: { inputs, outputs, gates }, observations, mutated: mutation }
}

/** The numbers up to the closing 0. */
const literals = (words: readonly string[]): Clause => words.map(Number).slice(0, words.indexOf('0'))

/** The gate whose table of truth its clauses make. */
function gateOf(works: number, hard: readonly Clause[]): Gate {
  const own = hard.filter((clause) => clause.includes(-works)).map((clause) => clause.filter((literal) => literal !== -works))
  const output = works - 1
  const inputs = [...new Set(own.flat().map(Math.abs))].filter((net) => net !== output)
  const table = Array.from({ length: 2 ** inputs.length }, (_, row) => valueIn(row, inputs, output, own))
  const type = GATES.find((gate) => table.every((value, row) => value === gate.value(row, inputs.length)))?.type
  if (type === undefined) throw new Error(`the clauses of variable ${works} define no gate known here`)
  return { output: String(output), type, inputs: inputs.map(String) }
}

/** What the clauses make of the output; undefined where they leave it open or allow neither value. */
function valueIn(row: number, inputs: readonly number[], output: number, clauses: readonly Clause[]): boolean | undefined {
  const isTrue = (literal: number, value: boolean) => {
    const net = Math.abs(literal)
    return (net === output ? value : ((row >> inputs.indexOf(net)) & 1) === 1) === literal > 0
  }
  const possible = [false, true].filter((value) => clauses.every((clause) => clause.some((literal) => isTrue(literal, value))))
  return possible.length === 1 ? possible[0] : undefined
}

const ones = (row: number): number => row.toString(2).replaceAll('0', '').length

/** Gates by what they make of a row of inputs; a gate that is stuck is an AND or an OR of nothing. */
const GATES: { type: Gate['type']; value: (row: number, inputs: number) => boolean }[] = [
  { type: 'AND', value: (row, inputs) => ones(row) === inputs },
  { type: 'OR', value: (row) => row !== 0 },
  { type: 'NAND', value: (row, inputs) => ones(row) !== inputs },
  { type: 'NOR', value: (row) => row === 0 },
  { type: 'XOR', value: (row) => ones(row) % 2 === 1 },
  { type: 'XNOR', value: (row) => ones(row) % 2 === 0 },
]
