import {
  type Change,
  type Element,
  floatingNodes,
  flowOf,
  gradient,
  type Law,
  type Network,
  probeValue,
  settle,
} from '../index.js'

const node = (id: string) => ({ id, domain: 'electrical', insulation: 1e-9, rest: 0 }) as const
const [closed, open]: Law[] = [50, 0].map((g) => ({ law: 'linear', g }))
const network: Network = {
  nodes: ['plus', 'lamp', 'spare'].map(node),
  elements: [
    { type: 'across', id: 'battery', a: 'plus', b: '0', value: 24, resistance: 0.02 },
    { type: 'gate', id: 'contact', a: 'plus', b: 'lamp', on: closed, off: open, signal: 'key' },
    { type: 'law', id: 'filament', a: 'lamp', b: '0', law: { law: 'linear', g: 0.25 } },
  ],
  signals: [{ type: 'imposed', id: 'key', value: true }],
}
const settled = settle(network)
if (settled.status !== 'settled') throw new Error(`${settled.status}: ${settled.parts.join(', ')}`)
const volts = probeValue(settled, { across: { lamp: 1 } }) // 23.762 V against the reference "0"
const amps = flowOf(settled, 'battery') // 5.941 A, delivered out of its end a
const floating = floatingNodes(settled) // Set { 'spare' }: nothing but insulation holds it
const fuller: Change = { step: 1, elements: [{ position: 0, element: { ...network.elements[0], value: 25 } as Element }] }
const slope = gradient(settled, { across: { lamp: 1 } }, [fuller]) // 0.990 V a volt of the battery

export const answers = { volts, amps, floating, slope }
