import type { Meter, MeterRange } from '@halfsplit/core'
import {
  compile,
  type Network,
  type Node,
  type Settled,
  settle,
  slopes,
  slopesOf,
  adjointOf,
  probeValue,
} from '@halfsplit/network'
import { portName } from '@halfsplit/system'
import { asFault, type SizedFault } from './faults.js'
import type { Machine } from './machine.js'
import type { Seen } from './predict.js'
import type { TestProbe } from './probe.js'

/** What an ohmmeter shows above its last range. */
const NO_END = 1e9

/**
 * Resistance of a part that stands alone: the meter is a source with a range (open volts behind the resistance that gives its
 * test current), the part's primitives the load, and the reading what their divider makes of it. A diode therefore reads
 * by polarity and range, and a joint only to the meter's resolution.
 */
export function isolatedOhms(
  machine: Machine,
  faults: readonly SizedFault[],
  settings: ReadonlyMap<string, string | number>,
  probe: Extract<TestProbe, { kind: 'ohms' }>,
  known: MeterRange | undefined,
): Seen {
  const { meter } = probe
  const first = known ? meter.ranges.indexOf(known) : 0
  const last = known ? first : meter.ranges.length - 1
  for (let r = first; r <= last; r += 1) {
    const seen = inRange(machine, faults, settings, probe, meter, Math.max(r, 0))
    if (seen && (seen.mean <= meter.ranges[r].top || r === last)) return seen
  }
  return { mean: NO_END, latents: new Int32Array(0), slopes: new Float64Array(0) }
}

function inRange(
  machine: Machine,
  faults: readonly SizedFault[],
  settings: ReadonlyMap<string, string | number>,
  probe: Extract<TestProbe, { kind: 'ohms' }>,
  meter: Meter,
  r: number,
): Seen | undefined {
  const { system, realiser } = machine
  const own = faults.filter(({ fault }) => fault.part.name === probe.part)
  const all = realiser.realise({ settings, faults: own.map(asFault) })
  const place = all.elementsOf.get(probe.part)
  const part = system.parts.get(probe.part)
  if (!place || !part) return undefined
  const volts = meter.openVoltage ?? 3
  const source = volts / (meter.testCurrents?.[r] ?? 1e-3)
  const red = system.nodeOf.get(portName(part, probe.red)) as string
  const black = system.nodeOf.get(portName(part, probe.black)) as string
  const { elements, signals } = place.fragment
  // A part has inner nodes of other domains too: the shaft of a motor, the air behind a valve, what a sender's bead sits in.
  const followed = elements.flatMap((one) => ('gains' in one ? (one.gains ?? []) : []).flatMap(({ node, less }) => [node, less]))
  const used = new Set<unknown>([red, black, ...followed, ...[...elements, ...signals].flatMap((one) => Object.values(one))])
  const nodes = all.network.nodes.filter((node) => used.has(node.id))
  const network: Network = {
    nodes: followed.length > 0 ? asWarmAs(all.network, nodes) : nodes,
    elements: [...elements, { type: 'across', id: 'meter', a: red, b: black, value: volts, resistance: source }],
    signals,
  }
  const settled = settle(compile(network))
  if (settled.status !== 'settled') return undefined
  return reading(machine, settled, all, own, settings, place.start, elements, red, black, volts, source)
}

/** Nodes of a part by itself, those that no current reaches at what they are on the machine: a sender is as warm as its coolant. */
function asWarmAs(whole: Network, nodes: readonly Node[]): Node[] {
  const settled = settle(compile(whole))
  if (settled.status !== 'settled') return [...nodes]
  const { circuit, point } = settled
  return nodes.map((node) =>
    node.domain === 'electrical' ? node : { ...node, rest: point.across[circuit.index.get(node.id) as number] },
  )
}

function reading(
  machine: Machine,
  settled: Settled,
  all: ReturnType<Machine['realiser']['realise']>,
  own: readonly SizedFault[],
  settings: ReadonlyMap<string, string | number>,
  start: number,
  elements: readonly { id: string }[],
  red: string,
  black: string,
  volts: number,
  source: number,
): Seen {
  const across = { across: { [red]: 1, [black]: -1 } }
  const v = Math.min(probeValue(settled, across), volts * (1 - 1e-12))
  const at = new Map(elements.map((element, i) => [element.id, i]))
  const found = machine.realiser
    .latentChanges(all)
    .map((change) => ({ ...change, scale: machine.space.moments(change.latent).gain }))
  for (const sized of own) {
    const kind = sized.fault.severity?.scale ?? 'log'
    const change = machine.realiser.severityChange(
      all,
      { settings },
      asFault(sized),
      kind === 'log' ? 1e-4 : sized.sd * 1e-3,
      kind,
    )
    if (change && sized.sd > 0) found.push({ ...change, latent: machine.space.named(`size ${sized.fault.id}`), scale: sized.sd })
  }
  const local = found
    .map((change) => ({
      ...change,
      change: {
        step: change.change.step,
        elements: change.change.elements
          .filter(({ position, element }) => position >= start && at.has(element.id))
          .map(({ element }) => ({ position: at.get(element.id) as number, element })),
      },
    }))
    .filter(({ change }) => change.elements.length > 0)
  const moves = slopesOf(
    slopes(
      settled,
      local.map(({ change }) => change),
    ),
    adjointOf(settled, across),
  )
  // R = v source / (volts - v), so dR/dv = volts source / (volts - v)^2.
  const perVolt = (volts * source) / (volts - v) ** 2
  return {
    mean: (v * source) / (volts - v),
    latents: Int32Array.from(local, ({ latent }) => latent),
    slopes: Float64Array.from(moves, (move, i) => move * perVolt * local[i].scale),
  }
}
