import type { Meter } from '@halfsplit/core'
import { type Intervention, type Part, portName, type System } from '@halfsplit/system'
import { type Setup, setupKey } from './setup.js'
import { isLowImpedance, probeKey, type TestProbe } from './probe.js'

/** A test a technician can do: a setup of the machine and one thing taken there. */
export interface Test {
  id: string
  setup: Setup
  probe: TestProbe
  /** Minutes at the point itself, getting there and setting up not counted. */
  minutes: number
  /** Places it is taken at: getting there costs once. */
  places: readonly string[]
  /** It opens or moves a contact, and may cure what it looks for. */
  disturbs: boolean
}

const VOLTS_MINUTES = 1.5
const GAUGE_MINUTES = 5
const CLAMP_MINUTES = 2
const OHMS_MINUTES = 4

/**
 * Every test the description offers, linear in its parts: looks, volts from each accessible point to battery minus, across each
 * part, along the feed and ground path of each load, at unplugged connectors, jumpers across contacts, like parts swapped
 * in, pressure at fittings, and resistance of isolated parts with the power off.
 */
export function generateTests(system: System): Test[] {
  const found = new Map<string, Test>()
  const add = (setup: Setup, probe: TestProbe, minutes: number, parts: readonly Part[]) => {
    const id = testId(setup, probe)
    const places = [...new Set(parts.map((part) => part.place).filter((place) => place !== undefined))]
    if (!found.has(id)) found.set(id, { id, setup, probe, minutes, places, disturbs: setup.intervention !== undefined })
  }
  for (const state of system.states.values()) {
    if (state.dead) addOhms(system, { state: state.name }, add)
    else addLive(system, { state: state.name }, add)
  }
  return [...found.values()]
}

/**
 * A test somebody wrote down, generated or not: its minutes are those of such a test, its places those of the points it is taken at
 * and of what is pulled, bridged or swapped for it.
 */
export function testOf(system: System, setup: Setup, probe: TestProbe): Test {
  const parts = [...touchedBy(system, setup), ...takenAt(system, probe)]
  const places = [...new Set(parts.map((part) => part.place).filter((place) => place !== undefined))]
  return {
    id: testId(setup, probe),
    setup,
    probe,
    minutes: minutesOf(system, probe),
    places,
    disturbs: setup.intervention !== undefined,
  }
}

function minutesOf(system: System, probe: TestProbe): number {
  switch (probe.kind) {
    case 'look':
      return probe.look.minutes
    case 'volts':
      return VOLTS_MINUTES
    case 'pressure':
      return GAUGE_MINUTES
    case 'amps':
      return CLAMP_MINUTES
    case 'ohms': {
      const own = system.parts.get(probe.part)?.kind.isolated ?? []
      return (
        own.find(({ red, black }) => [red, black].sort().join() === [probe.red, probe.black].sort().join())?.minutes ??
        OHMS_MINUTES
      )
    }
  }
}

/** Parts somebody must get at to make a setup; a plug counts by its first pin. */
function touchedBy(system: System, { intervention }: Setup): Part[] {
  if (!intervention) return []
  if (intervention.do === 'jumper') return [ownerOf(system, intervention.from), ownerOf(system, intervention.to)]
  const names = intervention.do === 'unplug' ? intervention.parts : [intervention.part]
  return names
    .map((name) => system.parts.get(name) ?? [...system.parts.values()].find((part) => part.connector?.name === name))
    .filter((part) => part !== undefined)
}

function takenAt(system: System, probe: TestProbe): Part[] {
  if (probe.kind === 'look') return probe.look.by === 'operator' ? [] : [probe.part]
  if (probe.kind === 'volts')
    return [probe.red, ...(probe.black === minusPort(system) ? [] : [probe.black])].map((port) => ownerOf(system, port))
  if (probe.kind === 'pressure') return [ownerOf(system, probe.at)]
  return [system.parts.get(probe.part) as Part]
}

export const testId = (setup: Setup, probe: TestProbe): string => `${setupKey(setup)}: ${probeKey(probe)}`

type Add = (setup: Setup, probe: TestProbe, minutes: number, parts: readonly Part[]) => void

