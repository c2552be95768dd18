import { type Procedure, parseProcedure } from '@halfsplit/procedure'
import type { System } from '@halfsplit/system'
import { EXIT } from '../exit-codes.js'
import { countWords, issuesText, readText } from '../files.js'
import { Stop } from '../stop.js'

/** Reads a written procedure for a machine; its mistakes of form end the command. @throws Stop */
export function loadProcedure(file: string, system: System): { procedure: Procedure; warnings: string } {
  const text = readText(file)
  const { procedure, issues } = parseProcedure(text, file, system)
  if (procedure) return { procedure, warnings: issues.length > 0 ? issuesText(issues, text) : '' }
  throw new Stop(EXIT.mistakes, `${issuesText(issues, text)}\n\n${countWords(issues)}`, issues)
}
