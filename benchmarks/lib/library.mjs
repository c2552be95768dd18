// The depot's systems over time: an hour of the first scenario of each, and an hour of it under every single fault, on two threads.
import { readdirSync, readFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { isMainThread, parentPort, Worker, workerData } from 'node:worker_threads'
import { faultModes } from '@halfsplit/diagnosis'
import { march } from '@halfsplit/network'
import { legsOf, parseSystem, Realiser, restsOnTheWay } from '@halfsplit/system'

const HOUR = 3600
const THREADS = 2

const folder = (name) => new URL(`../../library/${name}/`, import.meta.url)

export const names = () =>
  readdirSync(new URL('../../library/', import.meta.url), { withFileTypes: true })
    .filter((entry) => entry.isDirectory())
    .map((entry) => entry.name)

function open(name) {
  const file = fileURLToPath(new URL(`${name}.yaml`, folder(name)))
  const { system } = parseSystem(readFileSync(file, 'utf8'), file)
  return { system, realiser: new Realiser(system), scenario: [...system.scenarios.values()][0] }
}

/** An hour of the machine under these faults: what the march says of itself, or that it finds no rest before. */
function hour({ realiser, scenario }, faults) {
  const rests = restsOnTheWay(realiser, scenario.from, faults)
  if (!Array.isArray(rests)) return { status: `no rest: ${rests.unsettled.status}` }
  const { legs, previous } = legsOf(realiser, { scenario, start: rests[rests.length - 1], faults: [], until: HOUR })
  return march(legs, { until: HOUR, previous, stopWhenPeriodic: true })
}

export function hours(row, ms) {
  console.log('\nan hour of each system, healthy, its first scenario\n')
  row(['system', 'nodes', 'steps', 'events', 'best of 5'])
  for (const name of names()) {
    const machine = open(name)
    if (!machine.scenario) {
      row([name, 'no scenario'])
      continue
    }
    const { scenario, realiser } = machine
    const start = restsOnTheWay(realiser, scenario.from, []).at(-1)
    const { legs, previous } = legsOf(realiser, { scenario, start, faults: [], until: HOUR })
    let least = Number.POSITIVE_INFINITY
    let last
    for (let n = 0; n < 5; n += 1) {
      const begun = performance.now()
      last = march(legs, { until: HOUR, previous })
      least = Math.min(least, (performance.now() - begun) / 1000)
    }
    row([name, String(legs[0].network.nodes.length), String(last.steps), String(last.events.length), ms(least)])
  }
}

/** Every failure mode of every part at every size of its list. */
function everySingle({ system }) {
  return faultModes(system).flatMap((fault) => {
    const { nodes } = fault.severity ?? { nodes: [undefined] }
    return nodes.map((severity) => ({ part: fault.part.name, mode: fault.mode.id, severity, other: fault.other }))
  })
}

export async function everyFault(row) {
  console.log(`\nan hour under every single fault at every size, ${THREADS} threads; what repeats itself stops at its period\n`)
  row(['system', 'faults', 'seconds', 'done', 'periodic', 'chatters', 'no numbers'])
  const begun = performance.now()
  for (const name of names()) {
    const machine = open(name)
    if (!machine.scenario) continue
    const count = everySingle(machine).length
    const before = performance.now()
    const parts = await Promise.all(Array.from({ length: THREADS }, (_, k) => inThread(name, k)))
    const sum = (key) => parts.reduce((total, part) => total + part.counts[key], 0)
    const seconds = (performance.now() - before) / 1000
    row([
      name,
      String(count),
      seconds.toFixed(1),
      String(sum('done')),
      String(sum('periodic')),
      String(sum('chatters')),
      String(sum('none')),
    ])
    for (const { fault, status, slow } of parts.flatMap((part) => part.told))
      console.log(`    ${fault}: ${status}${slow ? `, ${slow} s` : ''}`)
  }
  console.log(`all: ${((performance.now() - begun) / 1000).toFixed(0)} s`)
}

const inThread = (name, share) =>
  new Promise((resolve, reject) => {
    const worker = new Worker(new URL(import.meta.url), { workerData: { name, share } })
    worker.once('message', resolve)
    worker.once('error', reject)
  })

/** Slower than this [s] is told by name. */
const SLOW = 3

function work({ name, share }) {
  const machine = open(name)
  const counts = { done: 0, periodic: 0, chatters: 0, none: 0 }
  const told = []
  everySingle(machine).forEach((fault, n) => {
    if (n % THREADS !== share) return
    const begun = performance.now()
    const { status, end } = hour(machine, [fault])
    const seconds = (performance.now() - begun) / 1000
    const ran = status in counts
    counts[ran ? status : 'none'] += 1
    const label = `${fault.part}${fault.other ? `+${fault.other}` : ''}.${fault.mode}${fault.severity === undefined ? '' : `@${fault.severity}`}`
    if (!ran || seconds > SLOW)
      told.push({
        fault: label,
        status: ran ? status : `${status} at ${end ?? 0} s`,
        slow: seconds > SLOW ? seconds.toFixed(1) : '',
      })
  })
  return { counts, told }
}

if (!isMainThread && workerData?.name) parentPort.postMessage(work(workerData))
