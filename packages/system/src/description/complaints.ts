import type { Complaint, State } from '../model.js'
import { checkName, type Draft, splitName } from './draft.js'
import { Fields, named, section } from './fields.js'
import { type Entry, shapeOf, shorten } from './tree.js'

/** Reads what the owner may say, and the looks it is tied to. */
export function readComplaints(draft: Draft, entry: Entry | undefined, states: ReadonlyMap<string, State>): Complaint[] {
  const complaints = new Map<string, Complaint>()
  const example = 'no_light: { says: "the lamp stays dark", shows: [{ in: on, at: H1.light, is: dark }] }'
  for (const { key, keyAt, value } of section(draft.issues, entry, example)) {
    if (!checkName(draft.issues, key, keyAt, 'complaint')) continue
    const fields = Fields.of(draft.issues, value, `complaint '${key}'`, ['says', 'shows'], example)
    if (complaints.has(key)) {
      draft.issues.add('DUPLICATE_NAME', `the complaint "${key}" is given twice`, keyAt, { fix: 'give one of them another name' })
    }
    if (!fields) continue
    const words = fields.text('says') ?? ''
    if (!fields.get('says')) {
      draft.issues.add('KEY_MISSING', `complaint '${key}' has no "says"`, keyAt, { expected: example, fix: 'add "says: ..."' })
    }
    complaints.set(key, { id: key, words, shows: readShows(draft, fields, states), position: keyAt })
  }
  return [...complaints.values()]
}

function readShows(draft: Draft, complaint: Fields, states: ReadonlyMap<string, State>): Complaint['shows'][number][] {
  const shows = complaint.get('shows')
  const example = 'shows: [{ in: on, at: H1.light, is: dark }]'
  if (!shows || shows.value.type !== 'list') {
    draft.issues.add(
      shows ? 'WRONG_SHAPE' : 'KEY_MISSING',
      `${complaint.what} needs a list "shows"`,
      shows?.value.at ?? complaint.at,
      {
        expected: `what is seen, as in "${example}"`,
        ...(shows ? { received: shapeOf(shows.value) } : {}),
      },
    )
    return []
  }
  return shows.value.items.flatMap((item) => {
    const fields = Fields.of(draft.issues, item, `a look of ${complaint.what}`, ['in', 'at', 'is'], example)
    const look = fields && readShow(draft, fields, states)
    return look ? [look] : []
  })
}

function readShow(draft: Draft, fields: Fields, states: ReadonlyMap<string, State>): Complaint['shows'][number] | undefined {
  const { issues } = draft
  const [state, at, word] = ['in', 'at', 'is'].map((key) => {
    if (!fields.get(key)) issues.add('KEY_MISSING', `${fields.what} has no "${key}"`, fields.at, { fix: `add "${key}: ..."` })
    return fields.text(key)
  })
  const place = (key: string) => (fields.get(key) as Entry).value.at
  if (state !== undefined && !states.has(state)) {
    const expected = states.size ? `one of ${[...states.keys()].slice(0, 12).join(', ')}` : 'a state; this description has none'
    const details = { expected, received: named(state), nearest: issues.nearest(state, states.keys()) }
    issues.add('UNKNOWN_STATE', `no state is called "${shorten(state, 30)}"`, place('in'), details)
  }
  if (at === undefined) return undefined
  const { part, owner, name } = splitName(draft, at, (one) => (one.kind.looks ?? []).map((look) => look.name))
  const looks = part?.kind.looks ?? []
  const look = looks.find((one) => one.name === name)
  if (!look) {
    if (draft.unread.has(owner)) return undefined
    const all = (part ? [part] : [...draft.parts.values()]).flatMap((one) =>
      (one.kind.looks ?? []).map((l) => `${one.name}.${l.name}`),
    )
    const message = part ? `'${owner}' has no look "${shorten(name ?? at, 30)}"` : `no part is called "${shorten(owner, 30)}"`
    const details = { received: named(at), nearest: issues.nearest(at, all), expected: 'a part and its look, as in "H1.light"' }
    issues.add(part ? 'UNKNOWN_LOOK' : 'UNKNOWN_PART', message, place('at'), details)
    return undefined
  }
  if (word !== undefined && !look.words.includes(word)) {
    const details = {
      expected: `one of ${look.words.join(', ')}`,
      received: named(word),
      nearest: issues.nearest(word, look.words),
    }
    issues.add('UNKNOWN_WORD', `'${at}' is never seen as that`, place('is'), details)
    return undefined
  }
  return state === undefined || word === undefined ? undefined : { state, part: owner, look: look.name, word }
}
