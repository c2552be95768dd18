import type { Circuit } from '../circuit.js'
import type { DiscreteState, Network } from '../types.js'

/** A network in force from a time on: a step of a profile, an intermittent fault that comes or goes. Names carry the state over. */
export interface Leg {
  /** [s], the first one 0 */
  from: number
  network: Network
}

export interface MarchOptions {
  /** Where it ends [s]. */
  until: number
  /** Error of a step against what an instrument resolves (1 mV, 1 kPa of air, 1 bar of oil, 1 mK, 10 rpm); 1e-3 when left out. */
  tolerance?: number
  /** What the machine remembers at the start; all off when left out. */
  previous?: DiscreteState
  /** Rising times [s] at which the whole network is looked at. */
  samples?: readonly number[]
  /** Ends where the machine is found to repeat itself: the rest of the time would be the same again. */
  stopWhenPeriodic?: boolean
  /** Is told how far it has come [s]. */
  progress?: (time: number) => void
}

/** The network at one instant: what `probeValue`, `flowOf` and signals are read from. */
export interface Instant {
  time: number
  circuit: Circuit
  point: { across: Float64Array; borderFlow: Float64Array }
  bits: Uint8Array
  /** Flow into stores and through inductances, by element position. */
  storeFlow: Float64Array
}

/** A signal that changed. */
export interface MarchEvent {
  time: number
  signal: string
  on: boolean
  /** What made it change: its level, its timer, other signals, or the leg that began. */
  cause: 'level' | 'timer' | 'logic' | 'leg'
  /** For a level: how fast the input crossed it [1/s in the input's unit]; the time is known to the error of the input over this. */
  rate?: number
}

/** A level that was touched or nearly so without switching: a little more and the run would have gone another way. */
export interface Graze {
  time: number
  signal: string
  /** How far the input stayed from the level, negative = short of it. */
  overdrive: number
}

/** A run that repeats itself. */
export interface Period {
  /** The first time it stood where it stands again one period later [s]. */
  from: number
  /** [s] */
  length: number
  /** Signals that switch within it. */
  signals: string[]
}

export interface March {
  /**
   * `done`: marched to its end. `periodic`: stopped early as asked. `chatters`: contacts that switch each other without end, faster than
   * the run can mean anything; the period is that of an armature. `no convergence`: numbers end at `end`.
   */
  status: 'done' | 'periodic' | 'chatters' | 'no convergence'
  /** Last time that has numbers [s]. */
  end: number
  /** Signals at the start, after all that switches at once had switched. */
  start: DiscreteState
  events: MarchEvent[]
  grazes: Graze[]
  samples: Instant[]
  /** Highest and lowest across quantity of every node, by name, as far as steps and their stages saw it. */
  highest: Record<string, number>
  lowest: Record<string, number>
  last: Instant
  period?: Period
  /** Signals that chatter, or elements that meet where it does not converge. */
  parts: string[]
  /** Steps accepted and refused, and times the equations were solved: what the run cost. */
  steps: number
  refused: number
  solves: number
}
