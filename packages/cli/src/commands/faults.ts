import { formatValue } from '@halfsplit/core'
import { EXIT, type ExitCode } from '../exit-codes.js'
import { type Change, type FaultEffect, faultEffects } from '../fault-effects.js'
import { loadSystem } from '../files.js'
import { type Io, paint } from '../io.js'
import { labelled, listed } from '../words/layout.js'
import { repairTitle } from '../words/suspects.js'
import { spoken } from '../words/names.js'

/** Failure modes with what can be seen of each, its rate, its repair, and whether it hides. */
export function faultsCommand(io: Io, file: string, { json }: { json?: boolean }): ExitCode {
  const { system, warnings } = loadSystem(file)
  if (warnings) io.err(`${warnings}\n`)
  const effects = faultEffects(system)
  if (json) {
    const machine = { name: system.name, title: system.title, hash: system.hash }
    io.out(`${JSON.stringify({ format: 'halfsplit-faults/1', machine, faults: effects.map(faultDocument) }, null, 2)}\n`)
    return EXIT.ok
  }
  const { bold } = paint(io.colour)
  const hidden = effects.filter((one) => !one.noticed).length
  const head = `${bold(`${system.title}: what can fail`)}\n${effects.length} failure modes; ${hidden} of them show nothing an operator would notice.\n`
  const blocks = effects.map((one) => [bold(one.fault.id), ...faultLines(one, repairTitle(system, one.fault.repair))].join('\n'))
  io.out(`${head}\n${blocks.join('\n\n')}\n`)
  return EXIT.ok
}

function faultLines({ fault, sizes, ratePerYear, noticed }: FaultEffect, repair: string): string[] {
  const nature = [
    `${fault.part.name} ${fault.mode.title}`,
    ...(fault.mode.intermittent ? ['comes and goes'] : []),
    ...(fault.mode.byHand ? ['only after somebody worked on it'] : []),
    noticed ? 'noticed' : 'hidden',
  ]
  const dimension = fault.severity?.dimension
  const sizeText = (size: number | undefined) =>
    size === undefined || dimension === undefined ? '' : formatValue(size, dimension, { digits: 2 })
  return labelled([
    ['fault', nature.join('; ')],
    ...seenRows(sizes.map(({ size, changes }) => ({ size: sizeText(size), seen: changesText(changes) }))),
    ['rate', rateWords(ratePerYear)],
    ['repair', `${fault.repair}: ${repair}`],
  ])
}

/** What is seen, sizes that show the same on one row. */
function seenRows(rows: readonly { size: string; seen: string }[]): [string, string][] {
  const bySeen = new Map<string, string[]>()
  for (const { size, seen } of rows) bySeen.set(seen, [...(bySeen.get(seen) ?? []), size])
  return [...bySeen].map(([seen, sizes], i) => [i === 0 ? 'seen' : '', sizes[0] === '' ? seen : `at ${listed(sizes)}: ${seen}`])
}

const MOST_STATES = 3
const MOST_LOOKS = 3

/** "tail: L1 tail light and L3 light dark (sound: bright)", states and looks beyond the first few counted. */
function changesText(changes: readonly Change[]): string {
  if (changes.length === 0) return 'nothing changes'
  const groups = new Map<string, Change[]>()
  for (const one of changes) {
    const key = `${one.state} ${one.from} ${one.to}`
    groups.set(key, [...(groups.get(key) ?? []), one])
  }
  const states = [...new Set(changes.map(({ state }) => state))]
  const shown = [...groups.values()].filter(([{ state }]) => states.indexOf(state) < MOST_STATES)
  const more = states.length > MOST_STATES ? `; and in ${states.length - MOST_STATES} more states` : ''
  return `${shown.map(groupText).join('; ')}${more}`
}

function groupText(group: readonly Change[]): string {
  const [{ state, from, to }] = group
  const looks = group.slice(0, MOST_LOOKS).map(({ look }) => spoken(look).replace('.', ' '))
  const rest = group.length - looks.length
  return `${state}: ${listed(rest > 0 ? [...looks, `${rest} more`] : looks)} ${to} (sound: ${from})`
}

/** "0.0021 a year, once in 480 years" */
function rateWords(rate: number): string {
  if (!(rate > 0)) return 'only as a consequence of another fault'
  return `${Number(rate.toPrecision(2))} a year, once in ${Number((1 / rate).toPrecision(2))} years`
}

/** One fault of the JSON form: docs/reference/json.md, `halfsplit-faults/1`. */
function faultDocument({ fault, sizes, ratePerYear, noticed }: FaultEffect) {
  return {
    id: fault.id,
    part: fault.part.name,
    mode: fault.mode.id,
    title: fault.mode.title,
    other: fault.other ?? null,
    intermittent: fault.mode.intermittent ?? false,
    byHand: fault.mode.byHand ?? false,
    dimension: fault.severity?.dimension ?? null,
    ratePerYear,
    noticed,
    repair: fault.repair,
    effects: sizes.map(({ size = null, changes }) => ({ size, changes })),
  }
}
