import { isLowImpedance, ownerOf, type Setup, setupKey, type Standpoint, type Test, type TestProbe } from '@halfsplit/diagnosis'
import type { System } from '@halfsplit/system'
import { listed } from './layout.js'
import { isNumber, spoken } from './names.js'
import { goToState, minutesWords } from './states.js'

/** Where the leads go, in one line. */
export function leadsWords(system: System, probe: TestProbe): string {
  switch (probe.kind) {
    case 'volts':
      return `red lead on ${point(system, probe.red)}, black lead on ${point(system, probe.black)}; ${probe.meter.name}`
    case 'pressure':
      return `gauge at ${point(system, probe.at)}; ${probe.meter.name}`
    case 'amps':
      return `clamp round wire ${partPlace(system, probe.part)}; ${probe.meter.name}`
    case 'ohms':
      return `${partPlace(system, probe.part)} alone: red lead on its ${portWord(probe.red)}, black on its ${portWord(probe.black)}; ${probe.meter.name}`
    case 'look':
      return `no tool: ${probe.part.name}${at(probe.part.place)}, ${probe.look.about}`
  }
}

/** A test in a few words, for lists: "volts at LT.feed, state tail". */
export function shortWords({ setup, probe }: Pick<Test, 'setup' | 'probe'>): string {
  const where = setup.intervention ? `${setup.state}, ${interventionWords(setup)}` : setup.state
  return `${probeWords(probe)}, in ${where}`
}

export function probeWords(probe: TestProbe): string {
  switch (probe.kind) {
    case 'volts':
      return `volts${isLowImpedance(probe.meter) ? ', low impedance,' : ''} from ${probe.red} to ${probe.black}`
    case 'pressure':
      return `pressure at ${probe.at}`
    case 'amps':
      return `amps in wire ${probe.part}`
    case 'ohms':
      return `ohms of ${probe.part}, ${portWord(probe.red)} to ${portWord(probe.black)}`
    case 'look':
      return `look at ${probe.part.name}: ${spoken(probe.look.name)}`
  }
}

const portWord = spoken
const at = (place: string | undefined): string => (place === undefined ? '' : ` (${place})`)

function point(system: System, port: string): string {
  const owner = ownerOf(system, port)
  return `${isNumber(owner.name) ? `${owner.kind.name} ` : ''}${port}${at(owner.place)}`
}

const partPlace = (system: System, name: string): string => `${name}${at(system.parts.get(name)?.place)}`

function interventionWords({ intervention }: Setup): string {
  if (!intervention) return 'as it is'
  if (intervention.do === 'unplug') return `${listed(intervention.parts)} unplugged`
  if (intervention.do === 'swap') return `a like part tried for ${intervention.part}`
  return `jumper from ${intervention.from} to ${intervention.to}`
}

/** What is to be done before the leads go on, in order, from where the technician stands. Empty where all is ready. */
export function firstWords(system: System, from: Standpoint, { setup, places }: Test): string[] {
  const steps: string[] = []
  const same = setupKey(setup) === setupKey(from.setup)
  if (!same) steps.push(...putBack(from.setup))
  if (setup.state !== from.setup.state) steps.push(goToState(system, from.setup.state, setup.state))
  for (const place of places.filter((name) => !from.places.includes(name))) steps.push(placeWords(system, place))
  if (!same) steps.push(...putIn(setup))
  return steps
}

function putBack({ intervention }: Setup): string[] {
  if (!intervention) return []
  if (intervention.do === 'unplug') return [`Put ${listed(intervention.parts)} back.`]
  return [intervention.do === 'jumper' ? 'Take the jumper off.' : `Put the old ${intervention.part} back.`]
}

function putIn({ intervention }: Setup): string[] {
  if (!intervention) return []
  if (intervention.do === 'unplug') return [`Unplug ${listed(intervention.parts)}.`]
  if (intervention.do === 'swap') return [`Try a like part known to be good in place of ${intervention.part}.`]
  return [`Put a fused jumper from ${intervention.from} to ${intervention.to}.`]
}

function placeWords(system: System, name: string): string {
  const place = system.places.get(name)
  if (!place) return `Go to ${name}.`
  const remove = place.remove ? `; ${place.remove} comes off` : ''
  return `Go to ${name}${place.about ? ` (${place.about})` : ''}: ${minutesWords(place.minutes)}${remove}.`
}
