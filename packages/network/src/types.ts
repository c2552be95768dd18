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
  /** Torque of a fan by the fan laws: t = k w |w|, laminar below `laminar` [rad/s]. */
  | { law: 'fan'; k: number; laminar: number }
  /** Compressor, alternator: drives `flow` from a to b until b stands `most` above a; less over the last `band`. */
  | { law: 'delivery'; flow: number; most: number; band: number }
  /** Relief valve, loaded check valve: g (x_a - x_b - set) once a stands `set` above b, and the conductance `leak` both ways. */
  | { law: 'relief'; set: number; g: number; leak: number }
  /** Heat [W] that a stream of heat capacity rate `flow` [W/K] carries out of a into b, counted from 0 K. */
  | { law: 'stream'; flow: number }
  /** Cross-flow exchanger: effectiveness-NTU with the heat capacity rates `hot` and `cold` and the conductance `ua`, all W/K. */
  | { law: 'exchanger'; hot: number; cold: number; ua: number }
  /** What a store takes during one implicit stage of `march`: rate (q(x_a - x_b) - from). Made by `march`, not by hand. */
  | { law: 'charging'; charge: Charge; rate: number; from: number }

/** What a store holds at the across quantity x between its ends. */
export type Charge =
  /** q = capacity x: capacitor, thermal mass, inertia, gas volume at constant temperature (V/(R T)), liquid volume (V/K). */
  | { charge: 'linear'; capacity: number }
  /** Gas volume that heats as it fills: q = capacity reference (x/reference)^(1/exponent). */
  | { charge: 'polytropic'; capacity: number; reference: number; exponent: number }
  /** Cylinder under load: takes `volume` while x goes up through `band`, and `capacity` x besides (oil and hose give). */
  | { charge: 'stroke'; volume: number; band: number; capacity: number }
  /** Gas-loaded accumulator: q = volume (1 - (precharge/x)^(1/exponent)) above its precharge, and `capacity` x besides. */
  | { charge: 'accumulator'; volume: number; precharge: number; exponent: number; capacity: number }

/** A factor on a number of a law or a threshold that follows another node: x is that node's across quantity, less that of `less`. */
export interface Gain {
  /** Name of the number: `g`, `flow`, `c`, `dry`, `hot` ... */
  of: string
  node: string
  less?: string
  curve: Curve
}

export type Curve =
  /** `low` up to `from`, `high` from `to` on, straight between: a thermostat, the grip of a clutch. */
  | { curve: 'ramp'; from: number; to: number; low: number; high: number }
  /** (x/reference)^exponent, 0 below 0: delivery and air flow with speed, flow with the square root of a pressure difference. */
  | { curve: 'power'; reference: number; exponent: number }
  /** Conductance of a wire or a winding at x [K]: 1/(1 + alpha (x - reference)). */
  | { curve: 'resistor'; reference: number; alpha: number }

export type Element =
  | { type: 'law'; id: string; a: string; b: string; law: Law; gains?: Gain[] }
  /** Holds a above b by `value`, less `resistance` times what it delivers. `rate`: change of the value a second in `march`. */
  | { type: 'across'; id: string; a: string; b: string; value: number; resistance: number; rate?: number }
  /** Drives `value` out of b and into a. `rate`: change of the value a second in `march`. */
  | { type: 'through'; id: string; a: string; b: string; value: number; rate?: number }
  /**
   * Capacitance, volume, thermal mass, inertia. At rest it carries nothing, or holds a above b by `holds`: what a state of the machine
   * imposes (a tank at 8 bar). From there it starts in `march`, and then goes its own way.
   */
  | { type: 'store'; id: string; a: string; b: string; charge: Charge; holds?: number }
  /**
   * Inductance with its winding resistance: only the resistance counts once all is at rest. `starts`: through quantity in it when `march`
   * begins; what it carries at rest when left out.
   */
  | { type: 'inertance'; id: string; a: string; b: string; inertance: number; resistance: number; starts?: number }
  /** Two laws, chosen by a signal: contact, valve. A gain on a number that one of them lacks leaves that one alone. */
  | { type: 'gate'; id: string; a: string; b: string; on: Law; off: Law; signal: string; gains?: Gain[] }
  /** Displacement pump or hydraulic motor: drives displacement x speed from a to b, takes displacement x (x_b - x_a) off the shaft. */
  | { type: 'pump'; id: string; a: string; b: string; shaft: string; displacement: number }
  /** Direct-current machine: voltage k w + R i between a and b, torque k i into `shaft`. */
  | { type: 'motor'; id: string; a: string; b: string; shaft: string; constant: number; resistance: number }
  /** Heat of the element `of` (across x through) into the thermal node. */
  | { type: 'heat'; id: string; of: string; node: string }

export type Signal =
  | { type: 'imposed'; id: string; value: boolean }
  /** On when scale (x_a - x_b) reaches `rise`, off when it comes down to `fall`, else as before. Gains act on the scale. */
  | { type: 'threshold'; id: string; a: string; b: string; scale: number; rise: number; fall: number; gains?: Gain[] }
  | { type: 'not'; id: string; of: string }
  | { type: 'and' | 'or'; id: string; of: string[] }
  /** IEC 61131-3 timers, delay in seconds. At rest a TON and a TOF follow their input and a TP is over. */
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
