import type { Dimension } from '@halfsplit/core'
import type { Domain, Element, Law, Probe, Signal } from '@halfsplit/network'
import type { Harm, HazardTitle } from './hazard.js'

/** A place where a part meets others. Its domain decides what may be joined to it. */
export interface Port {
  name: string
  domain: Domain
  about: string
  /** A technician's probe or gauge can get there. Default true. */
  accessible?: boolean
}

/** A property of the part, with the trade's default. Its tolerance makes it a latent: drawn once a job, shared by all readings. */
export interface Rating {
  dimension: Dimension
  about: string
  /** As in a description: `57.6 Ohm +- 8 %`. Without one the description must give it. */
  default?: string
  /** `normal`: limits at 2 sd. `factor`: lognormal, for joints, contacts and leaks; one sd is a factor of 2 unless a tolerance is given. */
  spread?: 'normal' | 'factor'
}

/** A choice among words: rest position of a contact, type of a timer. */
export interface Choice {
  about: string
  words: readonly string[]
  default: string
}

/** What a state of the machine can impose on the part: a switch position, a temperature, a pressure. */
export type Setting =
  | { about: string; words: readonly string[]; default: string }
  | { about: string; dimension: Dimension; default: string }

/** The size a fault can have. Nodes are in SI (or plain numbers), each standing for the stretch half way to its neighbours. */
export interface Severity {
  dimension: Dimension
  nodes: readonly number[]
  /** `log`: nodes evenly spaced in the logarithm. `linear`: as they stand. */
  scale: 'log' | 'linear'
}

export interface Mode {
  /** As in the trade's table of failure modes: `high_resistance`. */
  id: string
  /** As said in the bay: "high resistance". */
  title: string
  /**
   * Share of this kind's failures, from the trade-practice table, rows whose cause lies in another part left out. A mode's own
   * incidence is that of the kind times its share over the sum of the shares (`modeIncidence`). 0: only ever a consequence of an overload.
   */
  share: number
  severity?: Severity | ((part: PartView) => Severity)
  /** The fault comes and goes: at each look it is there with a probability. */
  intermittent?: boolean
  /** Left by someone's hands: counts only after "worked on since it was last good". */
  byHand?: boolean
  /** Joins this part to a neighbour (next pin of the plug, wire of the same harness) by a conductance of the given severity. */
  bridges?: 'pin' | 'harness'
  /** Only a part with this word for this choice can have it: a diode across the coil fails where there is one. */
  when?: { choice: string; word: string }
  /** Id of the repair that cures it. */
  repair: string
}

export interface Repair {
  title: string
  /** Minutes beyond getting there. */
  minutes: number
  /** In the shop's money, part and consumables. */
  price: number
  /** Unplugging and re-seating it wipes contacts. */
  disturbs?: boolean
}

/**
 * What a look shows: a probe times `scale` (`scaleOverTime` within a run, where what rests beside a held store is filled too), or a signal (0 or
 * 1). The probe is in the part's own names: its ports, inner nodes and elements.
 */
export type LookQuantity = { probe: Probe; scale: number; scaleOverTime?: number; absolute?: boolean } | { signal: string }

/** What a person sees, hears or feels at the part without a tool: a quantity, words for its ranges, and where an observer wavers. */
export interface Look {
  name: string
  about: string
  /** Words from the lowest quantity to the highest. */
  words: readonly string[]
  /** Between word i and i+1 an observer wavers from the first level to the second (in the quantity's unit). */
  levels: readonly (readonly [number, number])[]
  quantity: (part: PartView) => LookQuantity
  /** An operator would notice it in ordinary use (default), or it takes a technician at the part. */
  by: 'operator' | 'technician'
  minutes: number
  /** What the part does when it comes to read each word: "is applied". Without, the word itself is told. */
  becomes?: readonly string[]
}

/** How the trade tells the switching of a signal: the part "pulls in", "drops out". */
export interface SignalWords {
  on: string
  off: string
  /**
   * For a threshold that acts on a quantity of the machine by itself, as a temperature switch does: the quantity of its input, and what
   * the part is when the signal is on and off. Between its two levels it depends on where the machine came from.
   */
  acts?: { by: 'temperature' | 'pressureDifference'; on: string; off: string }
}

