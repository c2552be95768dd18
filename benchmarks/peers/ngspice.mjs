// ngspice with all faults inside one process: one deck, and for every fault alter, op, write of all voltages, alter back. Of the ways
// tried (write with and without a list, wrdata, print; plots kept or destroyed) this is the fastest.
import { spawnSync } from 'node:child_process'
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'

export const name = 'ngspice'

export function version() {
  const done = spawnSync('ngspice', ['--version'], { encoding: 'utf8' })
  return done.error || done.status !== 0 ? undefined : /ngspice-[\d.+]+/.exec(done.stdout)?.[0]
}

const card = (id) => `r_${id.toLowerCase()}`

function line({ id, kind, a, b, ...of }, elements) {
  if (kind === 'resistor') return `${card(id)} ${a} ${b} ${of.ohm}`
  if (kind === 'voltage_source') return `v_${id} ${a} ${b} dc ${of.volt}`
  if (kind === 'contact') {
    const coil = elements.find((other) => other.id === of.coil)
    const fall = of.drop_out_volt ?? of.pull_in_volt
    const levels = `vt=${(of.pull_in_volt + fall) / 2} vh=${(of.pull_in_volt - fall) / 2}`
    return `s_${id} ${a} ${b} ${coil.a} ${coil.b} m_${id} off\n.model m_${id} sw ${levels} ron=${of.closed_ohm} roff=${of.open_ohm}`
  }
  if (kind === 'filament') {
    const v = `v(${a},${b})`
    return `b_${id} ${a} ${b} i=${v}/(${of.cold_ohm}*(1+(${v}/${of.knee_volt})^2)^${of.exponent})`
  }
  throw new Error(`no ngspice card for the kind '${kind}'`)
}

/** Deck of the network under these faults, and where it writes. */
function deck({ elements }, faults, raw) {
  const before = new Map(elements.map(({ id, ohm }) => [id, ohm]))
  const each = faults.flatMap(({ element, ohm }) => [
    `alter ${card(element)} = ${ohm}`,
    'op',
    `write ${raw}`,
    `alter ${card(element)} = ${before.get(element)}`,
    'destroy all',
  ])
  const control = [
    'set noaskquit',
    'set nomoremode',
    'set filetype=binary',
    'set appendwrite',
    'op',
    'destroy all',
    ...each,
    'quit',
  ]
  const cards = elements.map((element) => line(element, elements))
  return [
    '* campaign',
    ...cards,
    '.options reltol=1e-6 vntol=1e-9 abstol=1e-12',
    '.control',
    ...control,
    '.endc',
    '.end',
    '',
  ].join('\n')
}

function run(net, faults, directory) {
  const file = join(directory, 'campaign.cir')
  const raw = join(directory, 'campaign.raw')
  rmSync(raw, { force: true })
  writeFileSync(file, deck(net, faults, raw))
  const done = spawnSync('sh', ['-c', 'ngspice -b "$0" >&2; times', file], {
    cwd: directory,
    encoding: 'utf8',
    maxBuffer: 1 << 28,
  })
  if (done.error) throw done.error
  const seconds = childTime(done.stdout)
  return { seconds, raw }
}

/** Processor time of the children of a shell, as its `times` prints it in the second line: 0m1.25s 0m0.04s. */
function childTime(printed) {
  const times = printed
    .trim()
    .split('\n')
    .at(-1)
    .matchAll(/(\d+)m([\d.]+)s/g)
  return [...times].reduce((sum, [, minutes, seconds]) => sum + 60 * Number(minutes) + Number(seconds), 0)
}

/**
 * Processor time of the campaign less that of the same deck without a fault, and the voltages of every fault (by `op`, in the order written).
 */
export function campaign(net, faults) {
  const directory = mkdtempSync(join(tmpdir(), 'halfsplit-bench-'))
  try {
    const start = run(net, [], directory).seconds
    const { seconds, raw } = run(net, faults, directory)
    return { seconds: Math.max(seconds - start, 1e-6), voltages: readRaw(readFileSync(raw), net.nodes) }
  } finally {
    rmSync(directory, { recursive: true, force: true })
  }
}

/** Voltages by node of the one-point plots in an appended binary raw file; all plots have the variables of the first. */
function readRaw(bytes, nodes) {
  const mark = Buffer.from('Binary:\n')
  const head = bytes.subarray(0, bytes.indexOf(mark)).toString('latin1')
  const variables = head.slice(head.indexOf('Variables:\n')).split('\n').slice(1, -1)
  const place = new Map(variables.map((text, i) => [text.trim().split(/\s+/)[1], i]))
  const places = nodes.map((node) => place.get(node.toLowerCase()) ?? place.get(`v(${node.toLowerCase()})`))
  const plots = []
  for (let at = bytes.indexOf(mark); at >= 0; at = bytes.indexOf(mark, at)) {
    at += mark.length
    const from = at
    plots.push(Float64Array.from(places, (i) => bytes.readDoubleLE(from + 8 * i)))
    at += 8 * variables.length
  }
  return plots
}
