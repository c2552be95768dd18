import { convert, STANDARD_ATMOSPHERE } from '@halfsplit/core'
import {
  chokedBelow,
  chokedFlowFunction,
  circleArea,
  compressionRatio,
  conductanceOf,
  coolingDrop,
  criticalRatio,
  DISCHARGE,
  expansibility,
  fillTime,
  flowInState,
  freeAir,
  freeAirToFill,
  holeFlow,
  KV_PER_CV,
  leakFromDecay,
  measuredFlow,
  passageFlow,
  standardFeet,
  strokeRate,
  valveFlow,
  ventTime,
  volumeFlow,
} from '@halfsplit/kinds'
import { inputIn, named, number, type Row, sorts, type Topic } from './handbook-row.js'

/** The surroundings as US tables round them [Pa]. */
const TABLE_ATMOSPHERE = convert(14.7, '[psi]', 'Pa')

const si = (row: Row, name: string, unit: string) => inputIn(row, name, unit)
const atmosphere = (row: Row) => si(row, 'pAtm', 'Pa') ?? STANDARD_ATMOSPHERE
const absolute = (row: Row, name: string, surroundings = atmosphere(row)) => number(row, name, 'Pa') + surroundings
const hole = (row: Row) => ({ area: circleArea(number(row, 'd', 'm')), discharge: number(row, 'Cd', '1') })
const passage = (row: Row) => ({ conductance: number(row, 'C', 'm3/(s.Pa)'), critical: number(row, 'b', '1') })

/** A temperature given on its scale, or in degF under a name that says so. */
const temperature = (row: Row, name: string, otherwise = 293.15) => si(row, name, 'K') ?? si(row, `${name}F`, 'K') ?? otherwise

/** Free air of the table is at the temperature of the air upstream and at the surroundings. */
const orifice: Topic = (row) => {
  const t = number(row, 'T', 'K')
  const flow = holeFlow(hole(row), absolute(row, 'pGauge'), atmosphere(row), t)
  return { qFree: { value: volumeFlow(flow, atmosphere(row), t), unit: 'm3/s' } }
}

const iso6358: Topic = (row) => {
  const flow = passageFlow(passage(row), number(row, 'p1', 'Pa'), number(row, 'p2', 'Pa'), temperature(row, 'T1'))
  return { m: { value: flow, unit: 'kg/s' }, qANR: { value: freeAir(flow), unit: 'm3/s' } }
}

const conductance: Topic = (row) => ({ C: { value: conductanceOf(hole(row)), unit: 'm3/(s.Pa)' } })

/** Time to vent to the surroundings of the row (1 bar unless given), or to fill from a supply where it has one. */
const tank: Topic = (row) => {
  const [volume, from, to] = [number(row, 'V', 'm3'), number(row, 'p0', 'Pa'), number(row, 'pEnd', 'Pa')]
  const supply = si(row, 'p1', 'Pa') ?? si(row, 'pSupply', 'Pa')
  const out = si(row, 'p2', 'Pa') ?? si(row, 'pAtm', 'Pa')
  const t =
    to > from ? fillTime(passage(row), volume, from, to, supply ?? Number.NaN) : ventTime(passage(row), volume, from, to, out)
  return { t: { value: t, unit: 's' } }
}

const decay: Topic = (row) => {
  const leak = leakFromDecay(number(row, 'V', 'm3'), number(row, 'dp', 'Pa'), number(row, 'dt', 's'))
  return { Q: { value: leak.throughput, unit: 'Pa.m3/s' }, ...named(leak.freeAir, 'm3/s', 'qFree', 'q') }
}

const cools: Topic = (row) => ({
  dp: { value: coolingDrop(absolute(row, 'pGauge'), number(row, 'T1', 'K'), number(row, 'T2', 'K')), unit: 'Pa' },
})

const fill: Topic = (row) => ({
  Vfree: { value: freeAirToFill(number(row, 'V', 'm3'), number(row, 'pGauge', 'Pa')), unit: 'm3' },
})

/** Greatest flow through a valve of known Cv, or that to a lower pressure where the row gives one. */
const valve: Topic = (row) => {
  const [upstream, outlet] = [absolute(row, 'p1Gauge', TABLE_ATMOSPHERE), si(row, 'p2Gauge', 'Pa')]
  const downstream = outlet === undefined ? 0 : outlet + TABLE_ATMOSPHERE
  const flow = valveFlow(number(row, 'Cv', '1'), upstream, downstream, temperature(row, 'T', temperature(row, 'T1')))
  return named(standardFeet(flow), 'm3/s', 'q', 'Q')
}

/** Two states of the air: 1 as it is drawn in, 2 where it is used. */
const states = (row: Row, gauge: string) => ({
  drawn: { pressure: TABLE_ATMOSPHERE, temperature: temperature(row, 'T1') },
  used: { pressure: absolute(row, gauge, TABLE_ATMOSPHERE), temperature: temperature(row, 'T2') },
})

