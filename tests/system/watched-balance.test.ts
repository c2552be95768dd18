import { march, type Seen } from '@halfsplit/network'
import {
  type Course,
  legsOf,
  portName,
  Realiser,
  readWatched,
  type Rest,
  restsOnTheWay,
  type System,
  type Watched,
  watchedOf,
} from '@halfsplit/system'
import { describe, expect, it } from 'vitest'
import { libraryText, systemOf } from './library.js'

/** What goes into each part at each point where parts meet, by node. */
function flowsByNode(system: System, read: (watched: Watched) => number): Map<string, { name: string; flow: number }[]> {
  const flows = new Map<string, { name: string; flow: number }[]>()
  for (const part of system.parts.values()) {
    for (const port of part.kind.ports) {
      const name = portName(part, port.name)
      const node = system.nodeOf.get(name) as string
      const watched = watchedOf(system.parts, `into ${name}`) as Watched
      flows.set(node, [...(flows.get(node) ?? []), { name, flow: read(watched) }])
    }
  }
  return flows
}

/** Nodes where more goes in than out, against the largest flow there and what the insulation of the node takes. */
function unbalanced(flows: ReturnType<typeof flowsByNode>, { circuit, point }: Seen, share: number) {
  return [...flows].filter(([node, all]) => {
    const i = circuit.index.get(node) as number
    const lost = Math.abs(circuit.insulation[i] * (point.across[i] - circuit.rest[i]))
    const sum = all.reduce((total, { flow }) => total + flow, 0)
    return node !== '0' && Math.abs(sum) > share * Math.max(...all.map(({ flow }) => Math.abs(flow))) + 1.01 * lost + 1e-9
  })
}

describe.each([
  ['fan-drive', 'idle_cold'],
  ['fan-drive', 'hot'],
  ['starting', 'start_cold'],
  ['air-supply', 'charging'],
])('%s in %s', (name, state) => {
  it('what goes into the parts that meet at a point sums to nothing', () => {
    const system = systemOf(libraryText(name))
    const rests = restsOnTheWay(new Realiser(system), state) as Rest[]
    const { settled, settings, faults } = rests[rests.length - 1]
    const flows = flowsByNode(system, (watched) => readWatched(system, watched, settled, { settings, faults }))
    expect(unbalanced(flows, settled, 1e-6)).toEqual([])
    expect([...flows.values()].flat().filter(({ flow }) => Math.abs(flow) > 1e-5).length).toBeGreaterThan(5)
  })
})

it('so it does while the machine runs, with what stores take', () => {
  const system = systemOf(libraryText('fan-drive'))
  const scenario = system.scenarios.get('work')
  if (!scenario) throw new Error('no scenario')
  const realiser = new Realiser(system)
  const rests = restsOnTheWay(realiser, scenario.from) as Rest[]
  const course: Course = { scenario, start: rests[rests.length - 1], faults: [], until: 900 }
  const { legs, previous } = legsOf(realiser, course)
  const { samples } = march(legs, { until: 900, previous, samples: [100, 500, 676.5, 800] })
  for (const seen of samples) {
    const flows = flowsByNode(system, (watched) => readWatched(system, watched, seen, course.start))
    expect(unbalanced(flows, seen, 1e-4)).toEqual([])
  }
})
