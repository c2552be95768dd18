import type { Dimension, Meter, Position, Quantity } from '@halfsplit/core'
import type { Kind, Look, Overload, Repair } from '@halfsplit/kinds'

/** One part of the machine: a wire, a pin and a ground point are parts like any other. */
export interface Part {
  name: string
  kind: Kind
  /** Every rating, from the description or the kind's default. */
  ratings: ReadonlyMap<string, Quantity>
  /** Ratings that the description gave itself. */
  given: ReadonlySet<string>
  choices: Readonly<Record<string, string>>
  /** Where it sits; a key of `System.places`. */
  place?: string
  /** Bundle it runs in: shorts to another wire are between wires of one harness. */
  harness?: string
  /** For a pin: its connector and number. */
  connector?: { name: string; pin: number }
  /** Factor on the kind's incidence (exposed, dry, sealed ...). */
  exposure: number
  /** Node of the frame it can chafe against. */
  frame: string
  /** Ports a probe cannot reach. */
  sealed: boolean
  /** What it protects from, where it is part of a protection: "cranking in gear". */
  guards?: string
  /** Repairs with this part's own minutes and prices. */
  repairs: Readonly<Record<string, Repair>>
  position: Position
}

/** A step into a state: settings imposed in order, each `PART.setting`, in SI or a word. */
export interface Imposed {
  part: string
  setting: string
  value: number | string
  /** Spread of an imposed quantity, one sd [SI]: a coolant held at 95 +- 2 degC. */
  sd: number
}

export interface State {
  name: string
  about: string
  from?: string
  impose: readonly Imposed[]
  minutes: number
  hazards: readonly string[]
  /** Power is off everywhere: resistance may be measured. */
  dead: boolean
  /** Where the description names it. */
  position?: Position
}

/** A setting over time. Before its first step it is what the starting state says. */
export interface Drive {
  part: string
  setting: string
  /** Times rising. */
  steps: readonly DriveStep[]
}

export interface DriveStep {
  /** [s] from the start of the scenario */
  time: number
  /** [SI], or a word. */
  value: number | string
  /** It changes evenly from the value before and gets there at this time. */
  even: boolean
}

/** A quantity of a machine that is followed over time, by the name the user gives it. */
export type Watched = { name: string } & (
  | { watch: 'across'; at: string; less?: string; dimension: Dimension }
  /** What goes into the part at this port. */
  | { watch: 'into'; part: string; port: string; dimension: Dimension }
  | { watch: 'look'; part: string; look: Look }
)

/** What the machine is put through in some hours of work: from a state it rests in, its settings over time. */
export interface Scenario {
  name: string
  about: string
  /** State it starts from. */
  from: string
  /** [s] */
  duration: number
  drive: readonly Drive[]
  /** What is charted and written unless something else is asked for. */
  watch: readonly Watched[]
  checks: readonly Check[]
  position: Position
}

/** What a run must show, by a rule or by the maker; values in SI. */
export interface Check {
  name: string
  /** Rule or manual it comes from. */
  clause: string
  of: Exclude<Watched, { watch: 'look' }>
  asks: CheckAsks
}

export type CheckAsks =
  /** It goes from one value to another within a time [s]. */
  | { ask: 'takes'; from: number; to: number; within: number }
  /** It stands within limits when a look comes to read a word. */
  | { ask: 'stands'; when: Extract<Watched, { watch: 'look' }>; word: number; least?: number; most?: number }
  /** It falls by no more in a time [s], counted from `after` [s] on. */
  | { ask: 'falls'; most: number; within: number; after: number }

export interface Place {
  name: string
  about: string
  /** Minutes to get there, and what must come off. */
  minutes: number
  remove?: string
}

/** A way the owner may say it, tied to looks in states. */
export interface Complaint {
  id: string
  words: string
  /** What is seen: each in a state, the word of a look. */
  shows: readonly { state: string; part: string; look: string; word: string }[]
  position: Position
}

/** A latent quantity: drawn once a job as a standard normal z, shared by everything that depends on it. */
export interface Latent {
  id: string
  index: number
  part: string
  rating: string
  /** Value [SI] at z. */
  at: (z: number) => number
  title: string
}

export interface System {
  name: string
  title: string
  about: string
  invented: boolean
  /** Sequence of operation in words. */
  sequence: readonly string[]
  parts: ReadonlyMap<string, Part>
  /** Node of each `PART.port`. */
  nodeOf: ReadonlyMap<string, string>
  /** Ports that meet at a node, in the order of the description. */
  portsAt: ReadonlyMap<string, readonly string[]>
  places: ReadonlyMap<string, Place>
  states: ReadonlyMap<string, State>
  scenarios: ReadonlyMap<string, Scenario>
  complaints: readonly Complaint[]
  meters: readonly Meter[]
  latents: readonly Latent[]
  /** Every setting's default, `PART.setting` -> word or number [SI]. */
  defaults: ReadonlyMap<string, string | number>
  /** What opens for good under too much current, by part. */
  overloads: ReadonlyMap<string, Overload>
  /** Unit in which the description gives most of its values, by dimension. */
  units: ReadonlyMap<Dimension, string>
  /** Content hash of the description: what caches and job records refer to. */
  hash: string
}

/** A failure mode present in a part, with its size where it has one. For a bridge, the neighbour it touches. */
export interface Fault {
  part: string
  mode: string
  /** [SI] */
  severity?: number
  other?: string
}

/** What a technician does to the machine for a test, at most one at a time (or two unplugged, to isolate both ends). */
export type Intervention =
  | { do: 'unplug'; parts: readonly string[] }
  /** Fused jumper between two ports. */
  | { do: 'jumper'; from: string; to: string }
  | { do: 'swap'; part: string }

/** `X12.3.high_resistance@3 Ohm` without the unit: stable text for keys and logs. */
export function faultKey(fault: Fault): string {
  const other = fault.other ? `+${fault.other}` : ''
  const size = fault.severity === undefined ? '' : `@${Number(fault.severity.toPrecision(6))}`
  return `${fault.part}${other}.${fault.mode}${size}`
}
