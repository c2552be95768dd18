import { formatValue } from '@halfsplit/core'
import type { Drive, DriveStep, Scenario, State, Watched } from '../model.js'
import { watchedNamed } from './watched-named.js'
import { readChecks } from './checks.js'
import { checkName, type Draft } from './draft.js'
import { Fields, named, quantityOf, section, textOf } from './fields.js'
import { imposedValue, type NamedSetting, settingNamed } from './states.js'
import { type Entry, shapeOf, shorten, type Tree } from './tree.js'

const KEYS = ['about', 'from', 'for', 'drive', 'watch', 'checks'] as const
const EXAMPLE = 'climb: { from: idle, for: 60 min, drive: { COOL.temperature: { 0 min: 80 degC, 5 min: to 95 degC } } }'

/** Reads the scenarios: a state to start from, how long, the settings over time, and what is watched. */
export function readScenarios(draft: Draft, entry: Entry | undefined, states: ReadonlyMap<string, State>): Map<string, Scenario> {
  const scenarios = new Map<string, Scenario>()
  for (const { key, keyAt, value } of section(draft.issues, entry, EXAMPLE)) {
    if (!checkName(draft.issues, key, keyAt, 'scenario')) continue
    if (scenarios.has(key)) {
      draft.issues.add('DUPLICATE_NAME', `the scenario "${key}" is given twice`, keyAt, { fix: 'give one of them another name' })
      continue
    }
    const fields = Fields.of(draft.issues, value, `scenario '${key}'`, KEYS, EXAMPLE)
    if (!fields) continue
    const duration = readDuration(draft, fields)
    scenarios.set(key, {
      name: key,
      about: fields.text('about') ?? '',
      from: readFrom(draft, fields, states),
      duration,
      drive: readDrives(draft, fields, duration),
      watch: readWatch(draft, fields.get('watch')),
      checks: readChecks(draft, fields.get('checks')),
      position: keyAt,
    })
  }
  return scenarios
}

/** [s]; endless where it could not be read, so that no step lies beyond it. */
function readDuration({ issues }: Draft, fields: Fields): number {
  const entry = fields.get('for')
  const fix = 'add "for: 60 min"'
  if (!entry) issues.add('KEY_MISSING', `${fields.what} does not say how long`, fields.at, { expected: 'a time "for"', fix })
  const quantity = fields.quantity('for', 'time')
  if (quantity?.value !== 0) return quantity?.value ?? Number.POSITIVE_INFINITY
  const expected = 'a time above zero, as in "60 min"'
  issues.add('VALUE_IMPOSSIBLE', `${fields.what} takes no time`, (entry as Entry).value.at, { expected, received: quantity.text })
  return Number.POSITIVE_INFINITY
}

function readFrom({ issues }: Draft, fields: Fields, states: ReadonlyMap<string, State>): string {
  const entry = fields.get('from')
  if (!entry) {
    const fix = `add "from: ${states.keys().next().value ?? 'parked'}"`
    issues.add('KEY_MISSING', `${fields.what} starts from no state`, fields.at, { expected: 'a state "from"', fix })
    return ''
  }
  const from = fields.text('from')
  if (from !== undefined && !states.has(from)) {
    const expected = states.size ? `one of ${[...states.keys()].slice(0, 12).join(', ')}` : 'a state; this description has none'
    const details = { expected, received: named(from), nearest: issues.nearest(from, states.keys()) }
    issues.add('UNKNOWN_STATE', `no state is called "${shorten(from, 30)}"`, entry.value.at, details)
  }
  return from ?? ''
}

function readDrives(draft: Draft, fields: Fields, end: number): Drive[] {
  const drives = new Map<string, Drive>()
  const keys = new Map<string, Entry>()
  for (const entry of section(draft.issues, fields.get('drive'), EXAMPLE)) {
    const drive = readDrive(draft, entry, end)
    if (!drive) continue
    const name = `${drive.part}.${drive.setting}`
    const first = keys.get(name)
    if (first) {
      const related = [{ position: first.keyAt, message: 'first given here' }]
      draft.issues.add('DUPLICATE_KEY', `"${name}" is driven twice in ${fields.what}`, entry.keyAt, {
        related,
        fix: 'keep one of the two',
      })
    } else {
      keys.set(name, entry)
      drives.set(name, drive)
    }
  }
  return [...drives.values()]
}

