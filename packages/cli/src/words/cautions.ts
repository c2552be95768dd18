import { ASSUMPTIONS, formatValue } from '@halfsplit/core'
import {
  type MoveAdvice,
  type MoveHazard,
  type OhmsRuling,
  ohmsAllowed,
  type SetupHazard,
  type SetupHazards,
  setupHazards,
  type HazardBench,
  type HazardStanding,
  type Standpoint,
  type Test,
} from '@halfsplit/diagnosis'
import { type Harm, type Hazard, HAZARDS } from '@halfsplit/kinds'
import type { Part } from '@halfsplit/system'
import { capital, listed } from './layout.js'
import { partWords } from './names.js'
import { oddsWords } from './odds.js'
import { repairedPart } from './suspects.js'

/** Signal words of ANSI Z535.6 (2011), from memory; ISO 3864-2 has them for high, medium and low risk. */
export type Signal = 'DANGER' | 'WARNING' | 'CAUTION' | 'NOTICE'

/** A caution in the standard's form: signal word, hazard, consequence, how to avoid it. */
export interface Caution {
  signal: Signal
  /** What can happen, with its odds where they are not plain. */
  hazard: string
  consequence: string
  avoid: string
  part: string | null
  /** Chance that it is there in the setup; null where it comes with the work. */
  probability: number | null
}

/** All that is said of a test before it is done. */
export interface Advice {
  /** Worst first. */
  cautions: readonly Caution[]
  /** Fuse of the jumper. */
  fuse: string | undefined
  /** Ohms: what proves the circuit dead. */
  dead: string | undefined
  ohms: OhmsRuling | undefined
  hazards: SetupHazards
}

/**
 * DANGER: death or lasting injury if it is not avoided; WARNING: that it could be; CAUTION: an injury that heals; NOTICE: broken parts.
 * A lasting one that is more likely there than not is a danger.
 */
function signalOf(harm: Harm, probability: number): Signal {
  if (harm === 'damage') return 'NOTICE'
  if (harm === 'passing') return 'CAUTION'
  return probability >= ASSUMPTIONS.hazardExpected ? 'DANGER' : 'WARNING'
}

/**
 * What is to be said before a test, from what is still believed: only what is new against where the machine stands.
 * @param from left out where nobody has been at the machine yet   @param proved the circuit was just proved dead
 */
export function adviceFor(bench: HazardBench, standing: HazardStanding, test: Test, from?: Standpoint, proved = false): Advice {
  const hazards = setupHazards(bench, standing, test, from?.setup)
  const ohms = test.probe.kind === 'ohms' ? ohmsAllowed(bench, standing, test, proved) : undefined
  return {
    cautions: [
      ...jumperCautions(hazards),
      ...guardCautions(hazards),
      ...computedCautions(hazards),
      ...workCautions(hazards),
      ...stateCautions(hazards),
    ].sort((p, q) => ORDER.indexOf(p.signal) - ORDER.indexOf(q.signal)),
    fuse: fuseWords(hazards),
    dead: ohms && deadWords(ohms),
    ohms,
    hazards,
  }
}

const ORDER: readonly Signal[] = ['DANGER', 'WARNING', 'CAUTION', 'NOTICE']

/** Hazards of one kind at several parts are told once, at the likeliest; of what a hand may meet all that is there, of the rest what begins. */
function computedCautions({ computed }: SetupHazards): Caution[] {
  const fresh = computed.filter(
    ({ hazard, begins }) => HAZARDS[hazard.title].reach === 'part' || begins >= ASSUMPTIONS.hazardTold,
  )
  const groups = new Map<string, SetupHazard[]>()
  for (const one of fresh) {
    const key = `${one.hazard.title} ${one.hazard.caution}`
    groups.set(key, [...(groups.get(key) ?? []), one])
  }
  return [...groups.values()].map(([first, ...others]) => {
    const begins = HAZARDS[first.hazard.title].reach === 'machine'
    const probability = begins ? first.begins : first.present
    const { begins: starts, goesOn, consequence } = HAZARDS[first.hazard.title]
    const likewise = others.length > 0 ? `; ${listed(others.slice(0, 3).map(({ part }) => partWords(part)))} likewise` : ''
    return {
      signal: signalOf(first.harm, probability),
      hazard: `${partWords(first.part)} ${begins ? starts : goesOn}${oddsOf(first, probability)}${likewise}.`,
      consequence,
      avoid: first.hazard.caution,
      part: first.part.name,
      probability,
    }
  })
}

/** Odds from which a thing is said without them. */
const SURE = 0.95

function oddsOf({ sound, mostly }: SetupHazard, probability: number): string {
  if (probability > SURE) return ''
  const parts = [...new Set(mostly.map(repairedPart))]
  return sound || parts.length === 0
    ? `, ${oddsWords(probability)}`
    : `, ${oddsWords(probability)}: mostly if ${listed(parts, 'or')} is at fault`
}

function workCautions({ handled }: SetupHazards): Caution[] {
  return handled.map(({ part, hazard, harm }) => ({
    signal: signalOf(harm, 0),
    hazard: workWords(part, hazard),
    consequence: HAZARDS[hazard.title].consequence,
    avoid: hazard.caution,
    part: part.name,
    probability: null,
  }))
}

