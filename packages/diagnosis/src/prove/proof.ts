import { ASSUMPTIONS } from '@halfsplit/core'
import { looksNeeded } from '@halfsplit/inference'
import type { Bench } from '../bench.js'
import { money } from '../cost.js'
import { minutesFor, type Standpoint } from '../effort.js'
import type { LogItem, Taken } from '../evidence.js'
import { contributions } from '../explain.js'
import { type Test, testId, testOf } from '../tests.js'
import type { Standing } from '../view.js'
import { exposedBy, type Good, goodAt } from './exposure.js'
import { type Risk, repairsMade, risks } from './risk.js'

/** One thing to do after the repair. */
export interface ProofStep {
  test: Test
  good: Good
  why: 'complaint' | 'decided' | 'could still be wrong'
  /** Good looks on occasions of their own. */
  looks: number
  /** Good looks taken since the last repair; `spoiled`: one was not good. */
  done: number
  spoiled: boolean
  /** Minutes from the step before. */
  minutes: number
  /** Places in `risks` of what it would expose, with the chance that it does in so many looks, largest gain first. */
  exposes: readonly { risk: number; chance: number }[]
}

/** The proof plan after a repair. */
export interface Proof {
  steps: readonly ProofStep[]
  risks: readonly Risk[]
  /** Belief that something is still wrong, before the plan; *something not described* is not in it. */
  risk: number
  /** Share of it that the plan would expose, 0 to 1. */
  exposed: number
  /** Belief that something is still wrong if every step is good. */
  left: number
  minutes: number
}

/** Chance that what comes and goes has hidden by luck, at which the looks are enough. */
const HIDDEN_BY_LUCK = 0.05
/** Risks that no step is asked to expose: lighter ones change nothing. */
const MOST_RISKS = 60
/** A test that spoke this much for the repair is taken again [deciban]: ten to one. */
const DECIDING = 10
const MOST_DECIDING = 2
const MOST_EXTRA = 6

/**
 * What proves a repair: the complaint's looks in their states again, the tests that decided it again, then looks that expose what could
 * still be wrong, each taken in while the comebacks it saves cost more than its minutes. Looks at what comes and goes are as many as
 * leave it hidden by luck at most 1 time in 20: 59 where it is there 5 % of the time.
 * @param log as the standing was given   @param from where machine and technician are
 * Cost: every look of the description under each of the heaviest 60 risks.
 */
export function proof(bench: Bench, standing: Standing, log: readonly LogItem[], from: Standpoint): Proof {
  const all = risks(bench, standing)
  const plan = new ProofPlan(bench, standing, all.slice(0, MOST_RISKS), log, from)
  for (const test of complaintTests(bench, standing)) plan.add(test, 'complaint')
  for (const test of decidingTests(bench, standing)) plan.add(test, 'decided')
  plan.extend(looksOf(bench))
  return plan.result(all)
}

class ProofPlan {
  private readonly steps: ProofStep[] = []
  /** Share of each risk that no step so far exposes. */
  private readonly unseen: number[]
  private readonly since: readonly Taken[]

  constructor(
    private readonly bench: Bench,
    private readonly standing: Standing,
    private readonly risks: readonly Risk[],
    log: readonly LogItem[],
    private from: Standpoint,
  ) {
    this.unseen = risks.map(() => 1)
    const last = log.findLastIndex((item) => item.kind === 'repaired')
    this.since = log.slice(last + 1).flatMap((item) => (item.kind === 'taken' ? [item.taken] : []))
  }

  add(test: Test, why: ProofStep['why']): void {
    const step = this.stepOf(test, why)
    if (step) this.take(step)
  }

  /** The looks worth their minutes, best first. */
  extend(tests: readonly Test[]): void {
    for (let extra = 0; extra < MOST_EXTRA; extra += 1) {
      const offered = tests.flatMap((test) => this.stepOf(test, 'could still be wrong') ?? [])
      const worth = offered.map((step) => ({ step, worth: this.gain(step) * COMEBACK - money(step.minutes) }))
      const best = worth.reduce<(typeof worth)[number] | undefined>((p, q) => (q.worth > (p?.worth ?? 0) ? q : p), undefined)
      if (!best) return
      this.take(best.step)
    }
  }

  result(all: readonly Risk[]): Proof {
    const risk = 1 - all.reduce((none, { probability }) => none * (1 - Math.min(probability, 1)), 1)
    const whole = all.reduce((sum, { probability }) => sum + probability, 0)
    const shown = this.risks.reduce((sum, { probability }, r) => sum + probability * (1 - this.unseen[r]), 0)
    const exposed = whole > 0 ? shown / whole : 1
    const { steps, risks } = this
    return { steps, risks, risk, exposed, left: risk * (1 - exposed), minutes: steps.reduce((sum, one) => sum + one.minutes, 0) }
  }

