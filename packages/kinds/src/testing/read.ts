import { probeValue, settle, type Settled } from '@halfsplit/network'
import type { Kind } from '../kind.js'
import { type Bench, type Fitted, viewOf } from './bench.js'

/** The bench come to rest; @throws where it finds none, naming the parts. */
export function atRest(bench: Bench, previous?: Record<string, boolean>): Settled {
  const settled = settle(bench, { previous })
  if (settled.status !== 'settled') throw new Error(`${settled.status}: ${settled.parts.join(', ')}`)
  return settled
}

/** Across quantity of a node against another [SI]. */
export const across = (settled: Settled, node: string, against = '0'): number =>
  probeValue(settled, { across: { [node]: 1, [against]: -1 } })

/** The word a look gives when the observer does not waver: the word of the range that the quantity lies in. */
export function seen(
  settled: Settled,
  kind: Kind,
  name: string,
  look: string,
  joined: Record<string, string> = {},
  fitted: Fitted = {},
): string {
  const found = kind.looks?.find((one) => one.name === look)
  if (!found) throw new Error(`${kind.name} has no look '${look}'`)
  const quantity = found.quantity(viewOf(kind, name, fitted))
  let value: number
  if ('signal' in quantity) value = settled.state[`${name}:${quantity.signal}`] ? 1 : 0
  else {
    const own = (of: string) => joined[of] ?? (kind.ports.some((port) => port.name === of) ? `${name}.${of}` : `${name}~${of}`)
    const { probe, scale } = quantity
    value = scale * probeValue(settled, 'through' in probe ? { through: `${name}:${probe.through}` } : namesOf(probe.across, own))
    if (quantity.absolute) value = Math.abs(value)
  }
  return found.words[found.levels.filter(([low, high]) => value > (low + high) / 2).length]
}

const namesOf = (weights: Record<string, number>, own: (of: string) => string) => ({
  across: Object.fromEntries(Object.entries(weights).map(([name, weight]) => [own(name), weight])),
})
