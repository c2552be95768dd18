import { Machine, PredictionStore } from '@halfsplit/diagnosis'
import type { System } from '@halfsplit/system'
import type { Procedure } from '../written/model.js'
import { limitsWithoutTemperature } from './coil-limits.js'
import { Columns } from './columns.js'
import { condemned, type RepairConclusion, repairConclusions } from './conclusions.js'
import { contradictions } from './contradictions.js'
import { type Figures, figuresOf } from './figures.js'
import type { Finding } from './findings.js'
import { type Followed, follow } from './follow.js'
import { missingWarnings } from './hazards.js'
import { populationOf } from './population.js'
import { provesNothing } from './proves-nothing.js'
import { Takings } from './taken-by.js'

export interface AuditOptions {
  /** Machines drawn for each stretch of each fault; 100 unless given. */
  specimens?: number
  seed?: number | string
}

/** What a written procedure does over every fault of its machine. */
export interface Audit {
  procedure: Procedure
  /** Mistakes of the sheet, in its order. */
  findings: readonly Finding[]
  conclusions: readonly RepairConclusion[]
  figures: Figures
}

const SPECIMENS = 100

/**
 * Takes every single fault of the description, in every stretch of its size, and the sound machine through a written procedure.
 * Of each a number of specimens is drawn, part values, switching points and meter errors shared by all readings of a specimen;
 * they come from the bench's own predictions (mean and slopes), which cost one solve a fault and setup, not one a specimen.
 * Left out: two faults at once, slips of hands, misread displays and slips of the observer. The same seed gives the same audit.
 * @throws RangeError for a complaint the description does not have
 * Cost: one solve of each step's setup for each size of each fault that gets there.
 */
export function audit(system: System, procedure: Procedure, options: AuditOptions = {}): Audit {
  const machine = new Machine(system)
  const columns = new Columns(options.specimens ?? SPECIMENS, options.seed ?? 'audit')
  const takings = new Takings(new PredictionStore(machine), columns)
  const complaint = complaintOf(system, procedure)
  const population = populationOf(machine, takings, complaint)
  const followed = follow(machine, takings, procedure, population)
  const conclusions = repairConclusions(procedure.steps, followed.ends)
  const found: Finding[] = [
    ...contradictions(machine, takings, procedure),
    ...limitsWithoutTemperature(machine, takings, procedure),
    ...provesNothing(procedure, followed),
    ...condemned(conclusions, faultyWeight(followed)),
    ...missingWarnings(machine, procedure, followed, complaint),
  ]
  const place = ({ step }: Finding) => procedure.steps.indexOf(step)
  const findings = found.map((one, i) => ({ one, i })).sort((p, q) => place(p.one) - place(q.one) || p.i - q.i)
  return {
    procedure,
    findings: findings.map(({ one }) => one),
    conclusions,
    figures: figuresOf(system, population, followed.ends),
  }
}

function complaintOf(system: System, { complaint }: Procedure) {
  if (complaint === undefined) return undefined
  const found = system.complaints.find(({ id }) => id === complaint)
  if (!found) throw new RangeError(`'${system.name}' has no complaint '${complaint}'`)
  return found
}

const faultyWeight = ({ ends }: Followed): number => ends.reduce((sum, { cell, weight }) => sum + (cell.fault ? weight : 0), 0)
