import type { GateProgram } from './gates.js'

/**
 * What the value of a net rests on, in one world: gates that by working as they do make it what it is, whatever all others do. Of a gate
 * that one input decides (an AND with a 0) one such input is enough; the one is taken that rests on the fewest gates in question.
 */
export class Support {
  /** By net: about how many gates in question its value rests on, shared ones counted twice. */
  private readonly size: Float64Array
  /** By gate: the net that decides it, or -1 where all inputs do. */
  private readonly decider: Int32Array
  private readonly seen: Uint8Array

  constructor(private readonly gates: GateProgram) {
    this.size = new Float64Array(gates.nets.length)
    this.decider = new Int32Array(gates.program.length)
    this.seen = new Uint8Array(gates.nets.length)
  }

  /**
   * The gates in question on which one of these nets rests, the net chosen so that they are few.
   * @param words a word a net   @param world 0 to 31   @param isSettled by gate: 1 for one whose working is not in question
   */
  fewest(nets: readonly number[], words: Int32Array, world: number, isSettled: Uint8Array): number[] {
    this.weigh(words, world, isSettled)
    let best = nets[0]
    for (const net of nets) if (this.size[net] < this.size[best]) best = net
    return this.collect(best, isSettled)
  }

  private weigh(words: Int32Array, world: number, isSettled: Uint8Array): void {
    const { gates, size, decider } = this
    const { program, inputs } = gates
    const { start, operand, code } = program
    for (let k = 0; k < program.length; k += 1) {
      // What decides an AND is a 0, an OR a 1; nothing alone decides an XOR.
      const deciding = DECIDING[code[k]]
      let sum = 0
      let least = Number.POSITIVE_INFINITY
      decider[k] = -1
      for (let n = start[k]; n < start[k + 1]; n += 1) {
        const net = operand[n]
        sum += size[net]
        if (((words[net] >>> world) & 1) !== deciding || size[net] >= least) continue
        least = size[net]
        decider[k] = net
      }
      size[inputs + k] = (decider[k] < 0 ? sum : least) + (isSettled[k] ? 0 : 1)
    }
  }

  private collect(net: number, isSettled: Uint8Array): number[] {
    const { gates, decider, seen } = this
    const { program, inputs } = gates
    const { start, operand } = program
    const found: number[] = []
    const stack = [net]
    seen[net] = 1
    for (let at = 0; at < stack.length; at += 1) {
      const k = stack[at] - inputs
      if (k < 0) continue
      if (!isSettled[k]) found.push(k)
      for (let n = start[k]; n < start[k + 1]; n += 1) {
        const next = operand[n]
        if (seen[next] || (decider[k] >= 0 && next !== decider[k])) continue
        seen[next] = 1
        stack.push(next)
      }
    }
    for (const one of stack) seen[one] = 0
    return found
  }
}

/** By code of a block (AND, OR, XOR): the value of an input that decides it alone. */
const DECIDING = [0, 1, -1]
