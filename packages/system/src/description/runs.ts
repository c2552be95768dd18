import type { Draft, Reference, Scope } from './draft.js'
import { referenceOf } from './draft.js'
import { Fields, textOf } from './fields.js'
import { addPart, keysOf } from './parts.js'
import { type Entry, shapeOf, shorten } from './tree.js'

const EXAMPLES = {
  wire: '{ from: F10.b, to: K7.common, length: 3 m, size: 1.5 mm2 }',
  hose: '{ from: R1.out, to: SV1.supply, bore: 6 mm, length: 3 m }',
}

/** Reads a wire or hose: a part with two ends, each led to a point. Its kind is `wire` or `hose` unless it names another. */
export function readRun(draft: Draft, name: string, entry: Entry, scope: Scope, what: 'wire' | 'hose'): void {
  if (!draft.declare(name, entry, what)) return
  draft.unread.add(name)
  const own = entry.value.type === 'map' ? entry.value.entries.find((one) => one.key === 'kind') : undefined
  const kindName = own ? textOf(draft.issues, own.value, `"kind" of ${what} '${name}'`) : what
  const kind = kindName === undefined ? undefined : draft.kind(kindName, own?.value.at ?? entry.keyAt)
  if (!kind) return
  const fields = Fields.of(draft.issues, entry.value, `${what} '${name}'`, ['from', 'to', ...keysOf(kind)], EXAMPLES[what])
  if (!fields) return
  addPart(draft, name, kind, fields, scope, { run: true, position: entry.keyAt })
  draft.unread.delete(name)
  for (const [side, key] of ['from', 'to'].entries()) {
    const end = fields.get(key)
    const port = kind.ports[side]
    if (!end) {
      draft.issues.add('DANGLING_WIRE', `${what} '${shorten(name)}' has no end "${key}"`, entry.keyAt, {
        expected: `both ends, as in "${EXAMPLES[what]}"`,
        fix: `add "${key}: PART.port"`,
      })
    } else if (port) {
      const point = referenceOf(draft.issues, end.value, scope.prefix, `"${key}" of ${what} '${name}'`)
      if (point) draft.links.push({ ends: [{ text: `${name}.${port.name}`, scope: '', at: entry.keyAt }, point] })
    }
  }
}

/** Reads a connector: each of its pins becomes a part `X12.1` of kind `pin` with the sides `X12.1/a` and `X12.1/b`. */
export function readConnector(draft: Draft, name: string, entry: Entry, scope: Scope): void {
  if (!draft.declare(name, entry, 'connector')) return
  draft.unread.add(name)
  const kind = draft.kind('pin', entry.keyAt)
  if (!kind) return
  const keys = ['pins', ...keysOf(kind).filter((key) => key !== 'kind')]
  const fields = Fields.of(draft.issues, entry.value, `connector '${name}'`, keys, '{ pins: 2, place: engine bay }')
  const pins = fields && pinCount(draft, fields, entry)
  if (!pins) return
  draft.unread.delete(name)
  for (let pin = 1; pin <= pins; pin += 1) {
    const pinName = `${name}.${pin}`
    if (!draft.declare(pinName, entry, 'pin')) continue
    addPart(draft, pinName, kind, fields, scope, { connector: { name, pin }, run: false, position: entry.keyAt })
  }
}

const MOST_PINS = 200

function pinCount(draft: Draft, fields: Fields, entry: Entry): number | undefined {
  const pins = fields.number('pins', 0)
  if (Number.isInteger(pins) && pins >= 1 && pins <= MOST_PINS) return pins
  const at = fields.get('pins')?.value.at ?? entry.keyAt
  draft.issues.add('PINS_UNREADABLE', `${fields.what} needs a number of pins`, at, {
    expected: `a whole number from 1 to ${MOST_PINS}, as in "pins: 2"`,
  })
  return undefined
}

/** Reads the joins: lists of points that meet directly. */
export function readJoins(draft: Draft, entry: Entry | undefined, scope: Scope): void {
  if (!entry || (entry.value.type === 'text' && entry.value.text === '')) return
  if (entry.value.type !== 'list') {
    const expected = 'a list of joins, as in "- [G3.b, frame]"'
    draft.issues.add('WRONG_SHAPE', '"joins" must be a list', entry.value.at, { expected, received: shapeOf(entry.value) })
    return
  }
  for (const item of entry.value.items) {
    if (item.type !== 'list' || item.items.length < 2) {
      const expected = 'two points or more, as in "[G3.b, frame]"'
      draft.issues.add('WRONG_SHAPE', 'a join needs at least two points', item.at, { expected, received: shapeOf(item) })
      continue
    }
    const ends = item.items.map((end) => referenceOf(draft.issues, end, scope.prefix, 'an end of a join'))
    draft.links.push({ ends: ends.filter((end): end is Reference => end !== undefined) })
  }
}
