import { NetworkError } from '../errors.js'
import { assemble, type Block, blockValue, type LogicProgram } from './program.js'

/** A gate of a combinational network, named by the net it drives. */
export interface Gate {
  output: string
  type: 'AND' | 'NAND' | 'OR' | 'NOR' | 'XOR' | 'XNOR' | 'NOT' | 'BUFF'
  /** Nets it reads, in any number; NOT and BUFF have one. An AND of none is 1, an OR of none 0. */
  inputs: string[]
}

/** A combinational network as plain data. */
export interface GateNetwork {
  inputs: string[]
  outputs: string[]
  gates: Gate[]
}

/** A gate network made ready: nets are numbered, the inputs first, then the gates in order, each after all that it reads. */
export interface GateProgram {
  readonly program: LogicProgram
  /** Names of the nets by number. */
  readonly nets: readonly string[]
  readonly inputs: number
  /** Net numbers of the outputs, in the order of the network. */
  readonly outputs: Int32Array
  /** Gates that read each net. */
  readonly readerStart: Int32Array
  readonly reader: Int32Array
}

/**
 * Makes a gate network ready to evaluate. Gate k drives net `inputs + k`.
 * @throws NetworkError SIGNAL_RING for gates that read each other in a ring, UNKNOWN_SIGNAL for a net that nothing drives, DRIVEN_TWICE
 * for one that two drive, ELEMENT_VALUE for a NOT or BUFF without exactly one input
 */
export function compileGates({ inputs, outputs, gates }: GateNetwork): GateProgram {
  const place = new Map<string, number>()
  for (const net of [...inputs, ...gates.map(({ output }) => output)]) {
    if (place.has(net)) throw new NetworkError('DRIVEN_TWICE', `two gates or inputs drive the net '${net}'`, [net])
    place.set(net, place.size)
  }
  const first = assemble(
    gates.map((gate) => blockOf(gate, place)),
    place.size,
  )
  if (first.ring.length > 0) throw ringError(gates, new Set(first.ring.map((net) => gates[net - inputs.length].output)))
  const order = Array.from(first.target, (net) => gates[net - inputs.length])
  order.forEach(({ output }, k) => {
    place.set(output, inputs.length + k)
  })
  const program = assemble(
    order.map((gate) => blockOf(gate, place)),
    place.size,
  )
  const ends = outputs.map((net) => placeOf(place, net, `the network gives out '${net}'`, net))
  return {
    program,
    nets: [...inputs, ...order.map(({ output }) => output)],
    inputs: inputs.length,
    outputs: Int32Array.from(ends),
    ...readers(program, place.size),
  }
}

function blockOf({ output, type, inputs }: Gate, place: ReadonlyMap<string, number>): Block {
  if ((type === 'NOT' || type === 'BUFF') && inputs.length !== 1)
    throw new NetworkError('ELEMENT_VALUE', `${type} '${output}' has ${inputs.length} inputs, not one`, [output])
  const of = inputs.map((net) => placeOf(place, net, `gate '${output}' reads '${net}'`, output))
  return { type, of, target: placeOf(place, output, `gate '${output}'`, output) }
}

function placeOf(place: ReadonlyMap<string, number>, net: string, says: string, element: string): number {
  const found = place.get(net)
  if (found === undefined) throw new NetworkError('UNKNOWN_SIGNAL', `${says}, which nothing drives`, [element])
  return found
}

/** Follows what is read from gate to gate, among those that never came out, until one is met again. */
function ringError(gates: readonly Gate[], stuck: ReadonlySet<string>): NetworkError {
  const gateOf = new Map(gates.map((gate) => [gate.output, gate]))
  const path = [...stuck].slice(0, 1)
  for (;;) {
    const next = gateOf.get(path[path.length - 1])?.inputs.find((net) => stuck.has(net)) as string
    const again = path.indexOf(next)
    if (again >= 0) {
      const ring = path.slice(again)
      return new NetworkError('SIGNAL_RING', `gates read each other in a ring: ${[...ring, next].join(' < ')}`, ring)
    }
    path.push(next)
  }
}

function readers({ length, start, operand }: LogicProgram, nets: number): { readerStart: Int32Array; reader: Int32Array } {
  const readerStart = new Int32Array(nets + 1)
  for (const net of operand) readerStart[net + 1] += 1
  for (let net = 0; net < nets; net += 1) readerStart[net + 1] += readerStart[net]
  const next = readerStart.slice()
  const reader = new Int32Array(operand.length)
  for (let k = 0; k < length; k += 1) {
    for (let n = start[k]; n < start[k + 1]; n += 1) {
      reader[next[operand[n]]] = k
      next[operand[n]] += 1
    }
  }
  return { readerStart, reader }
}

/** Evaluates all gates; `words` has one word a net, those of the inputs set: 32 vectors at once. */
export function evaluateGates({ program, inputs }: GateProgram, words: Int32Array): void {
  for (let k = 0; k < program.length; k += 1) words[inputs + k] = blockValue(program, k, words)
}
