import type { Gate, GateNetwork } from '@halfsplit/network'

/**
 * A gate network evaluated in the plainest way, every gate every time, to judge the quick one by; it shares no code with it. Candidates
 * stand side by side in the bits of a word.
 */
export class PlainGates {
  /** Gates in an order of evaluation. */
  readonly order: readonly Gate[]
  /** Places of what each gate reads, and of the outputs: gates by their order first, then the inputs. */
  private readonly reads: readonly Int32Array[]
  private readonly ends: readonly number[]

  constructor(network: GateNetwork) {
    const gateOf = new Map(network.gates.map((gate) => [gate.output, gate]))
    const order = new Set<Gate>()
    const visit = (net: string) => {
      const gate = gateOf.get(net)
      if (gate === undefined || order.has(gate)) return
      for (const input of gate.inputs) visit(input)
      order.add(gate)
    }
    for (const { output } of network.gates) visit(output)
    this.order = [...order]
    const place = new Map([...this.order.map(({ output }) => output), ...network.inputs].map((net, n) => [net, n]))
    const at = (net: string) => place.get(net) as number
    this.reads = this.order.map((gate) => Int32Array.from(gate.inputs, at))
    this.ends = network.outputs.map(at)
  }

  /** The outputs, with the given gates giving out the inverse of what they should, or stuck at a value. */
  outputs(inputs: readonly boolean[], faulty: ReadonlyMap<string, 'inverted' | boolean>): boolean[] {
    const { order, reads } = this
    const value = [...order.map(() => false), ...inputs]
    order.forEach(({ type, output }, k) => {
      let ones = 0
      for (const place of reads[k]) if (value[place]) ones += 1
      const right = plainValue(type, ones, reads[k].length)
      const fault = faulty.get(output)
      value[k] = fault === undefined ? right : fault === 'inverted' ? !right : fault
    })
    return this.ends.map((place) => value[place])
  }

  /** All single gates that, inverted, make these outputs of these inputs: each of them tried, 32 a word. */
  singles(inputs: readonly boolean[], outputs: readonly boolean[]): string[] {
    const words = new PlainWords(this.order, this.reads, this.ends, inputs, outputs)
    return words.besides(-1).map((gate) => this.order[gate].output)
  }

  /** All pairs of gates that, both inverted, do. */
  pairs(inputs: readonly boolean[], outputs: readonly boolean[]): [string, string][] {
    const words = new PlainWords(this.order, this.reads, this.ends, inputs, outputs)
    return this.order.flatMap(({ output }, gate) =>
      words.besides(gate).map((other): [string, string] => [output, this.order[other].output]),
    )
  }
}

function plainValue(type: Gate['type'], ones: number, inputs: number): boolean {
  switch (type) {
    case 'AND':
      return ones === inputs
    case 'NAND':
      return ones !== inputs
    case 'OR':
    case 'BUFF':
      return ones > 0
    case 'NOR':
    case 'NOT':
      return ones === 0
    case 'XOR':
      return ones % 2 === 1
    case 'XNOR':
      return ones % 2 === 0
  }
}

/** What a gate is before it is turned round. */
const PLAIN_TYPE: Record<Gate['type'], 'AND' | 'OR' | 'XOR'> = {
  AND: 'AND',
  NAND: 'AND',
  OR: 'OR',
  NOR: 'OR',
  XOR: 'XOR',
  XNOR: 'XOR',
  NOT: 'OR',
  BUFF: 'OR',
}

/** Gates by number, in their order of evaluation. */
class PlainWords {
  private readonly words: Int32Array
  private readonly types: ('AND' | 'OR' | 'XOR')[]
  private readonly isTurned: boolean[]

  constructor(
    order: readonly Gate[],
    private readonly reads: readonly Int32Array[],
    private readonly ends: readonly number[],
    inputs: readonly boolean[],
    private readonly outputs: readonly boolean[],
  ) {
    this.words = Int32Array.from([...order.map(() => 0), ...inputs.map((bit) => (bit ? -1 : 0))])
    this.types = order.map(({ type }) => PLAIN_TYPE[type])
    this.isTurned = order.map(({ type }) => type.startsWith('N') || type === 'XNOR')
  }

  /** All gates behind this one (-1: all) that, inverted together with it, make the outputs right. To be asked in rising order. */
  besides(gate: number): number[] {
    const { length } = this.types
    const found: number[] = []
    for (let first = gate + 1; first < length; first += 32) {
      const right = this.right(gate, first)
      for (let n = 0; n < 32 && first + n < length; n += 1) if ((right >>> n) & 1) found.push(first + n)
    }
    return found
  }

  /** The candidates gate with first, gate with first + 1 ... of which the outputs are right: first in bit 0. */
  private right(gate: number, first: number): number {
    const { words, ends, outputs } = this
    // What comes before stands as it is when all is sound, but for the gate asked for last.
    for (let k = Math.max(0, gate - 1); k < this.types.length; k += 1) {
      let value = this.value(k)
      if (k === gate) value = ~value
      if (k >= first && k < first + 32) value ^= 1 << (k - first)
      words[k] = value
    }
    return ends.reduce((right, net, o) => right & (outputs[o] ? words[net] : ~words[net]), -1)
  }

  private value(k: number): number {
    const { words } = this
    const reads = this.reads[k]
    const type = this.types[k]
    let value = type === 'AND' ? -1 : 0
    for (let n = 0; n < reads.length; n += 1) {
      if (type === 'AND') value &= words[reads[n]]
      else if (type === 'OR') value |= words[reads[n]]
      else value ^= words[reads[n]]
    }
    return this.isTurned[k] ? ~value : value
  }
}
