import { isLowImpedance, NO_REPAIR, sizeOf, type WeighedTest } from '@halfsplit/diagnosis'
import { entropyBits } from '@halfsplit/inference'
import type { Paint } from '../io.js'
import { type Advice, adviceFor, cautionText } from '../words/cautions.js'
import { countingWords } from '../words/counting.js'
import { capital, columns, labelled, listed } from '../words/layout.js'
import { oddsWords, shareWords } from '../words/odds.js'
import { sizeWords } from '../words/size.js'
import { faultTitle, repairedPart, repairTitle } from '../words/suspects.js'
import { minutesWords, stateText } from '../words/states.js'
import { firstWords, leadsWords, shortWords } from '../words/test-words.js'
import { bandWords } from '../words/values.js'
import type { Case } from './case.js'
import { type Expected, expectedBySuspect, expectedHealthy, sidesOf } from './expected.js'

/** Said once, with the first test. */
const RULES = "The maker's manual and local rules come first."
const MOST_SUSPECTS = 6
const MOST_ROWS = 7
/** Suspects under this are not listed. */
const LEAST_SUSPECT = 1 / 80

/** Who is suspected and how strongly, with what is known of each fault's size; then what stands beside the parts. */
export function suspectLines({ standing, bench, jobLog }: Case, { bold }: Paint): string[] {
  const done = repairsDone(standing)
  const listedRepairs = standing.repairs.filter(({ probability }) => probability >= LEAST_SUSPECT).slice(0, MOST_SUSPECTS)
  const rows = listedRepairs.map(({ repair, probability, hypotheses: [likeliest] }) => [
    oddsWords(probability),
    repair,
    `${faultTitle(standing, likeliest.id)}${jobLog.log.length > 0 ? sizeText(standing, likeliest.id) : ''}${done.has(repair) ? '; repair done' : ''}`,
  ])
  const beside: [number, string, string][] = [
    [standing.nothingWrong, 'nothing wrong', 'the machine is sound'],
    [standing.absentNow, 'not there now', 'it comes and goes'],
    [standing.notDescribed, 'not on this drawing', 'something this description does not contain'],
  ]
  const others = beside.filter(([share]) => share >= LEAST_SUSPECT).map(([share, name, about]) => [oddsWords(share), name, about])
  const rest = standing.repairs.length - listedRepairs.length
  const more = rest > 0 ? [`  and ${rest} more, each ${atMost(standing.repairs[listedRepairs.length].probability)}`] : []
  const { system } = bench
  return [bold(`Suspects on ${system.title}`), ...columns([...rows, ...others]), ...more]
}

/** "1 in 60 at most", "under 1 in 100". */
function atMost(probability: number): string {
  const words = oddsWords(probability)
  return words.startsWith('under') ? words : `${words} at most`
}

/** Repairs made in this job. */
const repairsDone = ({ actions }: Case['standing']): Set<string> =>
  new Set(actions.flatMap((action) => (action.kind === 'repaired' ? action.repairs : [])))

function sizeText(standing: Case['standing'], id: string): string {
  const size = sizeOf(standing, id)
  const dimension = standing.hypotheses.find((one) => one.id === id)?.faults[0]?.severity?.dimension
  return size && dimension ? `, ${sizeWords(size, dimension)}` : ''
}

/** The whole card of a test: leads, what comes first, cautions, why, what each suspect would show. */
export function testLines(open: Case, weighed: WeighedTest, { bold }: Paint, proved = false): string[] {
  const { system } = open.bench
  const { test, blind } = weighed
  const first = firstWords(system, open.from, test)
  const fields: [string, string][] = [
    ['Leads', leadsWords(system, test.probe)],
    ...(open.from.setup.state === test.setup.state
      ? [['State', `${stateText(system, test.setup.state)}.`] as [string, string]]
      : []),
    ...first.map((step, i): [string, string] => [i === 0 ? 'First' : '', step]),
    ...countingWords(system, test.setup.state).map((sentence): [string, string] => ['Counts', sentence]),
    ...adviceFields(open, adviceOf(open, test, proved)),
    ...(test.disturbs ? [['Note', 'Moving a contact may cure it for now.'] as [string, string]] : []),
    blind ? ['Cannot tell', blindWhy(open, weighed)] : ['Why', whyWords(open, weighed)],
  ]
  return [
    `${bold('Next')}  ${bold(shortWords(test))}`,
    ...labelled(fields),
    '  Expect',
    ...columns(expectedRows(open, weighed), '    '),
  ]
}

/** What is to be said before a test: before the first entry all that is there, later what is new against where the machine stands. */
export const adviceOf = ({ bench, standing, job, from }: Case, test: WeighedTest['test'], proved = false): Advice =>
  adviceFor(bench, standing, test, job.entries.length === 0 ? undefined : from, proved)

const MOST_CAUTIONS = 4

function adviceFields({ job }: Case, { cautions, fuse, dead }: Advice): [string, string][] {
  const rules = job.entries.length === 0 && cautions.length > 0 ? ` ${RULES}` : ''
  const shown = cautions.slice(0, MOST_CAUTIONS)
  return [
    ...(dead === undefined ? [] : [['Dead?', dead] as [string, string]]),
    ...(fuse === undefined ? [] : [['Fuse', fuse] as [string, string]]),
    ...shown.map((one, i): [string, string] => [one.signal, `${cautionText(one)}${i === shown.length - 1 ? rules : ''}`]),
  ]
}

