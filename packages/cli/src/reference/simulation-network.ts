import {
  type Curve,
  type Element,
  type Gain,
  type Law,
  type Leg,
  type Network,
  type Node,
  REFERENCE_DENSITY,
  type Signal,
} from '@halfsplit/network'

/** Steps of a profile: [s, value from then on]. */
type Profile = [number, number][]

/** Parameters of a simulation case: SI, temperatures in degrees Celsius (readme section 7 of the worked cases). */
export interface Parameters {
  T0_degC: number
  T_amb_degC: number
  C_th_J_per_K: number
  UA_block_W_per_K: number
  G_fan_W_per_K: number
  thermostat_start_degC: number
  thermostat_full_degC: number
  thermostat_min: number
  thermostat_fixed: number | null
  tau_switch_s: number
  T_open_degC: number
  T_close_degC: number
  switch_fixed: 'open' | 'closed' | null
  T_warn_degC: number
  delay_open_s: number
  delay_close_s: number
  R_coil20_ohm: number
  alpha_per_K: number
  k_coil: number
  R_series_ohm: number
  I_pull_in_A: number
  I_drop_out_A: number
  valve_fixed: 'on' | 'off' | null
  R_air_J_per_kgK: number
  T_air_K: number
  rho0_kg_per_m3: number
  T_ref_K: number
  beta_lam: number
  V_cyl_m3: number
  V_res_m3: number
  p_atm_Pa: number
  p_cyl0_Pa: number
  p_res0_Pa: number
  C_fill: number
  b_fill: number
  C_vent: number
  b_vent: number
  C_leak_cyl: number
  b_leak: number
  C_leak_res: number
  p_release_Pa: number
  p_engage_Pa: number
  m_comp_kg_per_s: number
  p_cut_in_Pa: number
  p_cut_out_Pa: number
  compressor_on0: boolean
  compressor_dead: boolean
  Q_W: Profile
  G_ram_W_per_K: Profile
  V_supply_V: Profile
}

const ZERO = 273.15
/** Conductance [W/K] that only looks at a temperature: a thousandth of a millionth of what cools the coolant. */
const LOOK = 1e-6
/** Series resistance [ohm] where the case has none. */
const LEAST_SERIES = 1e-6

const valueAt = (profile: Profile, time: number): number => profile.findLast(([from]) => from <= time)?.[1] ?? profile[0][1]

/** The machine of the simulation cases as legs, one for each step of a profile. */
export function legsOf(p: Parameters): Leg[] {
  const times = new Set([0, ...[p.Q_W, p.G_ram_W_per_K, p.V_supply_V].flatMap((profile) => profile.map(([time]) => time))])
  return [...times].toSorted((a, b) => a - b).map((from) => ({ from, network: networkAt(p, from) }))
}

function networkAt(p: Parameters, time: number): Network {
  return { nodes: nodesOf(p), elements: [...thermal(p, time), ...air(p), ...coil(p, time)], signals: signalsOf(p) }
}

function nodesOf(p: Parameters): Node[] {
  const node = (id: string, domain: Node['domain'], rest: number, insulation: number): Node => ({ id, domain, insulation, rest })
  return [
    ...['ambient', 'coolant', 'switch', 'coil'].map((id) => node(id, 'thermal', p.T_amb_degC + ZERO, 1e-18)),
    ...['tank', 'cylinder', 'air'].map((id) => node(id, 'gas', p.p_atm_Pa, 1e-20)),
    ...['supply', 'between'].map((id) => node(id, 'electrical', 0, 1e-12)),
  ]
}

/** Opening of the thermostat as a factor on a conductance. */
function thermostat(p: Parameters): Gain[] {
  if (p.thermostat_fixed !== null) return []
  const start = p.thermostat_start_degC + ZERO
  const full = p.thermostat_full_degC + ZERO
  const curve: Curve = {
    curve: 'ramp',
    from: start + p.thermostat_min * (full - start),
    to: full,
    low: p.thermostat_min,
    high: 1,
  }
  return [{ of: 'g', node: 'coolant', curve }]
}

function thermal(p: Parameters, time: number): Element[] {
  const share = p.thermostat_fixed ?? 1
  const linear = (g: number): Law => ({ law: 'linear', g })
  const plain = (id: string, a: string, b: string, g: number): Element => ({ type: 'law', id, a, b, law: linear(g) })
  const gains = thermostat(p)
  return [
    { type: 'across', id: 'ambient', a: 'ambient', b: '0', value: p.T_amb_degC + ZERO, resistance: 0 },
    {
      type: 'store',
      id: 'coolant',
      a: 'coolant',
      b: '0',
      charge: { charge: 'linear', capacity: p.C_th_J_per_K },
      holds: p.T0_degC + ZERO,
    },
    { type: 'through', id: 'engine', a: 'coolant', b: '0', value: valueAt(p.Q_W, time) },
    plain('block', 'coolant', 'ambient', p.UA_block_W_per_K),
    { type: 'law', id: 'ram', a: 'coolant', b: 'ambient', law: linear(share * valueAt(p.G_ram_W_per_K, time)), gains },
    {
      type: 'gate',
      id: 'fan',
      a: 'coolant',
      b: 'ambient',
      on: linear(0),
      off: linear(share * p.G_fan_W_per_K),
      signal: 'released',
      gains,
    },
    plain('switch lag', 'coolant', 'switch', LOOK),
    {
      type: 'store',
      id: 'switch',
      a: 'switch',
      b: '0',
      charge: { charge: 'linear', capacity: LOOK * p.tau_switch_s },
      holds: p.T0_degC + ZERO,
    },
    plain('coil warm', 'coolant', 'coil', LOOK * p.k_coil),
    plain('coil cool', 'coil', 'ambient', LOOK * (1 - p.k_coil)),
  ]
}

