import { type Dimension, parseQuantity, rangeFor } from '@halfsplit/core'
import { jobSetup, probeKey, type Test } from '@halfsplit/diagnosis'
import { spoken } from '../words/names.js'
import { ACTIONS, type Action, type Entry, type Found, type Look, type Reading } from '@halfsplit/job'

/** What a typed line asks for. */
export type Answer =
  | { do: 'enter'; entry: Reading | Look }
  | { do: 'act'; entry: Action | Found }
  | { do: 'could-not'; why?: string }
  | { do: 'repair'; repair?: string }
  | { do: 'other' | 'save' | 'why'; argument?: string }
  | { do: 'skip' | 'undo' | 'quit' | 'help' | 'nothing' }
  | { do: 'unclear'; say: string }

/** Units a bare number has at a test, as the meter has them. */
const UNITS: Partial<Record<Dimension, string>> = {
  voltage: 'V',
  resistance: 'Ohm',
  current: 'A',
  absolutePressure: 'bar',
  temperature: 'degC',
}

/** The unit a bare number is taken in at a test; undefined for a look. */
export const unitOf = ({ probe }: Test): string | undefined => (probe.kind === 'look' ? undefined : UNITS[probe.meter.quantity])

const WORDS: Readonly<Record<string, Answer['do']>> = {
  skip: 'skip',
  undo: 'undo',
  quit: 'quit',
  q: 'quit',
  exit: 'quit',
  help: 'help',
  '?': 'help',
}

/** Words of the bay for what is done to the machine, with the action they are kept as. */
const DEEDS: readonly (readonly [RegExp, Action['do']])[] = [
  [/^unplugged\s+(\S+)$/i, 'unplug'],
  [/^plugged in\s+(\S+)$/i, 'plug-in'],
  [/^re-?seated\s+(\S+)$/i, 're-seat'],
  [/^tapped\s+(\S+)$/i, 'tap'],
  [/^wiggled\s+(\S+)$/i, 'wiggle'],
  [/^warmed\s+(\S+)$/i, 'warm'],
  [/^cooled\s+(\S+)$/i, 'cool'],
  [/^wetted\s+(\S+)$/i, 'wet'],
  [/^cleaned\s+(\S+)$/i, 'clean'],
  [/^adjusted\s+(\S+)$/i, 'adjust'],
]

/** Reads one line typed at a test; `test` is undefined where no test is proposed. */
export function readAnswer(line: string, test: Test | undefined): Answer {
  const text = line.trim().replace(/\s+/g, ' ')
  const lower = text.toLowerCase()
  if (text === '') return { do: 'nothing' }
  const plain = WORDS[lower]
  if (plain === 'skip' || plain === 'undo' || plain === 'quit' || plain === 'help') return { do: plain }
  const [, command, argument] = /^(other|save|why)(?: (.+))?$/i.exec(text) ?? []
  if (command) return { do: command.toLowerCase() as 'other' | 'save' | 'why', argument }
  const [, defect] = /^found (.+)$/i.exec(text) ?? []
  if (defect) return { do: 'act', entry: foundEntry(defect) }
  if (/^could not\b/i.test(text)) return { do: 'could-not', why: text.slice(9).replace(/^[:,]? */, '') || undefined }
  const repair = /^(?:repair done|repaired)(?: (.+))?$/i.exec(text)
  if (repair) return { do: 'repair', repair: repair[1] }
  for (const [form, what] of DEEDS) {
    const found = form.exec(text)
    if (found && ACTIONS.includes(what)) return { do: 'act', entry: { kind: 'action', do: what, target: found[1] } }
  }
  if (!test) return { do: 'unclear', say: `No test is proposed that "${text}" could answer. Type "other" to choose one.` }
  return test.probe.kind === 'look' ? readWord(text, test) : readNumber(text, test)
}

/** "found W4: insulation chafed" or "found mirror cracked": a defect that does not explain the complaint. */
function foundEntry(text: string): Found {
  const [, part, what] = /^(\S+): (.+)$/.exec(text) ?? []
  return part ? { kind: 'found', part, text: what } : { kind: 'found', text }
}

