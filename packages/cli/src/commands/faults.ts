import { formatValue } from '@halfsplit/core'
import { EXIT, type ExitCode } from '../exit-codes.js'
import { type Change, type FaultEffect, faultEffects } from '../fault-effects.js'
import { loadSystem } from '../files.js'
import { type Io, paint } from '../io.js'
import { repairTitle } from '../words/suspects.js'

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
  const seen = sizes.map(({ size, changes }) => {
    const at = size === undefined || dimension === undefined ? '' : `at ${formatValue(size, dimension, { digits: 2 })}: `
    return `  seen: ${at}${changesText(changes)}`
  })
  return [`  ${nature.join('; ')}`, ...seen, `  rate: ${rateWords(ratePerYear)}`, `  repair: ${fault.repair}: ${repair}`]
}

const changesText = (changes: readonly Change[]): string =>
  changes.length === 0
    ? 'nothing changes'
    : changes.map(({ state, look, from, to }) => `${state}: ${look} ${to} (sound: ${from})`).join('; ')

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
