import { type ConsistencyModel, explanations, smallestExplanations } from '@halfsplit/inference'
import { compileGates, failingLogic, type GateNetwork, type LogicObservation } from '@halfsplit/network'

/** A diagnosis as the case files tell it: the gates by name, in order. */
export type GateSet = readonly string[]

/** The sets of gates with the fewest members that explain an observation, none larger than `largest`. */
export function smallestDiagnoses(network: GateNetwork, observation: LogicObservation, largest?: number): GateSet[] {
  const { model, nameOf, gates } = modelOf(network, [observation])
  return smallestExplanations(model, gates, { largest }).map((set) => set.map(nameOf))
}

/** All subset-minimal sets of at most `largest` gates that explain every observation. */
export function minimalDiagnoses(network: GateNetwork, observations: readonly LogicObservation[], largest: number): GateSet[] {
  const { model, nameOf, gates } = modelOf(network, observations)
  const all = explanations(model, new Float64Array(gates).fill(EQUAL_ODDS), { largest })
  return Array.from(all, ({ items }) => items.map(nameOf))
}

/** Every gate fails as easily as any other: only their number counts. */
const EQUAL_ODDS = 0.5

function modelOf(network: GateNetwork, observations: readonly LogicObservation[]) {
  const compiled = compileGates(network)
  const logic = failingLogic(compiled, observations)
  const model: ConsistencyModel = {
    explains: (set, items) => logic.explains(set, items),
    conflict: (set, isSettled) => logic.conflict(set, isSettled),
  }
  return { model, gates: network.gates.length, nameOf: (gate: number) => compiled.nets[compiled.inputs + gate] }
}

/** `0110` as bits. */
export const bitsOf = (text: string): boolean[] => Array.from(text, (bit) => bit === '1')

/** Differences between two lists of diagnoses, in whatever order; at most a few of each. */
export function setDifferences(ours: readonly GateSet[], expected: readonly GateSet[]): string[] {
  const key = (set: GateSet) => [...set].sort().join(' ')
  const [found, asked] = [new Set(ours.map(key)), new Set(expected.map(key))]
  return [
    ...[...asked].filter((set) => !found.has(set)).map((set) => `missed: ${set}`),
    ...[...found].filter((set) => !asked.has(set)).map((set) => `should not be there: ${set}`),
    ...(found.size === ours.length ? [] : [`${ours.length - found.size} are there twice`]),
  ]
}
