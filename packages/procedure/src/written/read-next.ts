import { faultModes } from '@halfsplit/diagnosis'
import { type Fields, type IssueList, named, type System } from '@halfsplit/system'
import type { Next } from './model.js'

const EXPECTED = '"go to STEP", a repair as in "replace K7", "nothing found" or "no conclusion"'

/** Where a step goes; undefined (and an issue) where the sheet has no such step or the description no such repair. */
export function readNext(
  issues: IssueList,
  fields: Fields,
  key: string,
  system: System,
  ids: ReadonlySet<string>,
): Next | undefined {
  const text = fields.text(key)
  const entry = fields.get(key)
  if (text === undefined || !entry) return undefined
  if (text === 'nothing found' || text === 'no conclusion') return { kind: text }
  const step = /^go to (.+)$/.exec(text)?.[1]
  const position = entry.value.at
  if (step !== undefined) {
    if (ids.has(step)) return { kind: 'step', step }
    const details = { expected: 'a step of this procedure', received: named(step), nearest: issues.nearest(step, ids) }
    issues.add('UNKNOWN_STEP', `"${key}" of ${fields.what} leads to no step`, position, details)
    return undefined
  }
  const repairs = repairsOf(system)
  if (repairs.has(text)) return { kind: 'repair', repair: text }
  const own = [...repairs].filter((repair) => repair.endsWith(` ${text.split(' ').at(-1)}`))
  issues.add('UNKNOWN_REPAIR', `"${key}" of ${fields.what} is no way on`, position, {
    expected: own.length > 0 ? `one of ${own.join(', ')}` : EXPECTED,
    received: named(text),
    nearest: issues.nearest(text, repairs),
  })
  return undefined
}

const known = new WeakMap<System, ReadonlySet<string>>()

/** Every repair that cures some fault of the machine, consequences and slips of hands included. */
function repairsOf(system: System): ReadonlySet<string> {
  let repairs = known.get(system)
  if (!repairs) {
    const parts = [...system.parts.values()]
    const consequences = parts.flatMap((part) =>
      part.kind.modes.filter(({ share }) => share === 0).map((mode) => `${mode.repair} ${part.name}`),
    )
    repairs = new Set([...faultModes(system, { byHand: true }).map((fault) => fault.repair), ...consequences])
    known.set(system, repairs)
  }
  return repairs
}
