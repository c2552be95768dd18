import { readFileSync, readdirSync } from 'node:fs'
import { join } from 'node:path'
import { flowOf, type Network, probeValue, settle } from '@halfsplit/network'
import { changed, type DcChange, type DcFile, toNetwork } from './dc-network.js'
import type { CaseResult, Runner } from './runner.js'
import { transients } from './transients.js'

/** Agreement asked for: 2e-5 V or 1e-6 relative, whichever is larger. */
const near = (value: number, expected: number): boolean => Math.abs(value - expected) <= Math.max(2e-5, 1e-6 * Math.abs(expected))

/** Operating points of `dc-network/1` files: healthy, every case of changes, every single fault. */
export const circuits: Runner = (directory) =>
  readdirSync(directory)
    .filter((name) => name.endsWith('.json'))
    .sort()
    .map((name) => JSON.parse(readFileSync(join(directory, name), 'utf8')) as DcFile)
    .filter((file) => file.format === 'dc-network/1')
    .flatMap(runFile)

function runFile(file: DcFile): CaseResult[] {
  if (file.transient) return transients(file)
  const insulation = file.node_to_ground_ohm === undefined ? 1e9 : file.node_to_ground_ohm
  const run = (
    id: string,
    changes: DcChange[],
    volt: Record<string, number | null> | null,
    amp?: Record<string, number>,
  ): CaseResult => {
    const network = toNetwork(file.nodes, changed(file.elements, changes), insulation)
    const name = `${file.name}: ${id}`
    if ('unknown' in network) return { id: name, outcome: 'skipped', detail: `no primitive for the kind '${network.unknown}'` }
    const detail = compare(network, volt, amp ?? {})
    return { id: name, outcome: detail ? 'failed' : 'passed', detail }
  }
  const byName = (values: number[] | null) => values && Object.fromEntries(file.nodes.map((node, i) => [node, values[i]]))
  return [
    ...(file.cases ?? []).map((one) => run(one.id, one.changes, one.volt, one.source_amp)),
    ...(file.expected ? [run('healthy', [], byName(file.expected.healthy))] : []),
    ...(file.faults ?? []).map((fault) =>
      run(
        fault.id,
        [{ element: fault.element, key: fault.set, value: fault.value }],
        byName(file.expected?.faults[fault.id] ?? null),
      ),
    ),
  ]
}

function compare(network: Network, volt: Record<string, number | null> | null, amp: Record<string, number>): string | undefined {
  const settled = settle(network)
  if (volt === null) return settled.status === 'settled' ? 'settled, but no operating point exists' : undefined
  if (settled.status !== 'settled') return `${settled.status}: ${settled.parts.join(', ')}`
  for (const [node, expected] of Object.entries(volt)) {
    const value = probeValue(settled, { across: { [node]: 1 } })
    if (expected !== null && !near(value, expected)) return `V(${node}) is ${value}, expected ${expected}`
  }
  for (const [source, expected] of Object.entries(amp)) {
    const value = flowOf(settled, source)
    if (!near(value, expected)) return `I(${source}) is ${value}, expected ${expected}`
  }
  return undefined
}