const delivered: Topic = (row) => {
  const { drawn, used } = states(row, 'p2Gauge')
  return { Q1: { value: flowInState(number(row, 'Q2', 'm3/s'), used, drawn), unit: 'm3/s' } }
}

const strokes: Topic = (row) => {
  const { drawn, used } = states(row, 'pGauge')
  const flow = flowInState(number(row, 'Q1', 'm3/s'), drawn, used)
  return { n: { value: strokeRate(flow, circleArea(number(row, 'd', 'm')), number(row, 'L', 'm')), unit: '/s' } }
}

/** Free air of a cylinder at a rate of strokes. */
const cylinderAir: Topic = (row) => {
  const { drawn, used } = states(row, 'pGauge')
  const swept = circleArea(number(row, 'd', 'm')) * number(row, 'L', 'm') * number(row, 'n', '/s')
  return named(flowInState(swept, used, drawn), 'm3/s', 'Q1', 'q', 'Q')
}

const ratio: Topic = (row) => ({ ratio: { value: compressionRatio(number(row, 'pGauge', 'Pa'), TABLE_ATMOSPHERE), unit: '1' } })

const choke: Topic = (row) => ({
  p2Gauge: { value: chokedBelow(absolute(row, 'p1Gauge')) - atmosphere(row), unit: 'Pa' },
})

const meter = (row: Row) => ({ pipe: number(row, 'D', 'm'), orifice: number(row, 'd', 'm') })

const measured: Topic = (row) => {
  const drop = number(row, 'P1', 'Pa') - number(row, 'P2', 'Pa')
  const [rho, c, eps] = [number(row, 'rho', 'kg/m3'), number(row, 'C', '1'), inputIn(row, 'eps', '1')]
  return { m: { value: measuredFlow(meter(row), drop, rho, c, eps), unit: 'kg/s' } }
}

const expands: Topic = (row) =>
  named(expansibility(meter(row), number(row, 'P1', 'Pa'), number(row, 'P2', 'Pa'), number(row, 'k', '1')), '1', 'eps', 'epsilon')

const valveSizes: Topic = (row) => {
  const [cv, kv] = [inputIn(row, 'Cv', '1'), inputIn(row, 'Kv', '1')]
  return { Kv: { value: (cv ?? Number.NaN) * KV_PER_CV, unit: '1' }, Cv: { value: (kv ?? Number.NaN) / KV_PER_CV, unit: '1' } }
}

/** Sonic conductance of one square metre of ideal throat [m³/(s Pa m²)]. */
const perArea: Topic = () => ({ CperA: { value: conductanceOf({ area: 1, discharge: 1 }), unit: 'm/(s.Pa)' } })

/** Topic 6. */
export const air: Topic = sorts(
  [
    { inputs: ['d', 'pGauge', 'Cd', 'T'], answer: orifice },
    {
      words: /well-rounded entrance/,
      answer: () => ({ ...named(DISCHARGE.rounded, '1', 'rounded'), ...named(DISCHARGE.sharp, '1', 'sharp') }),
    },
    { words: /^Critical pressure ratio of air/, answer: () => ({ r: { value: criticalRatio(), unit: '1' } }) },
    { words: /^Choked flow function/, answer: () => ({ psi: { value: chokedFlowFunction(), unit: '1' } }) },
    { words: /^Sonic conductance of an ideal nozzle per/, answer: perArea },
    { words: /flow is choked/, inputs: ['p1Gauge'], answer: choke },
    { inputs: ['Cv', 'p1Gauge'], answer: valve },
    { inputs: ['Q2', 'p2Gauge'], answer: delivered },
    { inputs: ['d', 'L', 'Q1', 'pGauge'], answer: strokes },
    { inputs: ['d', 'L', 'n', 'pGauge'], answer: cylinderAir },
    { words: /^Compression ratio/, inputs: ['pGauge'], answer: ratio },
    { inputs: ['V', 'dp', 'dt'], answer: decay },
    { inputs: ['pGauge', 'T1', 'T2'], answer: cools },
    { inputs: ['C', 'b', 'p1', 'p2', 'T1'], answer: iso6358 },
    { inputs: ['C', 'b', 'V', 'p0', 'pEnd'], answer: tank },
    { inputs: ['d', 'Cd'], answer: conductance },
    { words: /^Fill/, inputs: ['V', 'pGauge'], answer: fill },
    { inputs: ['D', 'd', 'P1', 'P2', 'rho', 'C'], answer: measured },
    { inputs: ['D', 'd', 'P1', 'P2', 'k'], answer: expands },
    { words: /^Kv|^Cv/, answer: valveSizes },
  ],
  'no flow through a hole or valve, no filling, venting, leaking or cooling of a volume',
)
