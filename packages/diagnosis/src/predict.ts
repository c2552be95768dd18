import { ASSUMPTIONS, type Meter, type MeterRange, normalCdf, rangeFor } from '@halfsplit/core'
import type { Branch, NumberPrediction, Prediction, Sensitivities } from '@halfsplit/inference'
import {
  adjointOf,
  compile,
  floatingNodes,
  type Probe,
  probeValue,
  seenResistance,
  type Settled,
  settle,
  slopes,
  slopesOf,
} from '@halfsplit/network'
import { labelView, nodeAt, probeOfPart } from '@halfsplit/system'
import { asFault, type SizedFault } from './faults.js'
import type { Arrival, Machine } from './machine.js'
import { norm, type Sense, sensitivitiesOf, sparse } from './sense.js'
import type { Setup } from './setup.js'
import { isolatedOhms } from './ohms.js'
import type { TestProbe } from './probe.js'

/** A reading as the meter would see it: value at its leads and how that moves, before the meter's own error. */
export interface Seen {
  mean: number
  latents: Int32Array
  slopes: Float64Array
  /** Range any reading may fall in where nothing holds the point. */
  broad?: { low: number; high: number; weight: number }
}

/** Source resistance over input resistance below which the meter's load is a plain divider; above it the network is solved with the meter in. */
const LIGHT_LOAD = 1e-3
/** What a still hand leaves of a reading, in steps of the display. */
const PROBE_STEPS = 0.3

/** What each branch of a machine's arrival predicts for the probes, in their order. `ranges`: the range each was read in, if known. */
export function predictAll(
  machine: Machine,
  faults: readonly SizedFault[],
  setup: Setup,
  probes: readonly TestProbe[],
  ranges: readonly (MeterRange | undefined)[] = [],
): Branch[] {
  const arrivals = probes.every((probe) => probe.kind === 'ohms') ? [undefined] : machine.arrive(faults, setup)
  return arrivals.map((arrival) => ({
    conditions: arrival?.conditions ?? [],
    predictions: probes.map((probe, i) => predictOne(machine, faults, setup, arrival, probe, ranges[i])),
  }))
}

function predictOne(
  machine: Machine,
  faults: readonly SizedFault[],
  setup: Setup,
  arrival: Arrival | undefined,
  probe: TestProbe,
  range: MeterRange | undefined,
): Prediction {
  if (probe.kind === 'ohms') {
    const seen = isolatedOhms(machine, faults, machine.settingsIn(setup.state), probe, range)
    return displayed(machine, seen, probe.meter, range, ASSUMPTIONS.probeContactOhm)
  }
  if (!arrival?.settled || !arrival.sense) return unsteady(probe)
  if (probe.kind === 'look') return lookPrediction(machine, faults, setup, arrival.settled, arrival.sense, probe)
  const seen = seenBy(machine, arrival.settled, arrival.sense, probe)
  return displayed(machine, seen, probe.meter, range, 0)
}

/** A machine that finds no rest shows anything: any number of the meter, any word. */
function unsteady(probe: TestProbe): Prediction {
  if (probe.kind === 'look') return { kind: 'words', probabilities: probe.look.words.map(() => 1 / probe.look.words.length) }
  const top = topOf('meter' in probe ? probe.meter : undefined)
  return { kind: 'number', mean: top / 2, sensitivities: NONE, freshSd: top, broad: { weight: 1, low: 0, high: top } }
}

const NONE: Sensitivities = { index: [], value: [] }
const topOf = (meter: Meter | undefined): number => meter?.ranges.at(-1)?.top ?? 1

function seenBy(machine: Machine, settled: Settled, sense: Sense, probe: Exclude<TestProbe, { kind: 'look' | 'ohms' }>): Seen {
  if (probe.kind === 'volts') return seenVolts(machine, settled, sense, probe)
  const inNetwork: Probe =
    probe.kind === 'amps' ? { through: `${probe.part}:${probe.element}` } : { across: { [nodeAt(machine.system, probe.at)]: 1 } }
  return { mean: probeValue(settled, inNetwork), latents: sense.latents, slopes: sensitivitiesOf(settled, sense, inNetwork) }
}

/** Volts with the meter as part of the network: unloaded points and bad joints show themselves as what they are. */
function seenVolts(machine: Machine, settled: Settled, sense: Sense, probe: Extract<TestProbe, { kind: 'volts' }>): Seen {
  const red = nodeAt(machine.system, probe.red)
  const black = nodeAt(machine.system, probe.black)
  if (red === black) return { mean: 0, latents: new Int32Array(0), slopes: new Float64Array(0) }
  const conductance = 1 / (probe.meter.inputResistance ?? Number.POSITIVE_INFINITY)
  const inNetwork = { across: { [red]: 1, [black]: -1 } }
  const dual = adjointOf(settled, inNetwork)
  const load = conductance * seenResistance(settled, inNetwork, dual)
  const broad = floatsBetween(settled, red, black)
  if (load < LIGHT_LOAD) {
    const share = 1 / (1 + load)
    const all = slopesOf(sense.slopes, dual)
    for (let i = 0; i < all.length; i += 1) all[i] *= sense.scale[i] * share
    return { mean: probeValue(settled, inNetwork) * share, latents: sense.latents, slopes: all, broad }
  }
  const { network } = settled.circuit
  const meter = { type: 'law', id: 'meter', a: red, b: black, law: { law: 'linear', g: conductance } } as const
  const loaded = settle(compile({ ...network, elements: [...network.elements, meter] }), {
    previous: settled.state,
    start: settled.point.across,
  })
  if (loaded.status !== 'settled')
    return { mean: 0, latents: sense.latents, slopes: new Float64Array(sense.latents.length), broad }
  const loadedSense = {
    ...sense,
    slopes: slopes(
      loaded,
      sense.changes.map((change) => change.change),
    ),
  }
  return {
    mean: probeValue(loaded, inNetwork),
    latents: sense.latents,
    slopes: sensitivitiesOf(loaded, loadedSense, inNetwork),
    broad,
  }
}

