import {
  type Cylinder,
  cylinderForce,
  cylinderPressure,
  cylinderSpeed,
  gapLeak,
  hydraulicPower,
  laminarFriction,
  laminarLoss,
  lineSpeed,
  liquidOrificeFlow,
  liquidValveFlow,
  pumpFlow,
  reynolds,
  type Stroke,
  trappedRise,
} from '@halfsplit/kinds'
import { type Answers, inputIn, named, number, type Row, sorts, type Topic } from './handbook-row.js'

const cylinder = (row: Row): Cylinder => ({ bore: number(row, 'bore', 'm'), rod: number(row, 'rod', 'm') })

const orifice: Topic = (row) => ({
  Q: {
    value: liquidOrificeFlow(number(row, 'd', 'm'), number(row, 'dp', 'Pa'), number(row, 'rho', 'kg/m3'), number(row, 'Cd', '1')),
    unit: 'm3/s',
  },
})

/** A line with the kinematic viscosity given: speed, Reynolds number, friction. */
const line: Topic = (row) => {
  const speed = lineSpeed(number(row, 'Q', 'm3/s'), number(row, 'd', 'm'))
  const re = reynolds(speed, number(row, 'd', 'm'), number(row, 'nu', 'm2/s'))
  return { v: { value: speed, unit: 'm/s' }, Re: { value: re, unit: '1' }, f: { value: laminarFriction(re), unit: '1' } }
}

const loss: Topic = (row) => {
  const [d, q, mu] = [number(row, 'd', 'm'), number(row, 'Q', 'm3/s'), number(row, 'mu', 'Pa.s')]
  const nu = mu / (inputIn(row, 'rho', 'kg/m3') ?? Number.NaN)
  return {
    dp: { value: laminarLoss(q, d, number(row, 'L', 'm'), mu), unit: 'Pa' },
    ...(nu > 0 ? { Re: { value: reynolds(lineSpeed(q, d), d, nu), unit: '1' } } : {}),
  }
}

/** Force and speed of a cylinder at a pressure and a flow. */
const driven: Topic = (row) => {
  const stroke: Stroke = row.what.includes('pull') ? 'pull' : 'push'
  return {
    F: { value: cylinderForce(cylinder(row), stroke, number(row, 'p', 'Pa')), unit: 'N' },
    v: { value: cylinderSpeed(cylinder(row), stroke, number(row, 'Q', 'm3/s')), unit: 'm/s' },
  }
}

/** Pressure, speed and power of a cylinder against a load, both ways. */
const loaded: Topic = (row) => {
  const [q, force] = [number(row, 'Q', 'm3/s'), number(row, 'F', 'N')]
  const way = (stroke: Stroke, name: string) => {
    const p = cylinderPressure(cylinder(row), stroke, force)
    return {
      ...named(p, 'Pa', `p${name}`),
      ...named(cylinderSpeed(cylinder(row), stroke, q), 'm/s', `v${name}`),
      ...named(hydraulicPower(p, q), 'W', `hp${name}`, `P${name}`),
    }
  }
  return { ...way('push', 'Ext'), ...way('pull', 'Ret') }
}

function meteredIn(row: Row): Answers {
  const drop = number(row, 'pRelief', 'Pa') - number(row, 'pLoad', 'Pa')
  const flow = liquidValveFlow(number(row, 'Cv', '1'), drop, 1000 * number(row, 'SG', '1'))
  const bore = inputIn(row, 'bore', 'm')
  if (bore === undefined)
    return 'v' in row.expected ? { cannot: 'the row asks for a speed and gives no bore' } : named(flow, 'm3/s', 'Q')
  return { ...named(flow, 'm3/s', 'Q'), ...named(cylinderSpeed({ bore, rod: 0 }, 'push', flow), 'm/s', 'v') }
}

/** Leak through a gap over that through one of half the width. */
const twiceGap: Topic = (row) => {
  const leak = (gap: number) => gapLeak(0.025, gap, 0.015, 1e6, 0.02)
  const gap = number(row, 'gap', 'm')
  return { ratio: { value: leak(gap) / leak(gap / 2), unit: '1' } }
}

const GAP_NAMES = ['gap', 'a', 'c']

/** Leak past a piston; rows name its sizes by the letters of their book. */
const pastPiston: Topic = (row) => {
  const name = GAP_NAMES.find((gap) => gap in (row.input ?? {})) ?? 'gap'
  const drop = inputIn(row, 'dp', 'Pa') ?? number(row, 'p', 'Pa')
  const leak = gapLeak(number(row, 'D', 'm'), number(row, name, 'm'), number(row, 'L', 'm'), drop, number(row, 'mu', 'Pa.s'))
  return named(leak, 'm3/s', 'Q', 'q')
}

const trapped: Topic = (row) => ({
  dp: { value: trappedRise(number(row, 'K', 'Pa'), number(row, 'beta', 'K-1'), degrees(row)), unit: 'Pa' },
})

/** A difference of temperature is in K: its value is not shifted. */
function degrees(row: Row): number {
  const rise = row.input?.dT
  return typeof rise === 'object' && rise.unit === 'K' ? rise.value : Number.NaN
}

const pump: Topic = (row) =>
  named(pumpFlow(number(row, 'V', 'm3'), number(row, 'n', '/s'), inputIn(row, 'eta', '1') ?? 1), 'm3/s', 'Q')

/** Topic 7. */
export const oil: Topic = sorts(
  [
    { inputs: ['d', 'Cd', 'dp', 'rho'], answer: orifice },
    { inputs: ['Q', 'd', 'nu'], answer: line },
    { inputs: ['Q', 'd', 'L', 'mu'], answer: loss },
    { inputs: ['bore', 'rod', 'p', 'Q'], answer: driven },
    { inputs: ['bore', 'rod', 'F', 'Q'], answer: loaded },
    { inputs: ['Cv', 'pRelief', 'pLoad', 'SG'], answer: meteredIn },
    { words: /twice the gap/, inputs: ['gap'], answer: twiceGap },
    { words: /leak/i, inputs: ['D', 'L', 'mu'], answer: pastPiston },
    { inputs: ['dT', 'beta', 'K'], answer: trapped },
    { words: /pump/i, inputs: ['V', 'n'], answer: pump },
  ],
  'no orifice, line, gap, cylinder, valve, pump or trapped oil with what it takes to compute it',
)
