// Fault campaigns: all node values of every faulted network, one core, against ngspice and sparse LU with low-rank updates, in the
// same run on the same networks. What is compared and how: README.md.
import { readFileSync } from 'node:fs'
import { campaign } from '@halfsplit/network'
import { toFaults, toNetwork } from './lib/dc-network.mjs'
import { vehicle } from './lib/vehicle.mjs'
import * as ngspice from './peers/ngspice.mjs'
import * as scipy from './peers/scipy.mjs'

const ROUNDS = 3
/** No further round of a network once it has taken so long [ms]: what bounds the whole on a busy machine. */
const BUDGET = 20_000
/** Faults given to each, by nodes: each takes about a second or less; a short list is gone through again and again. */
const COUNTS = [
  { upTo: 60, ours: 300_000, ngspice: 3000, scipy: 5000 },
  { upTo: 400, ours: 100_000, ngspice: 1000, scipy: 4000 },
  { upTo: 2000, ours: 30_000, ngspice: 150, scipy: 1500 },
  { upTo: Number.POSITIVE_INFINITY, ours: 17_000, ngspice: 15, scipy: 600 },
]

const sizes = [30, 200, 1000, 5000]

function reference() {
  const { elements, faults, ...net } = JSON.parse(
    readFileSync(new URL('../reference/circuits/net-30-2.json', import.meta.url), 'utf8'),
  )
  return { ...net, elements, faults: faults.map(({ id, element, value }) => ({ id, element, ohm: value })) }
}

/** The list spread out over `count` faults, from all over it, or again and again. */
function spread(faults, count) {
  const stride = faults.length > count ? Math.floor(faults.length / count) : 1
  return Array.from({ length: count }, (_, n) => faults[(n * stride) % faults.length])
}

/** Seconds of processor time with the voltages of every fault copied into a table, from its top again once it is full. */
function ours(network, faults, table, nodes) {
  const rows = Math.floor(table.length / nodes)
  const begun = process.cpuUsage()
  campaign(network, faults, {
    visit: (outcome, _, n) => {
      if (outcome.status !== 'settled') return
      const { across } = outcome
      const from = (n % rows) * nodes
      for (let i = 0; i < nodes; i += 1) table[from + i] = across[i + 1]
    },
  })
  const { user, system } = process.cpuUsage(begun)
  return (user + system) / 1e6
}

/** Which faults of the list settle: peers are spared the others. */
function settling(network, faults) {
  const settled = []
  const chattering = []
  campaign(network, faults, { visit: ({ status }, _, n) => (status === 'settled' ? settled : chattering).push(n) })
  return { settled, chattering }
}

function largestDifference(network, faults, voltages) {
  if (voltages.length !== faults.length) return Number.NaN
  let most = 0
  campaign(network, faults, {
    visit: ({ across }, _, n) => voltages[n].forEach((volt, i) => (most = Math.max(most, Math.abs(volt - across[i + 1])))),
  })
  return most
}

const perSecond = (value) =>
  value === undefined ? '-' : value >= 100 ? Math.round(value).toLocaleString('en') : value.toFixed(1)
const ratio = (own, peer) => (peer === undefined ? '-' : `${(own / peer).toFixed(own / peer < 10 ? 1 : 0)}x`)
const volts = (value) => (value === undefined ? '-' : Number.isNaN(value) ? 'not all written' : `${value.toExponential(1)} V`)

function measure(net, peers) {
  const network = toNetwork(net)
  const nodes = net.nodes.length
  const { settled, chattering } = settling(network, toFaults(net))
  const faults = settled.map((n) => net.faults[n])
  const count = COUNTS.find(({ upTo }) => nodes <= upTo)
  const own = toFaults({ ...net, faults: spread(faults, count.ours) })
  const table = new Float64Array(nodes * Math.min(own.length, 2000))
  const best = {}
  const apart = {}
  const note = (name, faultsPerSecond) => (best[name] = Math.max(best[name] ?? 0, faultsPerSecond))
  const begun = performance.now()
  for (let round = 0; round < ROUNDS && performance.now() - begun < BUDGET; round += 1) {
    note('ours', own.length / ours(network, own, table, nodes))
    if (peers.ngspice) {
      const list = spread(faults, count.ngspice)
      const { seconds, voltages } = ngspice.campaign(net, list)
      note('ngspice', list.length / seconds)
      apart.ngspice ??= largestDifference(network, toFaults({ ...net, faults: list }), voltages)
    }
    if (peers.scipy && !net.elements.some(({ kind }) => kind === 'filament')) {
      const list = spread(faults, count.scipy)
      const { seconds, voltages } = scipy.campaign(net, list)
      for (const way of Object.keys(seconds)) note('scipy', list.length / seconds[way])
      apart.scipy ??= largestDifference(network, toFaults({ ...net, faults: list }), voltages)
    }
  }
  return {
    best,
    apart,
    chatter: chatterCost(network, net, settled, chattering),
    faults: net.faults.length,
    chattering: chattering.length,
  }
}

/** Time of a chattering fault over that of an ordinary one, the best of several rounds of each. */
function chatterCost(network, net, settled, chattering) {
  if (chattering.length === 0) return undefined
  const table = new Float64Array(net.nodes.length)
  const time = (places) => {
    const list = toFaults({
      ...net,
      faults: spread(
        places.map((n) => net.faults[n]),
        2000,
      ),
    })
    const each = Array.from({ length: ROUNDS }, () => ours(network, list, table, net.nodes.length))
    return Math.min(...each)
  }
  return time(chattering) / time(settled)
}

export async function run() {
  const peers = { ngspice: ngspice.version(), scipy: scipy.version() }
  for (const [name, found] of Object.entries(peers)) console.log(found ? `peer: ${found}` : `peer ${name} is not here: left out`)
  const nets = [
    reference(),
    ...sizes.map((nodes) => vehicle({ nodes })),
    ...sizes.map((nodes) => vehicle({ nodes, relays: 0.3 })),
    ...sizes.slice(0, 3).map((nodes) => vehicle({ nodes, relays: 0.2, lamps: true })),
  ]
  console.log(`faults solved a second of processor time, all node values, best of at most ${ROUNDS} interleaved rounds\n`)
  const head = [
    'network',
    'ours',
    'ngspice',
    'ratio',
    'scipy',
    'ratio',
    'apart: ngspice',
    'scipy',
    'chattering of',
    'cost of one',
  ]
  const rows = [head]
  console.log(format(head))
  for (const net of nets) {
    const { best, apart, chatter, faults, chattering } = measure(net, peers)
    const row = [
      net.name,
      perSecond(best.ours),
      perSecond(best.ngspice),
      ratio(best.ours, best.ngspice),
      perSecond(best.scipy),
      ratio(best.ours, best.scipy),
      volts(apart.ngspice),
      volts(apart.scipy),
      `${chattering} of ${faults}`,
      chatter === undefined ? '-' : `${chatter.toFixed(1)} ordinary`,
    ]
    rows.push(row)
    console.log(format(row))
  }
}

const format = (cells) => cells.map((cell, i) => (i ? cell.padStart(15) : cell.padEnd(28))).join('')
