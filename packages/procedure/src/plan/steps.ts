import type { DecisionTable, Standpoint, TableOutcome } from '@halfsplit/diagnosis'
import type { PlanPlace } from '@halfsplit/inference'
import type { PlanBranch, PlanNext, PlanStep } from './model.js'

/** Repairs named at a step. */
const MOST_REPAIRS = 4

/** The places of a plan as numbered steps, the likeliest branch first. */
export class Numbering {
  readonly steps: PlanStep[] = []
  private readonly sound: number

  constructor(
    private readonly table: DecisionTable,
    private readonly root: PlanPlace,
    private readonly proofAt: Standpoint,
  ) {
    this.sound = table.suspects.findIndex(({ repairs }) => repairs.length === 0)
  }

  /** Numbers a place and all below it; returns how one comes to it. */
  next(place: PlanPlace, from: Standpoint): PlanNext {
    const { step } = place
    if (step.kind === 'end') return { kind: 'end' }
    if (place.isRest) return { kind: 'rest', repairs: restOf(place) }
    const number = this.steps.length + 1
    const at = this.standpointAfter(place, from)
    const own = {
      number,
      step:
        step.kind === 'repair'
          ? { kind: 'repair' as const, repair: step.id }
          : { kind: 'test' as const, test: this.testOf(step.id).test },
      from,
      share: place.weight / this.root.weight,
      minutes: place.time + place.proofTime,
      repairs: this.repairsAt(place),
      branches: [] as PlanBranch[],
    }
    this.steps.push(own)
    const expected = this.expectedAt(place)
    const branches = [...place.branches].sort((p, q) => q.node.weight - p.node.weight || p.outcome - q.outcome)
    for (const { outcome, node } of branches)
      own.branches.push({
        outcome: this.outcomeOf(place, outcome),
        share: node.weight / this.root.weight,
        sound: outcome === expected,
        next: this.next(node, at),
      })
    return { kind: 'step', number }
  }

  private testOf(id: string) {
    return this.table.tests[this.table.task.tests.findIndex((test) => test.id === id)]
  }

  private outcomeOf({ step }: PlanPlace, outcome: number): TableOutcome | { kind: 'still there' } {
    return step.kind === 'test' ? this.testOf(step.id).outcomes[outcome] : { kind: 'still there' }
  }

  private standpointAfter({ step }: PlanPlace, from: Standpoint): Standpoint {
    if (step.kind !== 'test') return step.kind === 'repair' ? this.proofAt : from
    const { setup, places } = this.testOf(step.id).test
    return { setup, places }
  }

  /** What a sound machine most likely shows; undefined where none is in the table. */
  private expectedAt({ step }: PlanPlace): number | undefined {
    if (step.kind !== 'test' || this.sound < 0) return undefined
    const { outcomes, chances } = this.table.task.tests.find(({ id }) => id === step.id) as DecisionTable['task']['tests'][number]
    const row = chances.subarray(this.sound * outcomes, (this.sound + 1) * outcomes)
    return row.indexOf(Math.max(...row))
  }

  private repairsAt({ suspects: weights, weight }: PlanPlace): PlanStep['repairs'] {
    const byRepair = new Map<string, number>()
    for (const [s, { repairs }] of this.table.suspects.entries())
      for (const repair of repairs) byRepair.set(repair, (byRepair.get(repair) ?? 0) + weights[s] / weight)
    return [...byRepair]
      .map(([repair, probability]) => ({ repair, probability }))
      .sort((p, q) => q.probability - p.probability || (p.repair < q.repair ? -1 : 1))
      .slice(0, MOST_REPAIRS)
  }
}

/** Repairs of a chain in order. */
function restOf(place: PlanPlace): string[] {
  const { step, branches } = place
  if (step.kind !== 'repair') return []
  return [step.id, ...branches.flatMap(({ node }) => restOf(node))]
}