const workWords = (part: Part, { title }: Hazard): string => `${partWords(part)}: ${title}.`

/** How grave what a description says of its state is, it does not say: it could be grave. */
const stateCautions = ({ state }: SetupHazards): Caution[] =>
  state.length === 0
    ? []
    : [
        {
          signal: 'WARNING',
          hazard: state.map(sentence).join(' '),
          consequence: '',
          avoid: '',
          part: null,
          probability: null,
        },
      ]

const sentence = (text: string): string => (/[.!]$/.test(text) ? capital(text) : `${capital(text)}.`)

const GUARD_AVOID: Readonly<Record<SetupHazards['guards'][number]['how'], string>> = {
  bridged: 'Make sure by eye, with a second person; take the jumper off at once.',
  'by-passed': 'Make sure by eye, with a second person; take the jumper off at once.',
  unplugged: 'Put it back before the machine is used.',
}

/** Protections that go the same way are told together. */
function guardCautions({ guards }: SetupHazards): Caution[] {
  const ways = [...new Set(guards.map(({ how }) => how))]
  return ways.map((way) => {
    const same = guards.filter(({ how }) => how === way)
    return {
      signal: 'WARNING',
      hazard: `${listed(same.map(({ part }) => partWords(part)))} ${same.length > 1 ? 'are' : 'is'} ${way}.`,
      consequence: `Nothing guards against ${listed(same.map(({ guards: from }) => from))}.`,
      avoid: GUARD_AVOID[way],
      part: same.length > 1 ? null : same[0].part.name,
      probability: 1,
    }
  })
}

const amps = (value: number): string => formatValue(value, 'current', { digits: 2 })

function jumperCautions({ jumper }: SetupHazards): Caution[] {
  if (!jumper || jumper.allowed) return []
  const { normal, most, thinnest, fuse, worst } = jumper
  if (normal !== undefined && fuse !== undefined && fuse <= most)
    return [forbidden(`The jumper would carry ${amps(worst)} at worst, more than a blade fuse breaks.`)]
  const bears =
    thinnest === undefined ? `the lead bears a fuse of ${amps(most)}` : `wire ${thinnest} bears a fuse of ${amps(most)}`
  const carries =
    normal === undefined ? 'What the jumper would carry is not known.' : `The jumper would carry ${amps(normal)}; ${bears}.`
  return [forbidden(carries)]
}

const forbidden = (hazard: string): Caution => ({
  signal: 'DANGER',
  hazard,
  consequence: 'It melts and burns.',
  avoid: 'Do not bridge this.',
  part: null,
  probability: 1,
})

function fuseWords({ jumper }: SetupHazards): string | undefined {
  if (!jumper?.allowed || jumper.normal === undefined || jumper.fuse === undefined) return undefined
  const { normal, fuse, worst, worstUnder } = jumper
  const more =
    worst > normal * NOTABLY && worstUnder !== undefined ? `, ${amps(worst)} if ${repairedPart(worstUnder)} is at fault` : ''
  return `${amps(fuse)} in the jumper: ${amps(normal)} flow in a sound machine${more}.`
}

/** A worst current is told when it is so many times the usual one. */
const NOTABLY = 1.2

function deadWords({ allowed, dead, proved, proof: { points, minus, below } }: OhmsRuling): string {
  if (!dead) return 'Power is on in this state: no ohms here.'
  if (proved) return 'Proved.'
  const how = `Part apart, meter on volts first, from ${listed(points)} to ${minus}: under ${formatValue(below, 'voltage')} each.`
  return allowed ? how : `${how} These points may be live: type "dead" when it is so, before any ohms.`
}

/** A caution in one line without its signal word. */
export const cautionText = ({ hazard, consequence, avoid }: Caution): string =>
  [hazard, consequence, avoid].filter((part) => part !== '').join(' ')

/** Said wherever it is advised whether to move a machine. */
const MOVE_RULE =
  "What this description does not contain is not judged. The maker's manual, local rules and a licensed person decide."

/** Whether the machine may be moved, worst first, with odds; never that it is safe. */
export function moveWords({ verdict, could }: MoveAdvice): string[] {
  const head =
    verdict === 'do not move'
      ? 'Do not move it.'
      : 'Whether it is safe to move is not known: nothing worse than this is seen in what is described.'
  return [head, ...could.slice(0, MOST_TOLD).map(moveLine), MOVE_RULE]
}

const MOST_TOLD = 5

function moveLine({ consequence, probability, states }: MoveHazard): string {
  const name = partWords(consequence.part)
  const where = states.length > 0 ? ` in ${listed(states.slice(0, 2))}` : ''
  return `${name} ${moveDoes(consequence)}${where}: ${oddsWords(probability)}.`
}

function moveDoes(consequence: MoveHazard['consequence']): string {
  switch (consequence.kind) {
    case 'does':
      return HAZARDS[consequence.hazard.title].goesOn
    case 'loses':
      return `no longer ${HAZARDS[consequence.hazard.title].goesOn}`
    case 'overheats':
      return 'carries more than it bears and can burn'
    case 'opens':
      return 'opens for good'
    case 'unguarded':
      return `may not guard against ${consequence.guards}`
  }
}
