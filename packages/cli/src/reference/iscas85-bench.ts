import type { Gate, GateNetwork } from '@halfsplit/network'

/** A netlist and what the comments at its head say of it. */
export interface Netlist {
  network: GateNetwork
  /** By word (`inputs`, `outputs`, `inverters`, `gates`): the number in the comment; gates there are without inverters. */
  stated: Partial<Record<string, number>>
}

const GATE_TYPES: readonly string[] = ['AND', 'NAND', 'OR', 'NOR', 'XOR', 'XNOR', 'NOT', 'BUFF']

/**
 * Reads a netlist in the bench format of the ISCAS circuits: `INPUT(n)`, `OUTPUT(n)`, `n = GATE(a, b, ...)`, `#` begins a comment.
 * @throws Error that names the line which is none of these
 */
export function parseBench(text: string): Netlist {
  const network: GateNetwork = { inputs: [], outputs: [], gates: [] }
  const stated: Netlist['stated'] = {}
  text.split('\n').forEach((line, n) => {
    const [code, comment = ''] = line.split('#')
    const said = /^\s*(\d+)\s+(\w+?)s?\b/.exec(comment)
    if (said && code.trim() === '') stated[`${said[2]}s`] ??= Number(said[1])
    if (code.trim() !== '') readLine(network, code.trim(), n + 1)
  })
  return { network, stated }
}

function readLine(network: GateNetwork, code: string, line: number): void {
  const port = /^(INPUT|OUTPUT)\s*\(\s*([^\s()]+)\s*\)$/.exec(code)
  if (port) {
    ;(port[1] === 'INPUT' ? network.inputs : network.outputs).push(port[2])
    return
  }
  const gate = /^([^\s=]+)\s*=\s*(\w+)\s*\(([^()]*)\)$/.exec(code)
  if (!gate || !GATE_TYPES.includes(gate[2]))
    throw new Error(`line ${line}: "${code}" is no INPUT(n), OUTPUT(n) or n = GATE(a, ...); gates are ${GATE_TYPES.join(', ')}`)
  const inputs = gate[3].split(',').map((net) => net.trim())
  network.gates.push({ output: gate[1], type: gate[2] as Gate['type'], inputs: inputs.filter((net) => net !== '') })
}
