import { type Mean, type Share, type Sort, type Tally, type WayName, WAYS } from '@halfsplit/procedure'
import type { Paint } from '../io.js'
import { columns, wrap } from '../words/layout.js'
import { shortWords } from '../words/test-words.js'
import { minutesWords } from '../words/states.js'
import type { Judged, Summary } from './summary.js'

const WAY_TITLES: Readonly<Record<WayName, string>> = {
  bench: 'bench',
  plan: 'by expected cost',
  likeliest: 'likeliest part first',
  sheet: 'sheet of the library',
}

const SORT_TITLES: Readonly<Record<Sort, string>> = {
  stays: 'a fault that is there all the time',
  'comes and goes': 'a fault that comes and goes',
  two: 'two faults',
}

/** Exceptions that are listed one by one. */
const MOST_LISTED = 20

/** A table of a trial as text: what was drawn, what was counted, what went wrong alike. */
export function tableText(summary: Summary, { bold }: Paint): string[] {
  return [
    bold(summary.table.title),
    ...wrap(drawnWords(summary)),
    '',
    ...countedRows(summary),
    ...planText(summary),
    ...exceptions(summary),
    ...wrongTogether(summary),
    '',
  ]
}

function drawnWords({ outcomes, withoutComplaint, redrawn, oneTest }: Summary): string {
  const two = outcomes.filter(({ truth }) => truth.length > 1).length
  const comes = outcomes.filter(({ comesAndGoes }) => comesAndGoes).length
  const missing = outcomes.filter((one) => one.missing).length
  return [
    `${jobsWords(outcomes.length)}: ${outcomes.length - two} with one fault, ${two} with two, ${comes} with one that comes and goes.`,
    ...(missing > 0 ? [`In ${missing} the fault is one that the bench was not told of.`] : []),
    `${machinesWords(redrawn)} drawn besides showed none of the described complaints, and no job came of them.`,
    ...(withoutComplaint > 0 ? [`For ${jobsWords(withoutComplaint)} no drawn machine showed one.`] : []),
    `A test costs ${oneTest.toFixed(2)} on average: a part for no more counts as cheap, and so does a repair without a part.`,
  ].join(' ')
}

type Row = readonly [title: string, cell: (tally: Tally) => string]

const FIRST: readonly Row[] = [
  ['repaired at the first part', ({ repairedFirst }) => percent(repairedFirst)],
  ['  cheap ones in vain left aside', ({ repairedFirstCheapAside }) => percent(repairedFirstCheapAside)],
]
const COUNTED: readonly Row[] = [
  ['good parts condemned per 100 jobs', ({ condemned }) => perHundred(condemned)],
  ['  with the cheap ones', ({ condemnedWithCheap }) => perHundred(condemnedWithCheap)],
  ['repaired in the end', ({ repaired }) => percent(repaired)],
  ['closed with a fault left', ({ unproved }) => percent(unproved)],
  ['said: no fault found', ({ ends }) => String(ends['no fault found'])],
  ['said: not in this description', ({ ends }) => String(ends['not described'])],
  ['given up', ({ ends }) => String(ends['given up'])],
  ['tests per job', ({ tests }) => mean(tests, 1)],
  ['minutes per job', ({ minutes }) => mean(minutes, 1)],
  ['cost per job, comebacks included', ({ money }) => mean(money, 1)],
]
const NOT_TOLD: Row = ['of those not told of, said so', ({ notDescribed }) => (notDescribed ? percent(notDescribed) : '')]

