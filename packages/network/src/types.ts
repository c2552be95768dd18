/**
 * A network as plain data: nodes, elements and signal blocks from closed lists, no functions. It can be cloned to a worker,
 * hashed and sent; nothing in it can run code. Across and through quantities by domain, SI throughout:
 *
 *     electrical  V, A            gas  Pa absolute, kg/s        liquid  Pa absolute, m3/s
 *     thermal     K, W            rotation  rad/s, N.m
 *
 * Node "0" is the reference of every domain (0 V, vacuum, 0 K, standstill) and need not be listed.
 */
export type Domain = 'electrical' | 'gas' | 'liquid' | 'thermal' | 'rotation'

export const REFERENCE = '0'

export interface Node {
  id: string
  domain: Domain
  /** What holds the node when nothing else does: conductance [through/across] to `rest`. 1e-9 S for a wire, say. */
  insulation: number
  /** The across quantity the node falls back to when cut off: 0 V, the pressure it had before, the ambient temperature. */
  rest: number
}

/** Through quantity from a to b as a function of the two across quantities; rising in a's, falling in b's. */
export type Law =
  | { law: 'linear'; g: number }
  /** i = v / (cold (1 + (v/knee)^2)^exponent): resistance of a filament grows with its own voltage. */
  | { law: 'filament'; cold: number; knee: number; exponent: number }
  /** Shockley junction in series with a resistance [ohm]; `thermalVoltage` is n kT/q [V]. */
  | { law: 'diode'; saturation: number; thermalVoltage: number; series: number; breakdown?: number }
  /** ISO 6358: sonic conductance c [m3/(s Pa)] at the reference atmosphere, critical pressure ratio b. */
  | { law: 'orifice'; c: number; b: number }
  /** An orifice that closes as its outlet [Pa absolute] comes up to `set`; full open `band` below; `creep` is the share that never closes. */
  | { law: 'regulator'; c: number; b: number; set: number; band: number; creep: number }
  /** Passes from a to b only (orifice), with a share of leak back. */
  | { law: 'check'; c: number; b: number; leak: number }
  /** Liquid orifice: q = k sqrt(dp), laminar below `laminar` [Pa]. */
  | { law: 'square-root'; k: number; laminar: number }
  /** Torque of dry and viscous drag: t = dry w/sqrt(w^2 + smooth^2) + viscous w. */
  | { law: 'drag'; dry: number; viscous: number; smooth: number }

export type Element =
  | { type: 'law'; id: string; a: string; b: string; law: Law }
  /** Holds a above b by `value`, less `resistance` times what it delivers. */
  | { type: 'across'; id: string; a: string; b: string; value: number; resistance: number }
  /** Drives `value` out of b and into a. */
  | { type: 'through'; id: string; a: string; b: string; value: number }
  /** Capacitance, volume, thermal mass, inertia: carries nothing once all is at rest. */
  | { type: 'store'; id: string; a: string; b: string; capacity: number }
  /** Inductance with its winding resistance: only the resistance counts once all is at rest. */
  | { type: 'inertance'; id: string; a: string; b: string; inertance: number; resistance: number }
  /** Two laws, chosen by a signal: contact, valve. */
  | { type: 'gate'; id: string; a: string; b: string; on: Law; off: Law; signal: string }
  /** Direct-current machine: voltage k w + R i between a and b, torque k i into `shaft`. */
  | { type: 'motor'; id: string; a: string; b: string; shaft: string; constant: number; resistance: number }
  /** Heat of the element `of` (across x through) into the thermal node. */
  | { type: 'heat'; id: string; of: string; node: string }

export type Signal =
  | { type: 'imposed'; id: string; value: boolean }
  /** On when scale (x_a - x_b) reaches `rise`, off when it comes down to `fall`, else as before. */
  | { type: 'threshold'; id: string; a: string; b: string; scale: number; rise: number; fall: number }
  | { type: 'not'; id: string; of: string }
  | { type: 'and' | 'or'; id: string; of: string[] }
  /** IEC 61131-3 timers. At rest a TON and a TOF follow their input and a TP is over. */
  | { type: 'TON' | 'TOF' | 'TP'; id: string; of: string; delay: number }
  /** IEC 61131-3 latches: SR is set-dominant, RS reset-dominant. */
  | { type: 'SR' | 'RS'; id: string; set: string; reset: string }

export interface Network {
  nodes: Node[]
  elements: Element[]
  signals: Signal[]
}

/** On or off of every signal: what a machine remembers from one steady state to the next. */
export type DiscreteState = Record<string, boolean>
