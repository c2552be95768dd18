/** What a plan comes to, suspect by suspect and over all: exact sums over its tree. */

import type { PlanPlace, TroublePlan } from './plan-tree.js'

/** One way through the plan. */
export interface PlanEnding {
  /** Time to the end, the comeback and the right repair of a wrong end counted. */
  readonly time: number
  readonly cost: number
  readonly weight: number
  /** Suspect at the beginning. */
  readonly suspect: number
  /** Repairs made that the suspect did not need. */
  readonly wrong: number
  /** Those of them that have a price: good parts paid for and left in. */
  readonly wrongPriced: number
  /** Ended with the fault still there. */
  readonly isWrongEnd: boolean
  /** Not all of the way was worked out. */
  readonly isRest: boolean
}

/** Ways lighter than this share of the whole are taken as ended where they are. */
const NOTHING = 1e-9

/** All ways through a plan, with their weights. */
export function planEndings(plan: TroublePlan): PlanEnding[] {
  const endings: PlanEnding[] = []
  const whole = plan.root.weight
  for (const [suspect, { weight }] of plan.task.suspects.entries())
    if (weight > 0)
      new Way(plan, suspect, NOTHING * whole, endings).go(plan.root, suspect, {
        weight,
        time: 0,
        cost: 0,
        wrong: 0,
        wrongPriced: 0,
        isRest: false,
      })
  return endings
}

interface So {
  readonly weight: number
  readonly time: number
  readonly cost: number
  readonly wrong: number
  readonly wrongPriced: number
  readonly isRest: boolean
}

const wrongOf = ({ wrong, wrongPriced }: So, isNeeded: boolean, price: number) => ({
  wrong: wrong + Number(!isNeeded),
  wrongPriced: wrongPriced + Number(!isNeeded && price > 0),
})

/** The ways of one suspect. */
class Way {
  constructor(
    private readonly plan: TroublePlan,
    private readonly suspect: number,
    private readonly nothing: number,
    private readonly endings: PlanEnding[],
  ) {}

  /** @param now the suspect as it is by now: half mended it is another one */
  go(node: PlanPlace, now: number, so: So): void {
    const { tests, timeCost } = this.plan.task
    const here = { ...so, isRest: so.isRest || node.isRest }
    if (node.step.kind === 'end' || so.weight < this.nothing) return this.end(now, here)
    if (node.step.kind === 'repair') return this.repair(node, now, here)
    const { id } = node.step
    const { chances, outcomes } = tests.find((test) => test.id === id) as (typeof tests)[number]
    const after = { ...here, time: here.time + node.time, cost: here.cost + node.time * timeCost }
    for (const { outcome, node: next } of node.branches) {
      const chance = chances[now * outcomes + outcome]
      if (chance > 0) this.go(next, now, { ...after, weight: here.weight * chance })
    }
  }

  private repair(node: PlanPlace, now: number, so: So): void {
    const { suspects, repairs, timeCost, badNewPart } = this.plan.task
    const { id } = node.step as { id: string }
    const repair = repairs.findIndex((one) => one.id === id)
    const { needs, then } = suspects[now]
    const isNeeded = needs.includes(repair)
    const time = so.time + node.time + node.proofTime
    const own = (node.time + node.proofTime) * timeCost + repairs[repair].price
    const bad = isNeeded ? badNewPart * this.again(repair).cost : 0
    const after = { ...so, time, cost: so.cost + own + bad, ...wrongOf(so, isNeeded, repairs[repair].price) }
    const left = isNeeded ? then?.[needs.indexOf(repair)] : now
    if (needs.length === 0 || left === undefined) return this.add(after, false)
    const { missed } = suspects[left]
    this.end(left, { ...after, weight: so.weight * missed })
    const still = { ...after, weight: so.weight * (1 - missed) }
    if (node.branches.length > 0) this.go(node.branches[0].node, left, still)
    else this.end(left, still)
  }

  private end(now: number, so: So): void {
    if (so.weight === 0) return
    const { suspects, comeback, timeCost, badNewPart } = this.plan.task
    const { needs } = suspects[now]
    if (needs.length === 0) return this.add(so, false)
    const right = needs.map((repair) => this.again(repair))
    const time = so.time + comeback.time + right.reduce((sum, one) => sum + one.time, 0)
    const cost = comeback.time * timeCost + comeback.price + right.reduce((sum, one) => sum + one.cost * (1 + badNewPart), 0)
    this.add({ ...so, time, cost: so.cost + cost }, true)
  }

  /** A repair from the proof of another one, with its own proof. */
  private again(repair: number): { time: number; cost: number } {
    const { repairs, proof, ways, timeCost } = this.plan.task
    const { place, price, time: own } = repairs[repair]
    const time = own + (place === undefined ? 0 : ways[proof.place][place] + ways[place][proof.place]) + proof.time
    return { time, cost: time * timeCost + price }
  }

  private add(so: So, isWrongEnd: boolean): void {
    this.endings.push({ ...so, suspect: this.suspect, isWrongEnd })
  }
}

/** Figures over all ways through a plan, per job. */
export interface TroublePlanFigures {
  readonly meanTime: number
  readonly q90Time: number
  /** The longest way that is taken once in a thousand jobs or oftener, by all ways as long together. */
  readonly worstTime: number
  readonly meanCost: number
  readonly worstCost: number
  /** Shares of the jobs. */
  readonly firstRepairRight: number
  readonly wrongEnd: number
  /** Ways that were not worked out to their end. */
  readonly rest: number
  /** Repairs made that were not needed, per job. */
  readonly wrongRepairs: number
  readonly wrongPriced: number
}

/** One job in a thousand takes longer than what is called worst. */
const WORST = 0.999

export function troublePlanFigures(endings: readonly PlanEnding[]): TroublePlanFigures {
  const whole = endings.reduce((sum, { weight }) => sum + weight, 0)
  const mean = (of: (ending: PlanEnding) => number) => endings.reduce((sum, one) => sum + one.weight * of(one), 0) / whole
  return {
    meanTime: mean(({ time }) => time),
    q90Time: quantile(endings, ({ time }) => time, 0.9 * whole),
    worstTime: quantile(endings, ({ time }) => time, WORST * whole),
    meanCost: mean(({ cost }) => cost),
    worstCost: quantile(endings, ({ cost }) => cost, WORST * whole),
    firstRepairRight: mean(({ wrong, isWrongEnd }) => Number(wrong === 0 && !isWrongEnd)),
    wrongEnd: mean(({ isWrongEnd }) => Number(isWrongEnd)),
    rest: mean(({ isRest }) => Number(isRest)),
    wrongRepairs: mean(({ wrong }) => wrong),
    wrongPriced: mean(({ wrongPriced }) => wrongPriced),
  }
}

function quantile(endings: readonly PlanEnding[], of: (ending: PlanEnding) => number, upTo: number): number {
  const sorted = endings.map((one) => ({ value: of(one), weight: one.weight })).sort((a, b) => a.value - b.value)
  let passed = 0
  for (const { value, weight } of sorted) {
    passed += weight
    if (passed >= upTo * (1 - NOTHING)) return value
  }
  return sorted.at(-1)?.value ?? 0
}
