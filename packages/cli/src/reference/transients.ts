import { type Leg, march, probeValue } from '@halfsplit/network'
import { changed, type DcElement, type DcFile, switchingTimes, toNetwork } from './dc-network.js'
import type { CaseResult } from './runner.js'

/** Agreement asked for: a share of the node's swing over the whole run (the readme of the circuits), and of the least voltage that counts. */
const SHARE = 0.01
const LEAST_SWING = 2e-3

/** Voltages over time of every case of a file with a `transient`: one value for each of its times. */
export function transients(file: DcFile): CaseResult[] {
  return (file.cases ?? []).map(({ id, changes, volt }) => {
    const name = `${file.name}: ${id}`
    const detail = compare(file, changed(file.elements, changes), (volt ?? {}) as unknown as Record<string, number[]>)
    if (detail?.startsWith('no primitive')) return { id: name, outcome: 'skipped', detail }
    return { id: name, outcome: detail ? 'failed' : 'passed', detail }
  })
}

function compare(file: DcFile, elements: DcElement[], volt: Record<string, number[]>): string | undefined {
  const { stop_s: until = 0, at_s: samples = [] } = file.transient ?? {}
  const insulation = file.node_to_ground_ohm === undefined ? 1e9 : file.node_to_ground_ohm
  const times = [...new Set([0, ...switchingTimes(elements).filter((time) => time > 0 && time < until)])].toSorted(
    (p, q) => p - q,
  )
  const legs: Leg[] = []
  for (const from of times) {
    const network = toNetwork(file.nodes, elements, insulation, from)
    if ('unknown' in network) return `no primitive for the kind '${network.unknown}'`
    legs.push({ from, network })
  }
  const run = march(legs, { until, samples })
  if (run.status !== 'done') return `${run.status} at ${run.end} s: ${run.parts.join(', ')}`
  for (const [node, expected] of Object.entries(volt)) {
    const swing = Math.max(LEAST_SWING, Math.max(...expected) - Math.min(...expected))
    for (const [n, sample] of run.samples.entries()) {
      const value = probeValue(sample, { across: { [node]: 1 } })
      const near = Math.abs(value - expected[n]) <= SHARE * swing
      if (!near) return `V(${node}) at ${sample.time} s is ${value}, expected ${expected[n]}`
    }
  }
  return undefined
}