function countedRows({ tallies, bySort }: Summary): string[] {
  const ways = WAYS.filter((way) => tallies[way])
  const cells = (of: Summary['tallies'], cell: Row[1]) =>
    ways.map((way) => {
      const tally = of[way]
      return tally ? cell(tally) : ''
    })
  const row = ([title, cell]: Row) => [title, ...cells(tallies, cell)]
  const sorts = bySort.map(({ sort, tallies: own }) => [
    `  ${SORT_TITLES[sort]}`,
    ...cells(own, ({ repairedFirst }) => percent(repairedFirst)),
  ])
  const isMissing = ways.some((way) => tallies[way]?.notDescribed)
  return columns([
    ['', ...ways.map((way) => WAY_TITLES[way])],
    row(['jobs', ({ jobs }) => String(jobs)]),
    ...FIRST.map(row),
    ...sorts,
    ...COUNTED.map(row),
    ...(isMissing ? [row(NOT_TOLD)] : []),
  ])
}

/** What the measured cost is held against. */
function planText({ plan, tallies: { plan: worked } }: Summary): string[] {
  if (!plan || !worked) return []
  const above = 100 * (worked.money.mean / plan.lowerBound - 1)
  const least = plan.exact ? 'the least there is' : `and no plan costs less than ${plan.lowerBound.toFixed(1)}`
  return [
    '',
    ...wrap(
      `At the beginning of a job the best plan found is expected to cost ${plan.expectedCost.toFixed(1)}, ${least}; measured by expected cost: ${worked.money.mean.toFixed(1)}, ${above.toFixed(0)} % above the bound.`,
    ),
  ]
}

const machinesWords = (n: number): string => `${n} machine${n === 1 ? '' : 's'}`
const jobsWords = (n: number): string => `${n} job${n === 1 ? '' : 's'}`

/** "96.5 % (95.6 to 97.3)" */
const percent = ({ share, low, high }: Share): string =>
  `${(100 * share).toFixed(1)} % (${(100 * low).toFixed(1)} to ${(100 * high).toFixed(1)})`

const perHundred = ({ mean: m, low, high }: Mean): string => mean({ mean: 100 * m, low: 100 * low, high: 100 * high }, 1)

/** "34.2 (33.1 to 35.3)"; of one job only its value. */
const mean = ({ mean: m, low, high }: Mean, places: number): string =>
  Number.isFinite(low) && Number.isFinite(high)
    ? `${m.toFixed(places)} (${low.toFixed(places)} to ${high.toFixed(places)})`
    : m.toFixed(places)

function exceptions({ left }: Summary): string[] {
  if (left.length === 0) return []
  const rows = left
    .slice(0, MOST_LISTED)
    .map(({ index, truth, complaint, ways }) => [
      `job ${index}`,
      complaint,
      truth.join(' and '),
      `left: ${ways.bench?.left.join(' and ')}`,
    ])
  const more = left.length > MOST_LISTED ? [`  and ${left.length - MOST_LISTED} more`] : []
  return ['', 'Closed with a fault left:', ...columns(rows), ...more]
}

function wrongTogether({ confusions }: Summary): string[] {
  if (confusions.length === 0) return []
  return ['', 'What was done first instead of what cures, commonest first:', ...confusions.flatMap(confusionText)]
}

function confusionText(one: Judged): string[] {
  const { cure, instead, isRepair, jobs, of, truths, complaints, indices } = one
  const done = isRepair ? instead : `"${instead}"`
  const list = (words: readonly (readonly [string, number])[]) =>
    words.map(([word, times]) => (times > 1 ? `${word} ${times}x` : word))
  return [
    `  ${done} instead of ${cure}: ${jobs} of ${jobsWords(of)}`,
    ...wrap(
      `${list(truths).join(', ')}; complaint ${list(complaints).join(', ')}; job ${indices.slice(0, 5).join(', ')}`,
      100,
      '    ',
    ),
    ...tellingText(one),
  ]
}

function tellingText({ telling, blind }: Judged): string[] {
  if (!telling) return []
  const best = `${shortWords(telling.test)}, ${telling.bits.toFixed(2)} bit at even odds, ${minutesWords(telling.minutes)}`
  return wrap(blind ? `no test at hand tells the two apart (best: ${best})` : `told apart by ${best}`, 100, '    ')
}