  private stepOf(test: Test, why: ProofStep['why']): ProofStep | undefined {
    if (this.steps.some((step) => step.test.id === test.id)) return undefined
    const good = goodAt(this.bench, test.setup, test.probe)
    if (!good) return undefined
    const seen = this.risks.map(({ faults }) => this.seenBy(test, good, faults))
    const looks = why === 'complaint' ? this.looksAt(test, seen) : 1
    const exposes = this.risks
      .map(({ shows }, risk) => ({ risk, chance: seen[risk] * (1 - (1 - shows) ** looks) }))
      .filter(({ chance }) => chance > 0.01)
      .sort((p, q) => this.weight(q) - this.weight(p))
    const taken = this.since.filter((one) => testId(one.setup, one.probe) === test.id)
    const done = taken.filter((one) => isGood(one, good)).length
    const minutes = minutesFor(this.bench.system, test, this.from) + (looks - 1) * test.minutes
    return { test, good, why, looks, done, spoiled: done < taken.length, minutes, exposes }
  }

  private seenBy(test: Test, good: Good, faults: Risk['faults']): number {
    return exposedBy(this.bench, faults, test.setup, test.probe, good)
  }

  /**
   * Good looks at the complaint: as many as leave what the owner met that often hidden by luck 1 time in 20; and more while one more
   * saves comebacks of faults that come and go for more than its minutes cost.
   */
  private looksAt(test: Test, seen: readonly number[]): number {
    let looks = looksNeeded(this.standing.complaint?.howOften ?? 1, HIDDEN_BY_LUCK)
    const saved = (n: number) =>
      this.risks.reduce(
        (sum, { probability, shows }, r) => sum + probability * this.unseen[r] * seen[r] * shows * (1 - shows) ** n * COMEBACK,
        0,
      )
    while (saved(looks) > money(test.minutes)) looks += 1
    return looks
  }

  private weight({ risk, chance }: { risk: number; chance: number }): number {
    return this.risks[risk].probability * this.unseen[risk] * chance
  }

  private gain({ exposes }: ProofStep): number {
    return exposes.reduce((sum, one) => sum + this.weight(one), 0)
  }

  private take(step: ProofStep): void {
    this.steps.push(step)
    for (const { risk, chance } of step.exposes) this.unseen[risk] *= 1 - chance
    const { setup, places } = step.test
    this.from = { setup, places }
  }
}

/** What a machine that comes back costs, in the shop's money. */
const COMEBACK = ASSUMPTIONS.comebackMoney + money(ASSUMPTIONS.comebackMinutes)

/** Whether a reading or look is as a sound machine shows it. */
export function isGood({ outcome }: Taken, good: Good): boolean {
  if ('word' in good) return outcome.kind === 'word' && outcome.word === good.word
  if (outcome.kind === 'number')
    return outcome.value + outcome.halfWidth >= good.low && outcome.value - outcome.halfWidth <= good.high
  return outcome.kind === 'interval' && outcome.high >= good.low && outcome.low <= good.high
}

function complaintTests(bench: Bench, { complaint }: Standing): Test[] {
  return (complaint?.shows ?? []).flatMap(({ state, part: name, look: lookName }) => {
    const part = bench.system.parts.get(name)
    const look = part?.kind.looks?.find((one) => one.name === lookName)
    return part && look ? [testOf(bench.system, { state }, { kind: 'look', part, look })] : []
  })
}

/** Tests that spoke most for the repairs made, those of the complaint left out. */
function decidingTests(bench: Bench, standing: Standing): Test[] {
  const made = repairsMade(standing)
  const first = standing.evidence.length - standing.groups.length
  const taken = standing.evidence.flatMap(({ records }, g) =>
    records.map((_, r) => (g < first ? undefined : standing.groups[g - first].taken[r])),
  )
  return contributions(standing)
    .map(({ decibans }, i) => ({ one: taken[i], said: Math.max(...made.map((repair) => decibans.get(repair) ?? 0)) }))
    .filter(({ one, said }) => one && said >= DECIDING)
    .sort((p, q) => q.said - p.said)
    .slice(0, MOST_DECIDING)
    .flatMap(({ one }) => (one ? [testOf(bench.system, one.setup, one.probe)] : []))
}

/** Looks with nothing moved. */
const looksOf = ({ tests }: Bench): Test[] => tests.filter(({ setup, probe }) => probe.kind === 'look' && !setup.intervention)
