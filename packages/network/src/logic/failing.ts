import { NetworkError } from '../errors.js'
import type { GateProgram } from './gates.js'
import { InvertedGates } from './inverted.js'
import { Support } from './support.js'

/** One vector put in and what came out, in the order of the network's inputs and outputs. */
export interface LogicObservation {
  inputs: readonly boolean[]
  outputs: readonly boolean[]
}

/** What faults of gates could have made of what was seen; a faulty gate may give out either value. Gates go by number. */
export interface FailingLogic {
  /** For each of `gates`: would it, with all of `set`, explain what was seen, none of them being needless? */
  explains(set: readonly number[], gates: readonly number[]): boolean[]
  /**
   * Gates of which at least one more must be faulty if all of `set` are and the other settled ones are sound; undefined where the set
   * explains what was seen. @param isSettled by gate: 1 for those of the set and those held to be sound
   */
  conflict(set: readonly number[], isSettled: Uint8Array): number[] | undefined
}

/**
 * Candidates for faults of gates, 32 a word. With one observation every gate of a set without needless members gives out the inverse of
 * what its inputs ask, so a candidate is one world; with several a gate may fail in some and work in others, so an observation is.
 * @throws NetworkError ELEMENT_VALUE for vectors of another length than the network's inputs and outputs, and for none at all
 */
export function failingLogic(gates: GateProgram, observations: readonly LogicObservation[]): FailingLogic {
  const fits = ({ inputs, outputs }: LogicObservation) =>
    inputs.length === gates.inputs && outputs.length === gates.outputs.length
  if (observations.length === 0 || !observations.every(fits)) {
    const asked = `${gates.inputs} inputs and ${gates.outputs.length} outputs`
    throw new NetworkError('ELEMENT_VALUE', `an observation of this network has ${asked}; there must be one at least`, [])
  }
  return observations.length === 1 ? new OneObservation(gates, observations[0]) : new ManyObservations(gates, observations)
}

class OneObservation implements FailingLogic {
  private readonly worlds: InvertedGates
  private readonly support: Support
  /** Outputs that are wrong while all gates are sound come first: they tell soonest that a candidate fails. */
  private readonly nets: number[]
  private readonly seen: Int32Array

  constructor(gates: GateProgram, { inputs, outputs }: LogicObservation) {
    this.worlds = new InvertedGates(gates, Int32Array.from(inputs, word))
    this.support = new Support(gates)
    const seen = outputs.map(word)
    const isWrong = (o: number) => (this.worlds.words[gates.outputs[o]] !== seen[o] ? 0 : 1)
    const order = seen.map((_, o) => o).sort((p, q) => isWrong(p) - isWrong(q) || p - q)
    this.nets = order.map((o) => gates.outputs[o])
    this.seen = Int32Array.from(order, (o) => seen[o])
  }

  explains(set: readonly number[], gates: readonly number[]): boolean[] {
    const found: boolean[] = []
    for (let from = 0; from < gates.length; from += 32) {
      const count = Math.min(32, gates.length - from)
      for (const gate of set) this.worlds.invert(gate, -1)
      for (let n = 0; n < count; n += 1) this.worlds.invert(gates[from + n], 1 << n)
      this.worlds.evaluate()
      const right = ~this.wrongWorlds(count)
      this.worlds.restore()
      for (let n = 0; n < count; n += 1) found.push(((right >>> n) & 1) === 1)
    }
    return found
  }

  private wrongWorlds(count: number): number {
    const { nets, seen } = this
    const { words } = this.worlds
    let wrong = count === 32 ? 0 : -1 << count
    for (let o = 0; o < nets.length && wrong !== -1; o += 1) wrong |= words[nets[o]] ^ seen[o]
    return wrong
  }

  conflict(set: readonly number[], isSettled: Uint8Array): number[] | undefined {
    const { worlds, nets, seen } = this
    for (const gate of set) worlds.invert(gate, -1)
    worlds.evaluate()
    const wrong = nets.filter((net, o) => worlds.words[net] !== seen[o])
    const found = wrong.length === 0 ? undefined : this.support.fewest(wrong, worlds.words, 0, isSettled)
    worlds.restore()
    return found
  }
}

/** Up to 32 observations. */
interface Batch {
  worlds: InvertedGates
  /** A word an output. */
  seen: Int32Array
  /** The worlds in use. */
  all: number
}

/** A set explains an observation if some of its gates, inverted, do: the others happen to work there. */
class ManyObservations implements FailingLogic {
  private readonly batches: Batch[] = []
  private readonly support: Support

  constructor(
    private readonly gates: GateProgram,
    observations: readonly LogicObservation[],
  ) {
    this.support = new Support(gates)
    for (let from = 0; from < observations.length; from += 32) {
      const some = observations.slice(from, from + 32)
      const inputs = packed(some.map((one) => one.inputs))
      const seen = packed(some.map((one) => one.outputs))
      this.batches.push({ worlds: new InvertedGates(gates, inputs), seen, all: some.length === 32 ? -1 : (1 << some.length) - 1 })
    }
  }

  explains(set: readonly number[], gates: readonly number[]): boolean[] {
    return gates.map((gate) => this.batches.every((batch) => this.unexplained(batch, [...set, gate]) === 0))
  }

  /** Worlds of a batch that no choice of gates of the set explains. */
  private unexplained(batch: Batch, set: readonly number[]): number {
    let open = batch.all
    for (let choice = 0; choice < 2 ** set.length && open !== 0; choice += 1) {
      open &= this.tryChoice(batch, set, choice, () => this.wrongWorlds(batch))
    }
    return open
  }

  /** With the gates inverted that the bits of `choice` pick. */
  private tryChoice<T>({ worlds }: Batch, set: readonly number[], choice: number, look: () => T): T {
    set.forEach((gate, n) => {
      if ((choice >>> n) & 1) worlds.invert(gate, -1)
    })
    worlds.evaluate()
    const seen = look()
    worlds.restore()
    return seen
  }

  private wrongWorlds({ worlds, seen, all }: Batch): number {
    const { outputs } = this.gates
    let wrong = 0
    for (let o = 0; o < outputs.length && (wrong & all) !== all; o += 1) wrong |= worlds.words[outputs[o]] ^ seen[o]
    return wrong
  }

  /** Whatever the set does in an observation it does not explain, one gate more must fail: of those that any of its choices rests on. */
  conflict(set: readonly number[], isSettled: Uint8Array): number[] | undefined {
    for (const batch of this.batches) {
      const open = this.unexplained(batch, set)
      if (open === 0) continue
      const world = 31 - Math.clz32(open)
      const found = new Set<number>()
      for (let choice = 0; choice < 2 ** set.length; choice += 1) {
        for (const gate of this.tryChoice(batch, set, choice, () => this.supportIn(batch, world, isSettled))) found.add(gate)
      }
      return [...found]
    }
    return undefined
  }

  private supportIn({ worlds, seen }: Batch, world: number, isSettled: Uint8Array): number[] {
    const { outputs } = this.gates
    const wrong = Array.from(outputs).filter((net, o) => ((worlds.words[net] ^ seen[o]) >>> world) & 1)
    return this.support.fewest(wrong, worlds.words, world, isSettled)
  }
}

const word = (bit: boolean): number => (bit ? -1 : 0)

/** Vectors turned on their side: one word a place, vector n in bit n. */
function packed(vectors: readonly (readonly boolean[])[]): Int32Array {
  const words = new Int32Array(vectors[0].length)
  vectors.forEach((vector, n) => {
    vector.forEach((bit, place) => {
      if (bit) words[place] |= 1 << n
    })
  })
  return words
}
