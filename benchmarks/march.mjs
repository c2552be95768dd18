// Behaviour over time: ladders of resistors and capacitors against ngspice and scientific Python, the fan control of the reference
// cases against scientific Python, then the depot's own systems: an hour of each, and an hour under every single fault.
// `npm run bench -- march` for all, `npm run bench -- march ladders | machine | library` for a part. What is compared and how: README.md.
import { readFileSync } from 'node:fs'
import { march, probeValue } from '@halfsplit/network'
import { legsOf } from '../packages/cli/dist/reference/simulation-network.js'
import { everyFault, hours } from './lib/library.mjs'
import { version as ngspiceVersion } from './peers/ngspice.mjs'
import { version as scipyVersion } from './peers/scipy.mjs'
import { ngspice, scipy } from './peers/transient.mjs'

const ROUNDS = 3

function best(rounds, run) {
  let least = Number.POSITIVE_INFINITY
  let value
  for (let n = 0; n < rounds; n += 1) {
    const begun = performance.now()
    value = run()
    least = Math.min(least, (performance.now() - begun) / 1000)
  }
  return { seconds: least, value }
}

const ms = (seconds) => (seconds === undefined ? '-' : `${(1000 * seconds).toFixed(seconds < 0.01 ? 2 : 0)} ms`)
const ratio = (own, peer) => (peer === undefined ? '-' : `${(peer / own).toFixed(1)}x`)
const row = (cells) => console.log(cells.map((cell, i) => (i ? cell.padStart(14) : cell.padEnd(34))).join(''))

const ladder = (nodes) => ({ kind: 'ladder', nodes, ohm: 100, farad: 1e-5, volt: 12, until: 2e-3 * nodes, rounds: ROUNDS })

function ladderNetwork({ nodes, ohm, farad, volt }) {
  const names = Array.from({ length: nodes }, (_, i) => `n${i + 1}`)
  return {
    nodes: ['in', ...names].map((id) => ({ id, domain: 'electrical', insulation: 0, rest: 0 })),
    elements: [
      { type: 'across', id: 'u', a: 'in', b: '0', value: volt, resistance: 0 },
      ...names.flatMap((id, i) => [
        { type: 'law', id: `r${i}`, a: i ? names[i - 1] : 'in', b: id, law: { law: 'linear', g: 1 / ohm } },
        { type: 'store', id: `c${i}`, a: id, b: '0', charge: { charge: 'linear', capacity: farad }, holds: 0 },
      ]),
    ],
    signals: [],
  }
}

function ladders(peers) {
  console.log(`time of one run, best of ${ROUNDS}; ratio: peer over ours; ours and ngspice write nothing but the end\n`)
  row(['ladder', 'ours', 'ngspice', 'ratio', 'scipy', 'ratio', 'apart'])
  for (const nodes of [10, 30, 200]) {
    const job = ladder(nodes)
    const network = ladderNetwork(job)
    const own = best(ROUNDS + 20, () => march([{ from: 0, network }], { until: job.until }))
    const end = probeValue(own.value.last, { across: { [`n${nodes}`]: 1 } })
    const spice = peers.ngspice ? ngspice(job, Math.ceil(2000 / nodes)) : undefined
    const python = peers.scipy ? scipy(job) : undefined
    const apart = [spice, python].filter((peer) => peer).map((peer) => Math.abs(peer.values[0] - end))
    row([
      `${nodes} nodes, ${own.value.steps} steps`,
      ms(own.seconds),
      ms(spice?.seconds),
      ratio(own.seconds, spice?.seconds),
      ms(python?.seconds),
      ratio(own.seconds, python?.seconds),
      `${Math.max(...apart).toExponential(1)} V`,
    ])
  }
}

function machine(peers) {
  console.log('\nthe fan control of the reference cases, 50 minutes with its cycles\n')
  row(['case', 'ours', 'scipy', 'ratio', 'apart'])
  const { cases } = JSON.parse(readFileSync(new URL('../reference/oracle-cases/simulation.json', import.meta.url), 'utf8'))
  for (const { id, input } of cases.slice(0, 1)) {
    const { parameters, t_end_s: until } = input
    const own = best(ROUNDS + 2, () => march(legsOf(parameters), { until, previous: { full: !parameters.compressor_on0 } }))
    const python = peers.scipy ? scipy({ kind: 'fan control', parameters, until, rounds: ROUNDS }) : undefined
    const times = own.value.events.filter(({ signal }) => signal === 'hot').map(({ time }) => time)
    const apart = python ? Math.max(...times.map((time, i) => Math.abs(time - python.values[i]))) : Number.NaN
    row([id, ms(own.seconds), ms(python?.seconds), ratio(own.seconds, python?.seconds), `${apart.toExponential(1)} s`])
  }
}

export async function run(parts = process.argv.slice(3)) {
  const peers = { ngspice: ngspiceVersion(), scipy: scipyVersion() }
  for (const [name, found] of Object.entries(peers)) console.log(found ? `peer: ${found}` : `peer ${name} is not here: left out`)
  const asked = (part) => parts.length === 0 || parts.includes(part)
  if (asked('ladders')) ladders(peers)
  if (asked('machine')) machine(peers)
  if (asked('library')) {
    hours(row, ms)
    await everyFault(row)
  }
}
