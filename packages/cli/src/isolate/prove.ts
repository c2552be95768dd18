import { type Good, type Proof, type ProofStep, type Refit, type Risk, type TestProbe } from '@halfsplit/diagnosis'
import { partWords } from '../words/names.js'
import { capital, labelled, listed } from '../words/layout.js'
import { oddsWords, shareWords } from '../words/odds.js'
import { minutesWords } from '../words/states.js'
import { shortWords } from '../words/test-words.js'
import { bandWords } from '../words/values.js'
import type { Paint } from '../io.js'
import type { Case } from './case.js'

const MOST_RISKS = 3
/** A step that would show a risk less often than this does not expose it. */
const LEAST_CHANCE = 0.5

/** The proof plan of a repair that was made: what to do, what is good, what it would show; then what has to go back. */
export function proofLines(open: Case, { bold }: Paint): string[] {
  const proof = open.proof()
  if (!proof) return []
  const bad = proof.steps.filter(({ spoiled }) => spoiled)
  if (bad.length > 0)
    return [
      bold('Not proved'),
      ...bad.map(({ test }) => `  ${capital(shortWords(test))} was not good: the fault is still there, or another is.`),
    ]
  return [
    bold('Prove it'),
    ...labelled(proof.steps.map((step, i): [string, string] => [`${i + 1}`, stepWords(proof, step)])),
    `  ${coverageWords(proof)}`,
    ...refitLines(open, { bold }),
  ]
}

function stepWords(proof: Proof, step: ProofStep): string {
  const { test, good, looks, done, why } = step
  const times = looks > 1 ? `, ${looks} times, each on an occasion of its own` : ''
  const because = { complaint: 'the complaint again', decided: 'what decided, again', 'could still be wrong': '' }[why]
  const shows = exposedWords(proof, step)
  const reasons = [because, shows && `would show ${shows}`].filter((words) => words !== '')
  return `${capital(shortWords(test))}${times}: good is ${goodWords(test.probe, good)}. ${capital(reasons.join('; '))}.${doneWords(done, looks)}`
}

const doneWords = (done: number, looks: number): string =>
  done >= looks ? ' Done, good.' : done > 0 ? ` ${done} good so far, ${looks - done} to go.` : ''

/** What a sound machine shows: the word, or the band. */
export function goodWords(probe: TestProbe, good: Good): string {
  if ('word' in good) return probe.kind === 'look' ? probe.look.words[good.word] : ''
  if (probe.kind === 'look') return ''
  return bandWords(probe.meter, { ...good, middle: (good.low + good.high) / 2 })
}

function exposedWords({ risks }: Proof, { exposes }: ProofStep): string {
  const named = exposes.filter(({ chance }) => chance >= LEAST_CHANCE).map(({ risk }) => riskWords(risks[risk]))
  const once = [...new Set(named)]
  return listed(once.slice(0, MOST_RISKS)) + (once.length > MOST_RISKS ? ` and ${once.length - MOST_RISKS} more` : '')
}

/** What could still be wrong: "a bad new part: X1.1 high resistance". */
export function riskWords({ kind, faults }: Risk): string {
  const what = listed(faults.map(({ fault }) => `${partWords(fault.part)} ${fault.mode.title}`))
  return kind === 'cause still there' ? what : `${KINDS[kind]}: ${what}`
}

const KINDS: Readonly<Record<Exclude<Risk['kind'], 'cause still there'>, string>> = {
  'new part bad': 'the repair did not take',
  'second fault': 'a second fault',
  'cured for now': 'cured only for now',
  'build error': 'an error of building',
  'neighbour disturbed': 'a contact moved on the way',
}

function coverageWords({ risk, exposed, left, minutes }: Proof): string {
  return `Something may still be wrong: ${oddsWords(risk)}. The plan shows ${shareWords(exposed)} of it, in ${minutesWords(minutes)}; all good leaves ${oddsWords(left)}.`
}

/** What was undone and has to go back, in that order. */
export function refitLines(open: Case, { bold }: Pick<Paint, 'bold'>): string[] {
  const list = open.refit()
  if (list.length === 0) return []
  return [bold('Put back, in this order'), ...labelled(list.map((one, i): [string, string] => [`${i + 1}`, refitWords(one)]))]
}

/** "X1 plugged in and latched (entry 3)". */
export function refitWords({ kind, target, cover, entry, putBack }: Refit): string {
  const [from, to] = target.split(' ')
  const what = {
    plug: `${target} plugged in and latched`,
    jumper: `jumper off ${to === undefined ? target : `${from} and ${to}`}`,
    'old part': `${target}: the part that belongs there is in`,
    line: `line closed at ${target}, no leak`,
    aid: `${target}: what was put on for the test is off`,
    cover: `${cover ?? 'cover'} back on at ${target}`,
  }[kind]
  return `${what} (entry ${entry})${putBack ? '; was put back, check it' : ''}`
}
