import { type Dimension, type Position, parseQuantity, type Quantity } from '@halfsplit/core'
import type { Kind, Repair } from '@halfsplit/kinds'
import { type Draft, type Inherited, MOST_PARTS, referenceOf, type Scope } from './draft.js'
import { Fields, named, section } from './fields.js'
import { type Entry, shorten } from './tree.js'

/** Keys every part may have, whatever its kind. */
export const PART_KEYS = ['kind', 'place', 'harness', 'exposure', 'frame', 'sealed', 'guards', 'repairs'] as const

const EXAMPLE = 'F10: { kind: fuse, rating: 10 A }'

export interface Own {
  connector?: { name: string; pin: number }
  run: boolean
  position: Position
}

/** Reads the fields of one part of a known kind and adds it to the draft. */
export function addPart(draft: Draft, name: string, kind: Kind, fields: Fields, scope: Scope, own: Own): void {
  if (draft.parts.size >= MOST_PARTS) return draft.tooManyParts(own.position)
  const given = new Set(Object.keys(kind.ratings).filter((rating) => fields.get(rating)))
  draft.parts.set(name, {
    name,
    kind,
    ratings: readRatings(draft, kind, fields),
    given,
    choices: readChoices(draft, kind, fields),
    ...inherited(draft, fields, scope),
    guards: fields.text('guards'),
    repairs: readRepairs(draft, kind, fields),
    ...own,
  })
}

/** Keys a part of the kind may have. */
export function keysOf(kind: Kind): string[] {
  return [...PART_KEYS, ...Object.keys(kind.ratings), ...Object.keys(kind.choices ?? {})]
}

/** Place, harness, exposure, frame and access, as given or else as of the assembly around. */
export function inherited(draft: Draft, fields: Fields, scope: Scope): Inherited {
  const frame = fields.get('frame')
  return {
    place: readPlace(draft, fields) ?? scope.place,
    harness: fields.text('harness') ?? scope.harness,
    exposure: fields.number('exposure', 1) * scope.exposure,
    frame: frame ? referenceOf(draft.issues, frame.value, scope.prefix, `"frame" of ${fields.what}`) : scope.frame,
    sealed: fields.get('sealed') ? fields.yes('sealed') : scope.sealed,
  }
}

function readPlace(draft: Draft, fields: Fields): string | undefined {
  const place = fields.text('place')
  const entry = fields.get('place')
  if (place === undefined || !entry || draft.places.has(place)) return place
  draft.issues.add('UNKNOWN_PLACE', `no place is called "${shorten(place, 30)}"`, entry.value.at, {
    received: named(place),
    nearest: draft.issues.nearest(place, draft.places.keys()),
    fix: `add "${shorten(place, 30)}: { minutes: 5 }" under "places"`,
  })
  return undefined
}

function readRatings(draft: Draft, kind: Kind, fields: Fields): Map<string, Quantity> {
  const ratings = new Map<string, Quantity>()
  for (const [name, rating] of Object.entries(kind.ratings)) {
    const quantity = fields.get(name) ? fields.quantity(name, rating.dimension) : defaultOf(rating)
    if (quantity) ratings.set(name, quantity)
    else if (!fields.get(name)) {
      draft.issues.add('RATING_MISSING', `${fields.what} needs "${name}"`, fields.at, {
        expected: `"${name}", ${rating.about}`,
        fix: `add "${name}: ..." with its unit`,
      })
    }
    const entry = fields.get(name)
    if (quantity && entry) checkRating(draft, quantity, entry, `"${name}" of ${fields.what}`)
  }
  return ratings
}

/** What no part has none of; lengths, leaks and contact resistances may be nought. */
const NEVER_ZERO: readonly Dimension[] = ['area', 'power', 'voltage', 'current', 'capacitance']

