import type { Clearing, Excluded, LogNext, NoFaultFound, Proof, Refit, RepairDecision } from '@halfsplit/diagnosis'
import { foundOnTheWay } from '@halfsplit/job'
import { oddsWords } from '../words/odds.js'
import { shortWords } from '../words/test-words.js'
import type { Case } from './case.js'
import { goodWords, refitWords, riskWords } from './prove.js'
import { entryAt } from './record-words.js'
import { clearedSuspects } from './why-suspect.js'

/** What a case says beside belief and next test: what was cleared by what, what does not fit, the decision, the proof, and its ends. */
export function closingDocument(open: Case) {
  const proof = open.proof()
  const noFault = open.noFault()
  const { comeback } = open
  return {
    cleared: clearedSuspects(open).map(({ clearing }) => clearedDocument(open, clearing)),
    fit: fitDocument(open),
    decision: decisionDocument(open.decision()),
    proof: proof ? proofDocument(proof) : null,
    refit: open.refit().map(refitDocument),
    noFaultFound: noFault ? noFaultDocument(noFault) : null,
    found: foundOnTheWay(open.job).map(({ number, entry: { part, text } }) => ({ entry: number, part: part ?? null, text })),
    comeback: comeback
      ? { ageDays: comeback.ageDays, repairs: comeback.repairs, factors: factorsDocument(comeback.factors()) }
      : null,
  }
}

const clearedDocument = (open: Case, { repair, before, after, records, complete }: Clearing) => ({
  repair,
  before,
  after,
  by: records ? records.map((place) => entryAt(open, place) ?? null) : null,
  complete,
})

function fitDocument(open: Case) {
  const { records, slips, verdict } = open.fit()
  return {
    verdict,
    slips,
    records: records.map(({ place, record, slip }) => ({ entry: entryAt(open, place) ?? null, record: record.id, slip })),
  }
}

const decisionDocument = (decision: RepairDecision | undefined) =>
  decision
    ? {
        ...decision,
        plan: decision.plan ?? null,
        // Infinity is no JSON: no test left tells.
        tests: Number.isFinite(decision.tests) ? decision.tests : null,
        odds: oddsWords(decision.belief),
        breakEvenOdds: oddsWords(decision.breakEven),
      }
    : null

const proofDocument = ({ steps, risks, risk, exposed, left, minutes }: Proof) => ({
  steps: steps.map(({ test, good, why, looks, done, spoiled, minutes: own, exposes }) => ({
    test: test.id,
    title: shortWords(test),
    good: goodWords(test.probe, good),
    why,
    looks,
    done,
    spoiled,
    minutes: own,
    exposes: exposes.map((one) => ({ risk: riskWords(risks[one.risk]), chance: one.chance })),
  })),
  risk,
  exposed,
  left,
  minutes,
})

const refitDocument = (one: Refit) => ({
  kind: one.kind,
  target: one.target,
  cover: one.cover ?? null,
  entry: one.entry,
  putBack: one.putBack,
  text: refitWords(one),
})

const noFaultDocument = ({ reached, looks, byLuck, sound, excluded, open, logNext }: NoFaultFound) => ({
  reached,
  looks: looks.map(({ setup, probe, good, taken, needed }) => ({
    state: setup.state,
    part: probe.part.name,
    look: probe.look.name,
    good,
    taken,
    needed,
  })),
  byLuck,
  sound,
  excluded: excluded.map(({ repair, before, now, bits }: Excluded) => ({ repair, before, now, bits })),
  open,
  logNext: logNext.map(({ setup, probe, words }: LogNext) => ({
    state: setup.state,
    part: probe.part.name,
    look: probe.look.name,
    words,
  })),
})

const factorsDocument = (factors: ReadonlyMap<string, number>) => [...factors].map(([fault, factor]) => ({ fault, factor }))
