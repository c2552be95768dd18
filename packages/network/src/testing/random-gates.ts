import fc from 'fast-check'
import type { Gate, GateNetwork } from '../logic/gates.js'

const TYPES: Gate['type'][] = ['AND', 'NAND', 'OR', 'NOR', 'XOR', 'XNOR', 'NOT', 'BUFF']

/** Gate networks without rings, their gates listed in any order. */
export const randomGates = (mostGates: number): fc.Arbitrary<GateNetwork> =>
  fc
    .record({
      inputs: fc.integer({ min: 1, max: 5 }),
      gates: fc.array(fc.record({ type: fc.constantFrom(...TYPES), reads: fc.array(fc.nat(1000), { maxLength: 4 }) }), {
        minLength: 1,
        maxLength: mostGates,
      }),
      order: fc.array(fc.nat(1000), { minLength: mostGates, maxLength: mostGates }),
      outputs: fc.array(fc.nat(1000), { minLength: 1, maxLength: 4 }),
    })
    .map(({ inputs, gates, order, outputs }) => {
      const ins = Array.from({ length: inputs }, (_, n) => `in${n}`)
      const nets = [...ins, ...gates.map((_, k) => `g${k}`)]
      const made = gates.map(({ type, reads }, k): Gate => {
        const single = type === 'NOT' || type === 'BUFF'
        const places = single ? [reads[0] ?? 0] : reads
        return { output: `g${k}`, type, inputs: places.map((place) => nets[place % (inputs + k)]) }
      })
      const shuffled = made.map((gate, k) => ({ gate, key: order[k] })).sort((p, q) => p.key - q.key)
      return { inputs: ins, outputs: outputs.map((place) => nets[place % nets.length]), gates: shuffled.map(({ gate }) => gate) }
    })

/** A net's value by the definition of its gate and, behind it, of all that it reads; the gates of `faulty` give the inverse. */
export function plainValue(
  { inputs, gates }: GateNetwork,
  net: string,
  vector: readonly boolean[],
  faulty: readonly string[] = [],
): boolean {
  const place = inputs.indexOf(net)
  if (place >= 0) return vector[place]
  const gate = gates.find(({ output }) => output === net) as Gate
  const values = gate.inputs.map((input) => plainValue({ inputs, outputs: [], gates }, input, vector, faulty))
  const right = tables[gate.type](values)
  return faulty.includes(net) ? !right : right
}

const isOdd = (values: readonly boolean[]): boolean => values.filter(Boolean).length % 2 === 1

const tables: Record<Gate['type'], (values: readonly boolean[]) => boolean> = {
  AND: (values) => values.every(Boolean),
  NAND: (values) => !values.every(Boolean),
  OR: (values) => values.some(Boolean),
  NOR: (values) => !values.some(Boolean),
  XOR: isOdd,
  XNOR: (values) => !isOdd(values),
  NOT: ([value]) => !value,
  BUFF: ([value]) => value,
}
