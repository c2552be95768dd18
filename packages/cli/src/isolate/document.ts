import {
  contributions,
  leadingRepairs,
  type RepairGroup,
  repairGroups,
  sizeOf,
  type Standing,
  type WeighedTest,
} from '@halfsplit/diagnosis'
import { countingDocument } from '../words/counting.js'
import { oddsWords } from '../words/odds.js'
import { sizeWords } from '../words/size.js'
import { repairTitle } from '../words/suspects.js'
import { cautionText } from '../words/cautions.js'
import { firstWords, leadsWords, shortWords } from '../words/test-words.js'
import type { Case } from './case.js'
import { closingDocument } from './closing-document.js'
import { adviceOf } from './render.js'
import { entryNumbers } from './record-words.js'
import { type Expected, expectedBySuspect, expectedHealthy } from './expected.js'

/** Suspects and faults believed less than this are left out of the document. */
const LEAST_LISTED = 1e-4
const LEAST_HYPOTHESIS = 1e-3

/** The state of a job as one JSON document: docs/reference/json.md, `halfsplit-isolate/1`. */
export function isolateDocument(open: Case) {
  const { bench, job, standing, verdict, jobLog } = open
  const { system } = bench
  const { best, alternatives, reason } = open.proposal()
  const listed = standing.repairs.filter(({ probability }) => probability >= LEAST_LISTED)
  return {
    format: 'halfsplit-isolate/1',
    machine: { name: system.name, title: system.title, hash: system.hash },
    complaint: { words: job.complaint.words, looks: jobLog.complaint?.shows ?? [] },
    entries: job.entries.length,
    weighed: jobLog.log.filter(({ kind }) => kind === 'taken').length,
    suspects: listed.map(({ repair, probability, hypotheses }) => ({
      repair,
      title: repairTitle(system, repair),
      probability,
      odds: oddsWords(probability),
      hypotheses: hypotheses
        .filter((one) => one.probability >= LEAST_HYPOTHESIS)
        .map((one) => ({ ...one, size: sizeDocument(standing, one.id) })),
    })),
    leading: groupDocument(leadingRepairs(standing)),
    groups: repairGroups(standing).map(groupDocument),
    nothingWrong: standing.nothingWrong,
    absentNow: standing.absentNow,
    notDescribed: standing.notDescribed,
    leftOut: standing.leftOut,
    verdict,
    reason,
    next: best ? { ...testDocument(open, best), alternatives: alternatives.map((one) => testDocument(open, one)) } : null,
    contributions: contributionsDocument(open),
    ...closingDocument(open),
    couldNot: jobLog.couldNot,
    issues: jobLog.issues,
  }
}

const groupDocument = ({ repairs, probability, decibansApart }: RepairGroup) => ({
  repairs,
  probability,
  // Infinity is no JSON: one of the repairs is impossible on the readings taken.
  decibansApart: Number.isFinite(decibansApart) ? decibansApart : null,
})

function sizeDocument(standing: Standing, id: string) {
  const size = sizeOf(standing, id)
  const dimension = standing.hypotheses.find((one) => one.id === id)?.faults[0]?.severity?.dimension
  return size && dimension ? { ...size, dimension, text: sizeWords(size, dimension) } : null
}

function testDocument(open: Case, weighed: WeighedTest) {
  const { system } = open.bench
  const { test, information, cost, blind } = weighed
  return {
    id: test.id,
    title: shortWords(test),
    kind: test.probe.kind,
    state: test.setup.state,
    leads: leadsWords(system, test.probe),
    first: firstWords(system, open.from, test),
    counting: countingDocument(system, test.setup.state),
    ...adviceDocument(open, test),
    disturbs: test.disturbs,
    bits: information,
    minutes: cost,
    blind,
    dimension: test.probe.kind === 'look' ? null : test.probe.meter.quantity,
    expected: expectedBySuspect(weighed).map(expectedDocument),
    healthy: expectedDocument(expectedHealthy(open, weighed)),
  }
}

function adviceDocument(open: Case, test: WeighedTest['test']) {
  const { cautions, hazards, ohms } = adviceOf(open, test)
  return {
    cautions: cautions.map((one) => `${one.signal}: ${cautionText(one)}`),
    hazards: cautions,
    hazardsFollowed: hazards.followed,
    jumper: hazards.jumper ?? null,
    guards: hazards.guards.map(({ part, guards, how }) => ({ part: part.name, guards, how })),
    ohms: ohms ?? null,
  }
}

const expectedDocument = ({ suspect, probability, bands, words }: Expected) => ({
  suspect,
  probability,
  bands: bands.map(({ low, high, middle, share }) => ({ low, high, middle, share })),
  words,
})

/** Log entry behind each record, in the order of the evidence: complaint first, then group by group. */
function contributionsDocument(open: Case) {
  const numbers = entryNumbers(open)
  return contributions(open.standing).map(({ record, decibans, without, decisive }, i) => ({
    entry: numbers[i] ?? null,
    record: record.id,
    for: [...decibans].filter(([, value]) => Math.abs(value) >= 0.1).map(([repair, value]) => ({ repair, decibans: value })),
    ifWrong: without ? { repair: without.repair, probability: without.probability } : null,
    decisive,
  }))
}
