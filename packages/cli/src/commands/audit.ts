import { Bench } from '@halfsplit/diagnosis'
import { audit, planOf, type Procedure } from '@halfsplit/procedure'
import type { System } from '@halfsplit/system'
import { auditDocument } from '../audit/document.js'
import { loadProcedure } from '../audit/load.js'
import { auditLines, type PlanCost } from '../audit/render.js'
import { EXIT, type ExitCode } from '../exit-codes.js'
import { loadSystem } from '../files.js'
import { type Io, paint, whileWorking } from '../io.js'

export interface AuditCommandOptions {
  json?: boolean
  /** False leaves the computed plan out. */
  plan?: boolean
}

/**
 * A written procedure held against every fault of its machine. Findings are results, not mistakes of form: they do not change the
 * exit code.
 */
export function auditCommand(io: Io, file: string, sheet: string, options: AuditCommandOptions): ExitCode {
  const { system, warnings } = loadSystem(file)
  if (warnings) io.err(`${warnings}\n`)
  const { procedure, warnings: remarks } = loadProcedure(sheet, system)
  if (remarks) io.err(`${remarks}\n`)
  const found = whileWorking(io, () => audit(system, procedure))
  const plan = options.plan === false ? undefined : whileWorking(io, () => planCost(system, procedure))
  if (options.json) io.out(`${JSON.stringify(auditDocument(system, found, plan), null, 2)}\n`)
  else io.out(`${auditLines(system, found, paint(io.colour), plan).join('\n')}\n`)
  return EXIT.ok
}

/** What the computed plan for the sheet's complaint takes. */
function planCost(system: System, { complaint }: Procedure): PlanCost {
  const { figures } = planOf(
    new Bench(system),
    system.complaints.find(({ id }) => id === complaint),
  )
  const { meanMinutes, worstMinutes, meanMoney } = figures
  return { meanMinutes, worstMinutes, meanMoney }
}