function air(p: Parameters): Element[] {
  const scale = (p.rho0_kg_per_m3 / REFERENCE_DENSITY) * Math.sqrt(p.T_ref_K / p.T_air_K)
  const orifice = (c: number, b: number): Law => ({ law: 'orifice', c: c * scale, b })
  const shut: Law = { law: 'linear', g: 0 }
  const volume = (id: string, size: number, holds: number): Element => ({
    type: 'store',
    id,
    a: id,
    b: '0',
    charge: { charge: 'linear', capacity: size / (p.R_air_J_per_kgK * p.T_air_K) },
    holds,
  })
  const delivery: Law = { law: 'delivery', flow: p.compressor_dead ? 0 : p.m_comp_kg_per_s, most: 1e9, band: 1 }
  return [
    { type: 'across', id: 'atmosphere', a: 'air', b: '0', value: p.p_atm_Pa, resistance: 0 },
    volume('tank', p.V_res_m3, p.p_res0_Pa),
    volume('cylinder', p.V_cyl_m3, p.p_cyl0_Pa),
    { type: 'gate', id: 'fill', a: 'tank', b: 'cylinder', on: orifice(p.C_fill, p.b_fill), off: shut, signal: 'valve' },
    { type: 'gate', id: 'vent', a: 'cylinder', b: 'air', on: shut, off: orifice(p.C_vent, p.b_vent), signal: 'valve' },
    { type: 'law', id: 'leak', a: 'cylinder', b: 'air', law: orifice(p.C_leak_cyl, p.b_leak) },
    { type: 'law', id: 'tank leak', a: 'tank', b: 'air', law: orifice(p.C_leak_res, p.b_leak) },
    { type: 'gate', id: 'compressor', a: 'air', b: 'tank', on: shut, off: delivery, signal: 'full' },
  ]
}

const copper = (p: Parameters): Curve => ({ curve: 'resistor', reference: 20 + ZERO, alpha: p.alpha_per_K })

function coil(p: Parameters, time: number): Element[] {
  const series = 1 / Math.max(p.R_series_ohm, LEAST_SERIES)
  return [
    { type: 'across', id: 'battery', a: 'supply', b: '0', value: valueAt(p.V_supply_V, time), resistance: 0 },
    {
      type: 'law',
      id: 'coil',
      a: 'supply',
      b: 'between',
      law: { law: 'linear', g: 1 / p.R_coil20_ohm },
      gains: [{ of: 'g', node: 'coil', curve: copper(p) }],
    },
    {
      type: 'gate',
      id: 'module',
      a: 'between',
      b: '0',
      on: { law: 'linear', g: series },
      off: { law: 'linear', g: 0 },
      signal: 'command',
    },
  ]
}

function signalsOf(p: Parameters): Signal[] {
  const level = (id: string, a: string, rise: number, fall: number): Signal => ({
    type: 'threshold',
    id,
    a,
    b: '0',
    scale: 1,
    rise,
    fall,
  })
  const fixed = (id: string, value: boolean): Signal => ({ type: 'imposed', id, value })
  return [
    level('hot', 'switch', p.T_open_degC + ZERO, p.T_close_degC + ZERO),
    p.switch_fixed === null ? { type: 'not', id: 'closed', of: 'hot' } : fixed('closed', p.switch_fixed === 'closed'),
    { type: 'not', id: 'open', of: 'closed' },
    { type: 'TON', id: 'closed long', of: 'closed', delay: p.delay_close_s },
    { type: 'TON', id: 'open long', of: 'open', delay: p.delay_open_s },
    { type: 'SR', id: 'command', set: 'closed long', reset: 'open long' },
    {
      type: 'threshold',
      id: 'pulled',
      a: 'supply',
      b: 'between',
      scale: 1 / p.R_coil20_ohm,
      rise: p.I_pull_in_A,
      fall: p.I_drop_out_A,
      gains: [{ of: 'scale', node: 'coil', curve: copper(p) }],
    },
    p.valve_fixed === null ? { type: 'and', id: 'valve', of: ['command', 'pulled'] } : fixed('valve', p.valve_fixed === 'on'),
    level('released', 'cylinder', p.p_release_Pa, p.p_engage_Pa),
    level('full', 'tank', p.p_cut_out_Pa, p.p_cut_in_Pa),
    level('warning', 'coolant', p.T_warn_degC + ZERO, p.T_warn_degC + ZERO),
  ]
}