/** `S8: on`: all the time; else steps by time. */
function readDrive(draft: Draft, entry: Entry, end: number): Drive | undefined {
  const found = settingNamed(draft, entry)
  if (!found) return undefined
  const { part, name: setting } = found
  if (entry.value.type === 'text') {
    const value = readValue(draft, found, entry.value, 0)
    return value && { part, setting, steps: [value] }
  }
  const example = `${entry.key}: { 0 min: ${'words' in found.setting ? found.setting.words[0] : found.setting.default}, 5 min: ... }`
  const steps: DriveStep[] = []
  for (const one of section(draft.issues, entry, example)) {
    const time = readTime(draft, one, end)
    if (time === undefined) continue
    const before = steps.at(-1)
    const step = readValue(draft, found, one.value, time)
    if (before && time <= before.time) notRising(draft, one, before)
    else if (step) steps.push(step)
  }
  return { part, setting, steps }
}

function readTime({ issues }: Draft, { key, keyAt }: Entry, end: number): number | undefined {
  const quantity = quantityOf(issues, { type: 'text', text: key, at: keyAt }, 'a time of the scenario', 'time')
  if (quantity && quantity.value >= end) {
    const expected = 'a time before the end of the scenario'
    issues.warn('TIME_BEYOND_END', 'this step comes after the end', keyAt, { expected, received: quantity.text })
  }
  return quantity?.value
}

function notRising({ issues }: Draft, { key, keyAt }: Entry, before: DriveStep): void {
  const expected = `a time after ${formatValue(before.time, 'time')}, that of the step before`
  const fix = 'put the steps in the order in which they happen'
  issues.add('TIMES_NOT_RISING', 'this time is not after the one before', keyAt, { expected, received: named(key), fix })
}

/** `70 kW`, or `to 70 kW`: evenly until then. */
function readValue({ issues }: Draft, found: NamedSetting, tree: Tree, time: number): DriveStep | undefined {
  const target = tree.type === 'text' ? /^\s*to\s+(.*)$/.exec(tree.text)?.[1] : undefined
  if (target !== undefined && 'words' in found.setting) {
    const fix = `write "${target}" alone`
    issues.add('EVEN_CHANGE_OF_WORD', `setting "${found.name}" of '${found.part}' is a word`, tree.at, {
      expected: 'a word at the time at which it changes',
      received: named(`to ${target}`),
      fix,
    })
    return undefined
  }
  if (target !== undefined && time === 0) {
    const expected = 'a later time until which it changes'
    issues.add('EVEN_CHANGE_AT_START', 'there is no time before the start to change in', tree.at, {
      expected,
      fix: `write "${target}"`,
    })
    return undefined
  }
  const value = imposedValue(issues, found, target === undefined ? tree : { type: 'text', text: target, at: tree.at })
  if (!value) return undefined
  if (value.sd > 0) {
    const fix = 'write the value alone'
    issues.warn('DRIVEN_SPREAD', 'a run takes the middle of this value', tree.at, { expected: 'a value without tolerance', fix })
  }
  return { time, value: value.value, even: target !== undefined }
}

function readWatch(draft: Draft, entry: Entry | undefined): Watched[] {
  const { issues } = draft
  if (!entry) return []
  if (entry.value.type !== 'list') {
    const expected = 'a list, as in "watch: [BAT.plus, H1.light]"'
    issues.add('WRONG_SHAPE', '"watch" must be a list', entry.value.at, { expected, received: shapeOf(entry.value) })
    return []
  }
  return entry.value.items.flatMap((item) => {
    const text = textOf(issues, item, 'what is watched')
    if (text === undefined) return []
    const watched = watchedNamed(draft, text, item.at)
    return watched ? [watched] : []
  })
}
