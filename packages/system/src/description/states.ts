import type { Setting } from '@halfsplit/kinds'
import type { Imposed, State } from '../model.js'
import { Fields, named, quantityOf, section, textOf } from './fields.js'
import type { IssueList } from './issues.js'
import { checkName, type Draft, splitName } from './draft.js'
import { type Entry, shorten, type Tree } from './tree.js'

const STATE_KEYS = ['about', 'from', 'set', 'minutes', 'hazards', 'dead'] as const

/** Reads the states; one that comes from itself, or from a state that is not there, is a mistake. */
export function readStates(draft: Draft, entry: Entry | undefined): Map<string, State> {
  const { issues } = draft
  const states = new Map<string, State>()
  const fromAt = new Map<string, Entry>()
  const example = 'key_on: { from: parked, set: { S1: on } }'
  const entries = section(issues, entry, example)
  for (const { key, keyAt, value } of entries) {
    if (!checkName(issues, key, keyAt, 'state')) continue
    if (states.has(key)) {
      issues.add('DUPLICATE_NAME', `the state "${key}" is given twice`, keyAt, { fix: 'give one of them another name' })
      continue
    }
    const fields = Fields.of(issues, value, `state '${key}'`, STATE_KEYS, example)
    const from = fields?.get('from')
    if (from) fromAt.set(key, from)
    states.set(key, {
      name: key,
      about: fields?.text('about') ?? '',
      from: fields?.text('from'),
      impose: fields ? readSet(draft, fields) : [],
      minutes: fields?.number('minutes', 0) ?? 0,
      hazards: fields?.texts('hazards') ?? [],
      dead: fields?.yes('dead') ?? false,
      position: keyAt,
    })
  }
  for (const [name, from] of fromAt) checkOrigin(issues, states, name, from)
  return states
}

function checkOrigin(issues: IssueList, states: Map<string, State>, name: string, { value }: Entry): void {
  const from = states.get(name)?.from
  if (from === undefined) return
  if (!states.has(from)) {
    const expected = `one of ${[...states.keys()].slice(0, 12).join(', ')}`
    const details = { expected, received: named(from), nearest: issues.nearest(from, states.keys()) }
    issues.add('UNKNOWN_STATE', `no state is called "${shorten(from, 30)}"`, value.at, details)
    return
  }
  const chain = [name]
  for (let next: string | undefined = from; next !== undefined; next = states.get(next)?.from) {
    if (next === name) {
      const received = [...chain, name].join(' from ')
      issues.add('CYCLIC_STATES', `state '${name}' comes from itself`, value.at, {
        received,
        fix: 'let one of them come from none',
      })
      return
    }
    if (chain.includes(next)) return
    chain.push(next)
  }
}

function readSet(draft: Draft, state: Fields): Imposed[] {
  const example = 'set: { S1: on, COOL.temperature: 95 degC +- 2 K }'
  const imposed: Imposed[] = []
  const entries = section(draft.issues, state.get('set'), example)
  entries.forEach((entry, i) => {
    const first = entries.findIndex((other) => other.key === entry.key)
    if (first < i) {
      const related = [{ position: entries[first].keyAt, message: 'first given here' }]
      draft.issues.add('DUPLICATE_KEY', `"${shorten(entry.key, 30)}" is set twice in ${state.what}`, entry.keyAt, { related })
    }
    const one = readImposed(draft, entry)
    if (one) imposed.push(one)
  })
  return imposed
}

/** `S1: on` where the part has one setting only, else `COOL.temperature: 95 degC +- 2 K`. */
function readImposed(draft: Draft, entry: Entry): Imposed | undefined {
  const found = settingNamed(draft, entry)
  return found && imposedValue(draft.issues, found, entry.value)
}

/** A setting of a part of the description. */
export interface NamedSetting {
  part: string
  name: string
  setting: Setting
}

/** The setting a key names: `PART.setting`, or `PART` alone where it has one only; undefined (and an issue) if there is none. */
export function settingNamed(draft: Draft, { key, keyAt }: Entry): NamedSetting | undefined {
  const { issues } = draft
  const found = splitName(draft, key, (part) => Object.keys(part.kind.settings ?? {}))
  if (!found.part) {
    if (!draft.unread.has(key) && !draft.unread.has(found.owner)) {
      const settable = [...draft.parts.values()].filter((part) => part.kind.settings).map((part) => part.name)
      const expected = 'a part that can be set, as in "S1: on" or "COOL.temperature: 95 degC"'
      const details = { expected, received: named(key), nearest: issues.nearest(found.owner, settable) }
      issues.add('UNKNOWN_PART', `no part is called "${shorten(found.owner, 30)}"`, keyAt, details)
    }
    return undefined
  }
  const { part, name } = found
  const settings: Readonly<Record<string, Setting>> = part.kind.settings ?? {}
  if (name === undefined || !Object.hasOwn(settings, name)) {
    const names = Object.keys(settings).map((one) => `${part.name}.${one}`)
    issues.add('UNKNOWN_SETTING', `'${part.name}' has no setting "${shorten(name ?? key, 30)}"`, keyAt, {
      expected: names.length ? `one of ${names.join(', ')}` : `a part that can be set; a ${part.kind.name} cannot`,
      received: named(key),
      nearest: issues.nearest(key, names),
    })
    return undefined
  }
  return { part: part.name, name, setting: settings[name] }
}

/** A value for a setting: a quantity of its dimension, or one of its words; undefined (and an issue) for anything else. */
export function imposedValue(issues: IssueList, { part, name, setting }: NamedSetting, value: Tree): Imposed | undefined {
  const what = `setting "${name}" of '${part}'`
  if ('dimension' in setting) {
    const quantity = quantityOf(issues, value, what, setting.dimension)
    return quantity && { part, setting: name, value: quantity.value, sd: quantity.sd }
  }
  const word = textOf(issues, value, what)
  if (word === undefined) return undefined
  if (setting.words.includes(word)) return { part, setting: name, value: word, sd: 0 }
  issues.add('UNKNOWN_WORD', `${what} cannot be that`, value.at, {
    expected: `one of ${setting.words.join(', ')}`,
    received: named(word),
    nearest: issues.nearest(word, setting.words),
  })
  return undefined
}