function readWord(text: string, { setup, probe }: Test): Answer {
  if (probe.kind !== 'look') return { do: 'nothing' }
  const { words } = probe.look
  const fitting = words.filter((word) => word.toLowerCase().startsWith(text.toLowerCase()))
  const word =
    words[Number(text) - 1] ??
    words.find((one) => one.toLowerCase() === text.toLowerCase()) ??
    (fitting.length === 1 ? fitting[0] : undefined)
  if (word === undefined)
    return {
      do: 'unclear',
      say: `This look reads ${words.map((one, i) => `${i + 1} ${one}`).join(', ')}. "${text}" is none of them.`,
    }
  const observable = `${probe.part.name}.${probe.look.name}`
  return { do: 'enter', entry: { kind: 'look', setup: jobSetup(setup), observable, word } }
}

const NUMBER = /^([-+\u2212]?\d*[.,]?\d+)(?: ?([^\d\s.].*))?$/
const BETWEEN = /^([-+\u2212]?\d*[.,]?\d+) ?(?:\.\.|to) ?([-+\u2212]?\d*[.,]?\d+)(?: ?([^\d\s.].*))?$/

function readNumber(text: string, { setup, probe }: Test): Answer {
  if (probe.kind === 'look') return { do: 'nothing' }
  const { meter } = probe
  const home = UNITS[meter.quantity] as string
  const reading = (shown: Reading['shown']): Answer => ({
    do: 'enter',
    entry: { kind: 'reading', setup: jobSetup(setup), probe: probeKey(probe), shown, meter: meter.name },
  })
  if (/^(ol|o\.l|over|over-range|overrange)$/i.test(text)) return reading({ kind: 'over-range', unit: home })
  if (/^unsteady$/i.test(text)) return reading({ kind: 'unsteady', unit: home })
  const between = BETWEEN.exec(text)
  const single = NUMBER.exec(text)
  const unit = (between?.[3] ?? single?.[2] ?? home).trim()
  const numbers = between ? [between[1], between[2]] : single ? [single[1]] : []
  if (numbers.length === 0) return { do: 'unclear', say: `"${text}" is no reading here. Type a number in ${home}, or help.` }
  const values = numbers.map((one) => parseQuantity(`${decimal(one)} ${unit}`, meter.quantity))
  for (const value of values)
    if (!value.ok) return { do: 'unclear', say: `${value.message}: expected ${value.expected}; received ${value.received}.` }
  if (between) {
    const [low, high] = numbers.map((one) => Number(decimal(one))).sort((a, b) => a - b)
    return reading({ kind: 'interval', low, high, unit })
  }
  const [value] = values
  if (value.ok && !rangeFor(meter, value.value.value))
    return { do: 'unclear', say: `${text} is over the last range of the ${meter.name}. If it shows OL, type ol.` }
  const written = decimal(numbers[0])
  return reading({ kind: 'value', value: Number(written), unit, decimals: (written.split('.')[1] ?? '').length })
}

const decimal = (text: string): string => text.replace(',', '.').replace('\u2212', '-').replace(/^\+/, '')

/** An entry in a few words, for undo and lists: "21.3 V", "dim", "replace K7". */
export function entryWords(entry: Entry): string {
  switch (entry.kind) {
    case 'reading':
      return shownWords(entry.shown)
    case 'look':
      return `${spoken(entry.observable).replace('.', ' ')} ${entry.word}`
    case 'could-not':
      return 'could not'
    case 'action':
      return `${entry.do} ${entry.target}`
    case 'repair':
      return `${entry.repair} ${entry.parts.join(', ')}`
    case 'found':
      return `found${entry.part === undefined ? '' : ` at ${entry.part}`}: ${entry.text}`
    case 'undo':
      return `undo of entry ${entry.entry}`
  }
}

function shownWords(shown: Reading['shown']): string {
  if (shown.kind === 'over-range') return 'OL'
  if (shown.kind === 'unsteady') return 'unsteady'
  if (shown.kind === 'interval') return `${shown.low} to ${shown.high} ${shown.unit}`
  return `${shown.decimals === undefined ? shown.value : shown.value.toFixed(shown.decimals)} ${shown.unit}`
}