/** A resistance the trade measures with the part isolated. */
export interface IsolatedTest {
  title: string
  red: string
  black: string
  /** Read again with the leads changed over. */
  polarity?: boolean
  minutes: number
}

/** Opens for good when more than this flows (fuse by its curve, coil, diode). */
export interface Overload {
  /** Element (own name) whose flow counts. */
  element: string
  limit: number
  /** Mode the part is in afterwards. */
  mode: string
}

/** A quantity of the part, or a number that its settings give, and the level above which a hazard is there. */
export interface Present {
  quantity: LookQuantity | number
  over: number
}

export interface Hazard {
  /** What can hurt; what is common to all of a title stands in `HAZARDS`. */
  title: HazardTitle
  /** How it is avoided. The maker's manual and local rules come first. */
  caution: string
  /** Worst that can come of it, where it is not that of its title. */
  harm?: Harm
  /** It is there when any of these is over its level, in its absolute value where the quantity says so. Without: whenever the part is worked on. */
  present?: (part: PartView) => readonly Present[]
}

/** What a kind may ask about its part while it is being made of primitives. */
export interface PartView {
  name: string
  /** Value of a rating [SI], with what was drawn or perturbed for it. */
  value(rating: string): number
  /** Whether the description or a default gives this rating. */
  has(rating: string): boolean
  /** A choice's word. */
  word(choice: string): string
  /** A word setting as imposed by the state. */
  setting(name: string): string
  /** A number setting as imposed by the state [SI]. */
  imposed(name: string): number
  /** Body temperature [K]: the setting `temperature` if the kind has one, else the surroundings. */
  temperature: number
  /** Severity of the fault present [SI], 1 for one without a size, undefined when this mode is absent. */
  fault(mode: string): number | undefined
}

/** Where a kind puts its primitives. Names are the part's own; the builder makes them unique in the machine. */
export interface Builder {
  /** Node of one of the part's ports. */
  port(name: string): string
  /** A node inside the part. */
  inner(name: string, domain: Domain, rest?: number): string
  /** Node of the frame where the part sits: what a chafed wire touches. */
  frame: string
  /** Node of the surrounding air [Pa absolute]. */
  air: string
  conductance(name: string, a: string, b: string, g: number): void
  law(name: string, a: string, b: string, law: Law): void
  /** A contact or valve: `on` and `off` are laws, or conductances [S]. */
  gate(name: string, a: string, b: string, on: Law | number, off: Law | number, signal: string): void
  /** `element` with its own names for id and nodes already made. */
  add(element: Element): void
  /** Adds a signal under the part's own name and returns the name to give to gates and other signals. */
  threshold(name: string, a: string, b: string, scale: number, rise: number, fall: number): string
  signal(name: string, make: (id: string) => Signal): string
}

export interface Kind {
  name: string
  title: string
  /** Reference letter, IEC 81346-2. */
  letter: string
  /** Name of its symbol in IEC 60617 or ISO 1219-1. */
  symbol: string
  about: string
  /** Expected failures relative to one exposed wire run: the table's figure times what is left of its shares. */
  incidence: number
  ports: readonly Port[]
  ratings: Readonly<Record<string, Rating>>
  choices?: Readonly<Record<string, Choice>>
  settings?: Readonly<Record<string, Setting>>
  build(part: PartView, make: Builder): void
  modes: readonly Mode[]
  repairs: Readonly<Record<string, Repair>>
  looks?: readonly Look[]
  /** Words for its signals, by own name, in the condition the part is in; a signal without words is not told. */
  says?: (part: PartView) => Readonly<Record<string, SignalWords>>
  isolated?: readonly IsolatedTest[]
  /** Ports between which a fused jumper is usual (across a contact), and those that take supply to make it work. */
  jumper?: { across?: readonly (readonly [string, string])[] }
  overload?: (part: PartView) => Overload | undefined
  hazards?: readonly Hazard[]
  /** It consumes: the paths to and from it are a feed and a ground path. Ports feed and ground. */
  load?: { feed: string; ground: string }
  /** Joined by hand and can be pulled apart without tools: unplugging opens it. */
  unplugs?: boolean
  /** Can be taken for a like part off the shelf and tried. */
  swaps?: boolean
}
