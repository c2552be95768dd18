import type { Dimension } from '@halfsplit/core'
import type { Check, CheckAsks, Watched } from '../model.js'
import { checkName, type Draft } from './draft.js'
import { Fields, named, section } from './fields.js'
import { type Entry, shorten } from './tree.js'
import { watchedNamed } from './watched-named.js'

const KEYS = ['of', 'from', 'to', 'within', 'when', 'at_least', 'at_most', 'falls', 'after', 'clause'] as const
const EXAMPLE = 'build_up: { of: T1.air, from: 85 psi, to: 100 psi, within: 25 s, clause: "..." }'

/** Reads what a run must show: how long something takes, where it stands when a look changes, how far it falls. */
export function readChecks(draft: Draft, entry: Entry | undefined): Check[] {
  const checks: Check[] = []
  for (const { key, keyAt, value } of section(draft.issues, entry, EXAMPLE)) {
    if (!checkName(draft.issues, key, keyAt, 'check')) continue
    const fields = Fields.of(draft.issues, value, `check '${key}'`, KEYS, EXAMPLE)
    if (!fields) continue
    const of = readOf(draft, fields)
    const asks = of && readAsks(draft, fields, of.dimension)
    if (of && asks) checks.push({ name: key, clause: fields.text('clause') ?? '', of, asks })
  }
  return checks
}

function readOf(draft: Draft, fields: Fields): Check['of'] | undefined {
  const { issues } = draft
  const entry = fields.get('of')
  if (!entry) {
    issues.add('KEY_MISSING', `${fields.what} does not say of what`, fields.at, {
      expected: 'a point "of"',
      fix: 'add "of: T1.air"',
    })
    return undefined
  }
  const text = fields.text('of')
  const watched = text === undefined ? undefined : watchedNamed(draft, text, entry.value.at)
  if (watched?.watch !== 'look') return watched
  const expected = 'a point, as in "T1.air"; a look goes with "when"'
  issues.add('UNKNOWN_WATCHED', `${fields.what} is of a look`, entry.value.at, { expected, received: named(text ?? '') })
  return undefined
}

/** The three forms, told apart by their keys. */
function readAsks(draft: Draft, fields: Fields, dimension: Dimension): CheckAsks | undefined {
  const value = (key: string, as: Dimension) => fields.quantity(key, as)?.value
  if (fields.get('from')) {
    const [from, to, within] = [value('from', dimension), value('to', dimension), value('within', 'time')]
    return complete(draft, fields, { from, to, within }) ? ({ ask: 'takes', from, to, within } as CheckAsks) : undefined
  }
  if (fields.get('falls')) {
    const [most, within, after] = [value('falls', differenceOf(dimension)), value('within', 'time'), value('after', 'time') ?? 0]
    return complete(draft, fields, { falls: most, within }) ? ({ ask: 'falls', most, within, after } as CheckAsks) : undefined
  }
  return readStands(draft, fields, value('at_least', dimension), value('at_most', dimension))
}

const differenceOf = (dimension: Dimension): Dimension => {
  if (dimension === 'absolutePressure') return 'pressureDifference'
  return dimension === 'temperature' ? 'temperatureDifference' : dimension
}

function complete({ issues }: Draft, fields: Fields, values: Record<string, number | undefined>): boolean {
  for (const [key, value] of Object.entries(values)) {
    if (value !== undefined) continue
    if (!fields.get(key)) issues.add('KEY_MISSING', `${fields.what} has no "${key}"`, fields.at, { expected: `a value "${key}"` })
    return false
  }
  return true
}

/** `when: P1.light is dark`, with a limit or two. */
function readStands(draft: Draft, fields: Fields, least?: number, most?: number): CheckAsks | undefined {
  const { issues } = draft
  const entry = fields.get('when')
  const text = fields.text('when')
  if (!entry || text === undefined || (least === undefined && most === undefined)) {
    const expected = '"from", "to" and "within"; or "falls" and "within"; or "when" with "at_least" or "at_most"'
    if (!entry || text !== undefined) issues.add('KEY_MISSING', `${fields.what} asks for nothing`, fields.at, { expected })
    return undefined
  }
  const [name, word] = text.split(' is ')
  const watched: Watched | undefined = watchedNamed(draft, name, entry.value.at)
  if (!watched) return undefined
  const place = watched.watch === 'look' ? watched.look.words.indexOf(word?.trim() ?? '') : -1
  if (watched.watch !== 'look' || place < 0) {
    const words = watched.watch === 'look' ? watched.look.words.map((one) => `"${name} is ${one}"`).join(', ') : 'a look'
    const details = { expected: `one of ${words}`, received: named(shorten(text, 40)) }
    issues.add('UNKNOWN_WORD', `${fields.what} waits for no word of a look`, entry.value.at, details)
    return undefined
  }
  return { ask: 'stands', when: watched, word: place, least, most }
}