const floating = new WeakMap<Settled, { nodes: Set<string>; low: number; high: number }>()

/** Where a point hangs on insulation alone: half as computed, half anywhere between the live potentials. */
function floatsBetween(settled: Settled, red: string, black: string): Seen['broad'] {
  let known = floating.get(settled)
  if (!known) {
    const nodes = floatingNodes(settled)
    let low = 0
    let high = 0
    settled.circuit.names.forEach((name, i) => {
      if (settled.circuit.domains[i] !== 'electrical' || nodes.has(name)) return
      low = Math.min(low, settled.point.across[i])
      high = Math.max(high, settled.point.across[i])
    })
    known = { nodes, low, high }
    floating.set(settled, known)
  }
  if (!known.nodes.has(red) && !known.nodes.has(black)) return undefined
  const held = (name: string) => (known.nodes.has(name) ? undefined : settled.point.across[settled.circuit.index.get(name) ?? 0])
  const low = (known.nodes.has(red) ? known.low : (held(red) ?? 0)) - (known.nodes.has(black) ? known.high : (held(black) ?? 0))
  const high = (known.nodes.has(red) ? known.high : (held(red) ?? 0)) - (known.nodes.has(black) ? known.low : (held(black) ?? 0))
  return high > low ? { low, high, weight: 1 - ASSUMPTIONS.floatingAsComputed } : undefined
}

/** Adds the meter: one gain and one zero error per meter and range, shared by all its readings, and a still hand's rest. */
function displayed(machine: Machine, seen: Seen, meter: Meter, known: MeterRange | undefined, contact: number): NumberPrediction {
  const range = known ?? rangeFor(meter, seen.mean) ?? meter.ranges[meter.ranges.length - 1]
  const shown = seen.mean - (meter.zero ?? 0)
  const gain = ((range.percent / 100) * shown) / Math.sqrt(3)
  const zero = (range.counts * range.resolution) / Math.sqrt(3)
  const count = seen.latents.length
  const latents = new Int32Array(count + 2)
  const values = new Float64Array(count + 2)
  latents.set(seen.latents)
  values.set(seen.slopes)
  latents[count] = machine.space.named(`gain ${meter.name} ${range.top}`)
  latents[count + 1] = machine.space.named(`zero ${meter.name} ${range.top}`)
  values[count] = gain
  values[count + 1] = zero
  const freshSd = Math.hypot(PROBE_STEPS * range.resolution, contact)
  const mean = seen.mean + machine.space.offset(seen.latents, seen.slopes)
  return { kind: 'number', mean, sensitivities: sparse(latents, values), freshSd, broad: seen.broad }
}

function lookPrediction(
  machine: Machine,
  faults: readonly SizedFault[],
  setup: Setup,
  settled: Settled,
  sense: Sense,
  { part, look }: Extract<TestProbe, { kind: 'look' }>,
): Prediction {
  const fault = faults.find((one) => one.fault.part === part)
  const quantity = look.quantity(labelView(part, machine.settingsIn(setup.state), fault && asFault(fault)))
  if ('signal' in quantity) {
    return { kind: 'words', probabilities: wordShares(look.levels, settled.state[`${part.name}:${quantity.signal}`] ? 1 : 0, 0) }
  }
  const probe = probeOfPart(machine.system, part, quantity.probe)
  const middle = valueAt(settled, probe)
  const moves = middle === 0 ? new Float64Array(sense.latents.length) : sensitivitiesOf(settled, sense, probe)
  const value = (middle + machine.space.offset(sense.latents, moves)) * quantity.scale
  const sd = norm(sparse(sense.latents, moves)) * Math.abs(quantity.scale)
  return { kind: 'words', probabilities: wordShares(look.levels, quantity.absolute ? Math.abs(value) : value, sd) }
}

/** Value of a kind's probe; nothing flows through a part that has been taken out. */
export function valueAt(settled: Settled, probe: Probe): number {
  if ('through' in probe && !settled.circuit.network.elements.some((element) => element.id === probe.through)) return 0
  return probeValue(settled, probe)
}

/** Chance of each word when the quantity is normal and the observer wavers between two levels (an sd of a quarter of the gap). */
export function wordShares(levels: readonly (readonly [number, number])[], mean: number, sd: number): number[] {
  const above = levels.map(([low, high]) =>
    normalCdf((mean - (low + high) / 2) / Math.max(Math.hypot(sd, (high - low) / 4), 1e-12)),
  )
  const passed = [1, ...above.map((share, i) => Math.min(share, ...above.slice(0, i))), 0]
  return passed.slice(0, -1).map((share, i) => share - passed[i + 1])
}
