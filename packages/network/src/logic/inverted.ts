import { evaluateGates, type GateProgram } from './gates.js'
import { blockValue } from './program.js'

/**
 * A gate network in which some gates are inverted in some of 32 worlds. Only what lies behind an inverted gate, and changes, is evaluated
 * again, so a candidate costs as much as its cone, not as the network.
 */
export class InvertedGates {
  /** A word a net, as things stand. */
  readonly words: Int32Array
  private readonly sound: Int32Array
  private readonly inverted: Int32Array
  private readonly named: number[] = []
  /** Gates still to be looked at, a bit each: they are taken in rising order, so each is looked at once. */
  private readonly pending: Int32Array
  private readonly touched: Int32Array
  private touches = 0

  /** @param inputs one word an input: the vectors of the 32 worlds */
  constructor(
    readonly gates: GateProgram,
    inputs: Int32Array,
  ) {
    const { nets, program } = gates
    this.words = new Int32Array(nets.length)
    this.words.set(inputs)
    evaluateGates(gates, this.words)
    this.sound = this.words.slice()
    this.inverted = new Int32Array(program.length)
    this.pending = new Int32Array((program.length >> 5) + 1)
    this.touched = new Int32Array(program.length)
  }

  /** Inverts a gate in the worlds of a mask, besides what is inverted already. Takes effect with `evaluate`. */
  invert(gate: number, worlds: number): void {
    this.inverted[gate] |= worlds
    this.named.push(gate)
    this.pending[gate >> 5] |= 1 << (gate & 31)
  }

  evaluate(): void {
    const { pending } = this
    for (let w = 0; w < pending.length; w += 1) {
      while (pending[w] !== 0) {
        const lowest = pending[w] & -pending[w]
        pending[w] ^= lowest
        this.refresh((w << 5) + 31 - Math.clz32(lowest))
      }
    }
  }

  private refresh(gate: number): void {
    const { gates, words, pending } = this
    const { program, readerStart, reader, inputs } = gates
    const value = blockValue(program, gate, words) ^ this.inverted[gate]
    const net = inputs + gate
    if (value === words[net]) return
    words[net] = value
    this.touched[this.touches] = net
    this.touches += 1
    for (let n = readerStart[net]; n < readerStart[net + 1]; n += 1) pending[reader[n] >> 5] |= 1 << (reader[n] & 31)
  }

  /** All gates sound again, as at first. */
  restore(): void {
    for (let n = 0; n < this.touches; n += 1) this.words[this.touched[n]] = this.sound[this.touched[n]]
    for (const gate of this.named) this.inverted[gate] = 0
    this.touches = 0
    this.named.length = 0
  }
}
