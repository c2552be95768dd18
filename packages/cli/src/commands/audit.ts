import { audit } from '@halfsplit/procedure'
import { auditDocument } from '../audit/document.js'
import { loadProcedure } from '../audit/load.js'
import { auditLines } from '../audit/render.js'
import { EXIT, type ExitCode } from '../exit-codes.js'
import { loadSystem } from '../files.js'
import { type Io, paint, whileWorking } from '../io.js'

/** A written procedure held against every fault of its machine. Findings are results, not mistakes of form: they do not change the exit code. */
export function auditCommand(io: Io, file: string, sheet: string, { json }: { json?: boolean }): ExitCode {
  const { system, warnings } = loadSystem(file)
  if (warnings) io.err(`${warnings}\n`)
  const { procedure, warnings: remarks } = loadProcedure(sheet, system)
  if (remarks) io.err(`${remarks}\n`)
  const found = whileWorking(io, () => audit(system, procedure))
  if (json) io.out(`${JSON.stringify(auditDocument(system, found), null, 2)}\n`)
  else io.out(`${auditLines(system, found, paint(io.colour)).join('\n')}\n`)
  return EXIT.ok
}