function addLive(system: System, setup: Setup, add: Add): void {
  const volts = meterFor(system, 'voltage')
  const parts = [...system.parts.values()]
  addLooks(parts, setup, add)
  if (volts) {
    addPoints(system, setup, volts, add)
    addAcross(system, parts, setup, volts, add)
    addPaths(system, parts, setup, volts, add)
    addUnplugged(system, parts, setup, volts, add)
  }
  addGauges(system, setup, add)
  addClamps(system, parts, setup, add)
  addTricks(parts, setup, add)
}

function addLooks(parts: readonly Part[], setup: Setup, add: Add): void {
  for (const part of parts)
    for (const look of part.kind.looks ?? [])
      add(setup, { kind: 'look', part, look }, look.minutes, look.by === 'operator' ? [] : [part])
}

/** One representative port for each electrical point: pins first, since they are where a probe goes. */
function pointsOf(system: System): { port: string; part: Part }[] {
  const points: { port: string; part: Part }[] = []
  for (const [node, ports] of system.portsAt) {
    if (node === '0') continue
    const reachable = ports
      .map((port) => ({ port, part: ownerOf(system, port) }))
      .filter(({ port, part }) => canReach(part, port))
    const best =
      reachable.find(({ part }) => part.connector) ?? reachable.find(({ part }) => part.kind.name !== 'wire') ?? reachable[0]
    if (best && domainOf(best.part, best.port) === 'electrical') points.push(best)
  }
  return points
}

/** The part a `PART.port` or `X12.3/a` belongs to. */
export function ownerOf(system: System, port: string): Part {
  const cut = port.includes('/') ? port.lastIndexOf('/') : port.lastIndexOf('.')
  const part = system.parts.get(port.slice(0, cut))
  if (!part) throw new RangeError(`no part owns the point '${port}'`)
  return part
}

const portOf = (port: string): string => port.slice((port.includes('/') ? port.lastIndexOf('/') : port.lastIndexOf('.')) + 1)
const domainOf = (part: Part, port: string) => part.kind.ports.find((one) => one.name === portOf(port))?.domain

const isFluid = (part: Part, port: string): boolean => ['gas', 'liquid'].includes(domainOf(part, port) ?? '')

function canReach(part: Part, port: string): boolean {
  return !part.sealed && part.kind.ports.find((one) => one.name === portOf(port))?.accessible !== false
}

/** Battery minus by its own name: where the black lead goes unless said otherwise. */
export function minusPort(system: System): string {
  const ports = system.portsAt.get('0') ?? []
  return ports.find((port) => port.endsWith('.minus')) ?? ports[0]
}

function addPoints(system: System, setup: Setup, meter: Meter, add: Add): void {
  const black = minusPort(system)
  for (const { port, part } of pointsOf(system)) add(setup, { kind: 'volts', red: port, black, meter }, VOLTS_MINUTES, [part])
}

function electricalPorts(part: Part): string[] {
  return part.kind.ports
    .filter((port) => port.domain === 'electrical' && port.accessible !== false)
    .map((port) => portName(part, port.name))
}

function addAcross(system: System, parts: readonly Part[], setup: Setup, meter: Meter, add: Add): void {
  for (const part of parts) {
    if (part.sealed) continue
    const ports = electricalPorts(part).filter((port) => (system.portsAt.get(system.nodeOf.get(port) as string)?.length ?? 0) > 1)
    const pairs =
      part.kind.jumper?.across?.map(([p, q]) => [portName(part, p), portName(part, q)]) ?? (ports.length === 2 ? [ports] : [])
    for (const [red, black] of pairs) add(setup, { kind: 'volts', red, black, meter }, VOLTS_MINUTES, [part])
    if (part.kind.load) {
      const red = portName(part, part.kind.load.feed)
      add(setup, { kind: 'volts', red, black: portName(part, part.kind.load.ground), meter }, VOLTS_MINUTES, [part])
    }
  }
}

function addPaths(system: System, parts: readonly Part[], setup: Setup, meter: Meter, add: Add): void {
  const battery = parts.find((part) => part.kind.name === 'battery')
  for (const part of parts) {
    if (!part.kind.load || part.sealed) continue
    const ground = portName(part, part.kind.load.ground)
    add(setup, { kind: 'volts', red: ground, black: minusPort(system), meter }, VOLTS_MINUTES, [part])
    if (!battery) continue
    add(
      setup,
      { kind: 'volts', red: portName(battery, 'plus'), black: portName(part, part.kind.load.feed), meter },
      VOLTS_MINUTES,
      [part],
    )
  }
}

