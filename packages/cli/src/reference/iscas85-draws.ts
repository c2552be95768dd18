import { createRandom, type Random } from '@halfsplit/core'
import type { GateNetwork } from '@halfsplit/network'
import { setDifferences, smallestDiagnoses } from './iscas85-circuit.js'
import { PlainGates } from './plain-gates.js'
import { judge } from './posterior-compare.js'
import type { CaseResult } from './runner.js'

/** How many faults of each size are drawn for a circuit without expected values. */
const DRAWS = 5
/** Draws before a circuit is given up: on some, most faults do not show. */
const MOST_TRIES = 2000

/** Gates stuck at a value, what was put in, and what came out. */
interface Drawn {
  stuck: ReadonlyMap<string, boolean>
  inputs: boolean[]
  outputs: boolean[]
  /** All gates that explain it by themselves. */
  singles: string[]
}

/**
 * Single and double faults drawn for a circuit whose diagnoses no file tells. They are judged by trying, in the plainest way, every single
 * gate for a single fault and, for doubles, every single gate and every pair of gates of the first.
 */
export function drawnCases(name: string, network: GateNetwork): CaseResult[] {
  const plain = new PlainGates(network)
  const random = createRandom(`iscas85/${name}`)
  return [1, 2].flatMap((size) =>
    Array.from({ length: DRAWS }, (_, n): CaseResult => {
      const id = `${name}: ${size === 1 ? 'single' : 'double'} fault ${n + 1}`
      const drawn = draw(plain, network, random.fork(id), size)
      if (!drawn) return { id, outcome: 'skipped', detail: `${MOST_TRIES} draws gave no fault of this size that shows` }
      const found = smallestDiagnoses(network, drawn, size)
      const gates = [...drawn.stuck].map(([gate, value]) => `${gate} stuck at ${Number(value)}`).join(', ')
      return judge(`${id} (${gates})`, () =>
        size === 1
          ? setDifferences(
              found,
              drawn.singles.map((gate) => [gate]),
            )
          : pairDifferences(plain, drawn, found, n === 0),
      )
    }),
  )
}

/** A fault of that many gates that shows, and that no fewer explain. */
function draw(plain: PlainGates, network: GateNetwork, random: Random, size: number): Drawn | undefined {
  for (let tries = 0; tries < MOST_TRIES; tries += 1) {
    const inputs = network.inputs.map(() => random.uniform() < 0.5)
    const picked = Array.from({ length: size }, () => plain.order[random.integer(plain.order.length)].output)
    const stuck = new Map(picked.map((gate) => [gate, random.uniform() < 0.5]))
    const outputs = plain.outputs(inputs, stuck)
    if (stuck.size < size || outputs.join() === plain.outputs(inputs, new Map()).join()) continue
    const singles = plain.singles(inputs, outputs)
    if (size === 1 || singles.length === 0) return { stuck, inputs, outputs, singles }
  }
  return undefined
}

function pairDifferences(
  plain: PlainGates,
  drawn: Drawn,
  found: readonly (readonly string[])[],
  isJudgedByAll: boolean,
): string[] {
  const { inputs, outputs, stuck } = drawn
  if (isJudgedByAll) return setDifferences(found, plain.pairs(inputs, outputs))
  const seen = outputs.join()
  const wrong = found.filter(
    (set) => plain.outputs(inputs, new Map(set.map((gate) => [gate, 'inverted' as const]))).join() !== seen,
  )
  const isThere = found.some((set) => set.length === stuck.size && set.every((gate) => stuck.has(gate)))
  return [
    ...wrong.map((set) => `does not explain: ${set.join(' ')}`),
    ...(isThere ? [] : [`missed: ${[...stuck.keys()].join(' ')}`]),
  ]
}