function checkRating(draft: Draft, quantity: Quantity, { value }: Entry, what: string): void {
  const received = quantity.text
  if (quantity.relation !== 'equal' && quantity.dimension === 'temperature') {
    const expected = 'the temperature with its tolerance, as in "95 degC +- 2 K"'
    draft.issues.add('LIMIT_OF_TEMPERATURE', `${what}: a limit does not say where it lies`, value.at, { expected, received })
  }
  if (quantity.value === 0 && NEVER_ZERO.includes(quantity.dimension)) {
    draft.issues.add('VALUE_IMPOSSIBLE', `${what} cannot be nought`, value.at, { expected: 'more than zero', received })
  }
}

function defaultOf(rating: Kind['ratings'][string]): Quantity | undefined {
  if (rating.default === undefined) return undefined
  const parsed = parseQuantity(rating.default, rating.dimension)
  return parsed.ok ? parsed.value : undefined
}

function readChoices(draft: Draft, kind: Kind, fields: Fields): Record<string, string> {
  const words: Record<string, string> = {}
  for (const [name, choice] of Object.entries(kind.choices ?? {})) {
    const word = fields.text(name)
    words[name] = word ?? choice.default
    if (word === undefined || choice.words.includes(word)) continue
    draft.issues.add('UNKNOWN_WORD', `"${name}" of ${fields.what} cannot be that`, (fields.get(name) as Entry).value.at, {
      expected: `one of ${choice.words.join(', ')}`,
      received: named(word),
      nearest: draft.issues.nearest(word, choice.words),
    })
  }
  return words
}

function readRepairs(draft: Draft, kind: Kind, fields: Fields): Record<string, Repair> {
  const repairs: Record<string, Repair> = { ...kind.repairs }
  for (const entry of section(draft.issues, fields.get('repairs'), 'replace: { minutes: 4, price: 38 }')) {
    const usual = Object.hasOwn(kind.repairs, entry.key) ? kind.repairs[entry.key] : undefined
    if (!usual) {
      draft.issues.add('UNKNOWN_REPAIR', `a ${kind.name} has no repair "${shorten(entry.key, 30)}"`, entry.keyAt, {
        expected: `one of ${Object.keys(kind.repairs).join(', ')}`,
        received: named(entry.key),
        nearest: draft.issues.nearest(entry.key, Object.keys(kind.repairs)),
      })
      continue
    }
    const what = `repair "${entry.key}" of ${fields.what}`
    const own = Fields.of(draft.issues, entry.value, what, ['title', 'minutes', 'price'], '{ minutes: 4, price: 38 }')
    if (!own) continue
    const minutes = own.number('minutes', usual.minutes)
    repairs[entry.key] = { ...usual, title: own.text('title') ?? usual.title, minutes, price: own.number('price', usual.price) }
  }
  return repairs
}

/** The kind a part names, and its fields; an issue and undefined if there is none. */
export function readPart(draft: Draft, name: string, entry: Entry, scope: Scope): void {
  if (!draft.declare(name, entry, 'part')) return
  draft.unread.add(name)
  const kindName = kindOf(draft, entry)
  const kind = kindName && draft.kind(kindName.text, kindName.at)
  if (!kind) return
  const fields = Fields.of(draft.issues, entry.value, `${kind.name} '${name}'`, keysOf(kind), EXAMPLE)
  if (!fields) return
  addPart(draft, name, kind, fields, scope, { run: false, position: entry.keyAt })
  draft.unread.delete(name)
}

/** Name of the kind a part gives, where the part is a group at all. */
export function kindOf(draft: Draft, entry: Entry): { text: string; at: Position } | undefined {
  const { value, key, keyAt } = entry
  if (value.type !== 'map') {
    const expected = `keys and values, as in "${EXAMPLE}"`
    draft.issues.add('WRONG_SHAPE', `part '${shorten(key, 30)}' must be a group of keys`, value.at, { expected })
    return undefined
  }
  const kind = value.entries.find((one) => one.key === 'kind')
  if (kind?.value.type === 'text' && kind.value.text.trim() !== '') return { text: kind.value.text.trim(), at: kind.value.at }
  draft.issues.add('KIND_MISSING', `part '${shorten(key, 30)}' has no kind`, kind?.value.at ?? keyAt, {
    expected: 'the kind of part, as in "kind: relay"',
    fix: 'add "kind: ..."',
  })
  return undefined
}