function addUnplugged(system: System, parts: readonly Part[], setup: Setup, meter: Meter, add: Add): void {
  const low = system.meters.find(isLowImpedance)
  const black = minusPort(system)
  for (const [name, pins] of plugsOf(parts)) {
    const open: Setup = { ...setup, intervention: { do: 'unplug', parts: [name] } }
    for (const part of pins) {
      for (const red of electricalPorts(part)) {
        if (system.nodeOf.get(red) === '0') continue
        add(open, { kind: 'volts', red, black, meter }, VOLTS_MINUTES, [part])
        if (low) add(open, { kind: 'volts', red, black, meter: low }, VOLTS_MINUTES, [part])
      }
    }
  }
}

/** Connectors with their pins, and parts that unplug as one. */
function plugsOf(parts: readonly Part[]): Map<string, Part[]> {
  const plugs = new Map<string, Part[]>()
  for (const part of parts) {
    if (part.connector) plugs.set(part.connector.name, [...(plugs.get(part.connector.name) ?? []), part])
    else if (part.kind.unplugs) plugs.set(part.name, [part])
  }
  return plugs
}

function addGauges(system: System, setup: Setup, add: Add): void {
  const meter = meterFor(system, 'absolutePressure')
  if (!meter) return
  for (const ports of system.portsAt.values()) {
    const at = ports.find((port) => isFluid(ownerOf(system, port), port) && canReach(ownerOf(system, port), port))
    if (at) add(setup, { kind: 'pressure', at, meter }, GAUGE_MINUTES, [ownerOf(system, at)])
  }
}

/** A clamp goes round the wire that feeds a load. */
function addClamps(system: System, parts: readonly Part[], setup: Setup, add: Add): void {
  const meter = system.meters.find((one) => one.quantity === 'current' && one.burden === undefined)
  if (!meter) return
  for (const part of parts) {
    if (!part.kind.load) continue
    const feed = system.portsAt.get(system.nodeOf.get(portName(part, part.kind.load.feed)) as string) ?? []
    const wire = feed.map((port) => ownerOf(system, port)).find((one) => one.kind.name === 'wire')
    if (wire) add(setup, { kind: 'amps', part: wire.name, element: 'run', meter }, CLAMP_MINUTES, [wire])
  }
}

/** Jumpers across contacts and like parts swapped in, judged by the looks at whatever they feed. */
function addTricks(parts: readonly Part[], setup: Setup, add: Add): void {
  const looks = parts.flatMap((part) =>
    (part.kind.looks ?? []).filter((look) => look.by === 'operator').map((look) => ({ part, look })),
  )
  const watch = (intervention: Intervention, part: Part) => {
    for (const { part: seen, look } of looks)
      add({ ...setup, intervention }, { kind: 'look', part: seen, look }, look.minutes, [part])
  }
  for (const part of parts) {
    for (const [from, to] of part.kind.jumper?.across ?? [])
      watch({ do: 'jumper', from: portName(part, from), to: portName(part, to) }, part)
    if (part.kind.swaps) watch({ do: 'swap', part: part.name }, part)
  }
}

function addOhms(system: System, setup: Setup, add: Add): void {
  const meter = meterFor(system, 'resistance')
  if (!meter) return
  for (const part of system.parts.values()) {
    if (part.sealed) continue
    const own = part.kind.isolated ?? ends(part)
    for (const { red, black, polarity, minutes } of own) {
      const isolated: Setup = { ...setup, intervention: { do: 'unplug', parts: [part.connector?.name ?? part.name] } }
      add(isolated, { kind: 'ohms', part: part.name, red, black, meter }, minutes, [part])
      if (polarity) add(isolated, { kind: 'ohms', part: part.name, red: black, black: red, meter }, minutes, [part])
    }
  }
}

function ends(part: Part): { red: string; black: string; polarity?: boolean; minutes: number }[] {
  const [a, b, more] = part.kind.ports.filter((port) => port.domain === 'electrical')
  return a && b && !more && part.kind.name !== 'battery' ? [{ red: a.name, black: b.name, minutes: OHMS_MINUTES }] : []
}

const meterFor = (system: System, quantity: Meter['quantity']): Meter | undefined =>
  system.meters.find((meter) => meter.quantity === quantity && !isLowImpedance(meter))