/** Odds, suspect and what he would show; a healthy machine last, and what no suspect shows. */
export function expectedRows(open: Case, weighed: WeighedTest): string[][] {
  const rows = expectedBySuspect(weighed)
    .filter(({ suspect, probability }) => suspect !== NO_REPAIR && probability >= LEAST_SUSPECT / 2)
    .slice(0, MOST_ROWS)
    .map((one) => [oddsWords(believed(open, one)), one.suspect, expectedWords(weighed, one)])
  return [
    ...rows,
    [oddsWords(open.standing.nothingWrong), 'healthy machine', expectedWords(weighed, expectedHealthy(open, weighed))],
    [oddsWords(open.standing.notDescribed), 'not on this drawing', 'anything'],
  ]
}

/** Belief in a suspect as the list above has it: a test is weighed by the heaviest hypotheses alone. */
const believed = ({ standing }: Case, { suspect, probability }: Expected): number =>
  standing.repairs.find(({ repair }) => repair === suspect)?.probability ?? probability

/** Words under this chance are not said of a suspect. */
const LEAST_WORD = 0.1

function expectedWords({ test: { probe } }: WeighedTest, { bands, words }: Expected): string {
  if (probe.kind === 'look')
    return words
      .filter(({ chance }) => chance >= LEAST_WORD)
      .map(({ word, chance }) => (chance > 0.9 ? word : `${word} (${oddsWords(chance)})`))
      .join(', ')
  return bands.map((band) => bandWords(probe.meter, band)).join(', or ') || 'no telling'
}

/** Why this test: whom it tells from whom, how much of what is open it settles, and its minutes. */
function whyWords(open: Case, weighed: WeighedTest): string {
  const { reason, best } = open.proposal()
  if (weighed === best && reason === 'see the complaint') return `See the complaint first; ${minutesWords(weighed.cost)}.`
  const sides = sidesOf(expectedBySuspect(weighed)).map(
    (side) => listed(side.slice(0, 3).map(nameOf)) + (side.length > 3 ? ' and others' : ''),
  )
  const split = sides.length > 1 ? `Splits ${sides.slice(0, 3).join(' from ')}. ` : ''
  return `${split}${settles(weighed)}, in ${minutesWords(weighed.cost)}.`
}

const nameOf = ({ suspect }: Expected): string => (suspect === NO_REPAIR ? 'a healthy machine' : suspect)

/** Expected information as a share of what is open. */
function settles({ information, classes }: WeighedTest): string {
  const openBits = entropyBits(classes.map(({ probability }) => probability))
  return capital(`settles ${openBits > 0 ? shareWords(information / openBits) : 'next to nothing'} of what is open`)
}

/** Why a test says nothing here. */
export function blindWhy(open: Case, weighed: WeighedTest): string {
  const { probe, setup } = weighed.test
  const all = expectedBySuspect(weighed)
  const floating = weighed.classes.some(
    ({ predictive }) => predictive.uniforms.reduce((sum, { weight }) => sum + weight, 0) > 0.2,
  )
  const reasons = [`Every suspect still believed shows much the same: ${all[0] ? expectedWords(weighed, all[0]) : 'anything'}.`]
  if (floating) reasons.push('Nothing but insulation holds this point; load it before you believe it.')
  else if (probe.kind === 'volts' && setup.intervention?.do === 'unplug')
    reasons.push(`No current flows here, so a bad joint loses nothing${isLowImpedance(probe.meter) ? '' : ' on this meter'}.`)
  const { best } = open.proposal()
  if (best && best.id !== weighed.id && !best.blind) reasons.push(`Do this instead: ${shortWords(best.test)}.`)
  return reasons.join(' ')
}

/** Two other things to do, numbered as `other 1`, `other 2`. */
export function alternativeLines(alternatives: readonly WeighedTest[]): string[] {
  if (alternatives.length === 0) return []
  return [
    '  Or',
    ...columns(
      alternatives.map((one, i) => [`${i + 1}`, `${shortWords(one.test)}; ${minutesWords(one.cost)}`]),
      '    ',
    ),
  ]
}

/** The decision, and what it would take to change it. */
export function verdictLines({ standing, verdict, bench }: Case, { bold }: Paint): string[] {
  const { system } = bench
  if (verdict.kind === 'repair' && verdict.repair !== null) {
    const [likeliest] = standing.repairs[0].hypotheses
    const part = system.parts.get(repairedPart(verdict.repair))
    if (repairsDone(standing).has(verdict.repair))
      return [
        `${bold(`Repaired: ${verdict.repair}`)}`,
        `  ${oddsWords(verdict.probability)} that this was it: ${faultTitle(standing, likeliest.id)}.`,
      ]
    const repair = part?.repairs[verdict.repair.slice(0, verdict.repair.indexOf(' '))]
    return [
      `${bold(`Repair: ${verdict.repair}`)} (${repairTitle(system, verdict.repair)}${repair ? `; ${minutesWords(repair.minutes)}` : ''})`,
      `  ${oddsWords(verdict.probability)} that this is it: ${faultTitle(standing, likeliest.id)}${sizeText(standing, likeliest.id)}.`,
      '  When it is done, type "repair done", then prove it. Taking another test is always possible.',
    ]
  }
  if (standing.nothingWrong + standing.absentNow >= 0.9)
    return [
      bold('Nothing left to find here'),
      `  ${oddsWords(standing.nothingWrong)} that the machine is sound, ${oddsWords(standing.absentNow)} that it comes and goes.`,
    ]
  const leading = verdict.repair === null ? '' : `; ${verdict.repair} leads with ${oddsWords(verdict.probability)}`
  return [`${bold('Test on')}${leading}.`]
}
