import { bitsOf, type Clearing, type SuspectCase, type Speech, suspectCases } from '@halfsplit/diagnosis'
import { ASSUMPTIONS, nearestNames } from '@halfsplit/core'
import { capital, labelled, listed } from '../words/layout.js'
import { oddsWords } from '../words/odds.js'
import { strengthWords } from '../words/strength.js'
import { repairTitle } from '../words/suspects.js'
import type { Case } from './case.js'
import { entryAt, recordWords } from './record-words.js'

/** Suspects whose clearing is told without being asked for: those the complaint alone left this likely. */
const WORTH_TELLING = 0.05
const MOST_TOLD = 6

/** The whole case for and against one suspect, named by its part or its repair. */
export function whySuspectLines(open: Case, name: string): string[] {
  const found = suspectsCalled(open, name)
  if (found.length === 0) {
    const near = nearestNames(name, [...open.bench.system.parts.keys()])
    return [`No suspect is called "${name}".${near.length > 0 ? ` Nearest: ${near.join(', ')}.` : ''}`]
  }
  return suspectCases(open.standing, found, open.subsets()).flatMap((one) => caseLines(open, one))
}

const MOST_ASKED = 3

/** Repairs of that name, or of that part, likeliest first. */
function suspectsCalled({ standing }: Case, name: string): string[] {
  const low = name.toLowerCase()
  const repairs = standing.repairs.map(({ repair }) => repair)
  const exact = repairs.filter((repair) => repair.toLowerCase() === low)
  if (exact.length > 0) return exact
  return repairs.filter((repair) => repair.toLowerCase().endsWith(` ${low}`)).slice(0, MOST_ASKED)
}

function caseLines(open: Case, one: SuspectCase): string[] {
  const { repair, probability, clearing } = one
  const title = repairTitle(open.bench.system, repair)
  return [
    `${capital(repair)} (${title}): ${oddsWords(probability)}; from the complaint alone ${oddsWords(clearing.before)}.`,
    ...labelled([
      ...speeches(open, 'For', one.for),
      ...speeches(open, 'Against', one.against),
      ['Cleared', clearedWords(open, one)],
    ]),
  ]
}

const speeches = (open: Case, label: string, said: readonly Speech[]): [string, string][] =>
  said.length === 0
    ? [[label, 'no reading.']]
    : said.map((one, i) => [
        i === 0 ? label : '',
        `${one.place ? recordWords(open, one.place) : 'What the owner says'}; ${strengthWords(one.bits / bitsOf(1))}, ${bitsWords(one.bits)}.${one.decisive ? ' The verdict hangs on it.' : ''}`,
      ])

/** Bits without false digits: "3 bits", "half a bit". */
export function bitsWords(bits: number): string {
  const size = Math.abs(bits)
  if (size < 0.75) return 'half a bit'
  const whole = Math.round(size)
  return whole > 40 ? 'over 40 bits' : `${whole} bit${whole === 1 ? '' : 's'}`
}

const THRESHOLD = oddsWords(ASSUMPTIONS.clearedBelow)

function clearedWords(open: Case, { probability, clearing }: SuspectCase): string {
  const { records, complete, after } = clearing
  const stands = probability > ASSUMPTIONS.clearedBelow
  if (stands && records && records.length > 0)
    return `not, though ${readingsWords(open, clearing)} alone would bring it to ${oddsWords(after)}.`
  if (records?.length === 0) return `the complaint alone leaves it at ${THRESHOLD} or less.`
  if (records)
    return `${readingsWords(open, clearing)} alone ${records.length > 1 ? 'bring' : 'brings'} it to ${oddsWords(after)}.`
  if (!complete) return 'the search for the fewest readings that do it was cut short.'
  return stands
    ? `not; no three readings bring it to ${THRESHOLD}.`
    : `all readings together do it; no three alone bring it to ${THRESHOLD}.`
}

const readingsWords = (open: Case, { records = [] }: Clearing): string =>
  `${records.length > 1 ? 'readings' : 'reading'} ${listed(records.map((place) => String(entryAt(open, place) ?? '?')))}`

/** The suspects that the complaint left likely and the readings cleared, each with the fewest readings that do it alone. */
export function clearedLines(open: Case): string[] {
  const told = clearedSuspects(open).slice(0, MOST_TOLD)
  if (told.length === 0) return []
  return ['Cleared', ...labelled(told.map((one): [string, string] => [one.repair, `${clearedWords(open, one)}`]))]
}

/** Cases of the suspects that were likely after the complaint and are cleared now, those likeliest then first. */
export function clearedSuspects(open: Case): SuspectCase[] {
  const { standing } = open
  if (standing.groups.length === 0) return []
  const cleared = standing.repairs
    .filter(({ probability }) => probability <= ASSUMPTIONS.clearedBelow)
    .map(({ repair }) => repair)
  const before = open.subsets().repairsAfter([])
  const worth = cleared
    .filter((repair) => (before.get(repair) ?? 0) >= WORTH_TELLING)
    .sort((p, q) => (before.get(q) ?? 0) - (before.get(p) ?? 0))
  return worth.length > 0 ? suspectCases(standing, worth.slice(0, MOST_TOLD), open.subsets()) : []
}
