import { existsSync, readdirSync } from 'node:fs'
import { dirname, join } from 'node:path'
import type { Procedure } from '@halfsplit/procedure'
import type { System } from '@halfsplit/system'
import { loadProcedure } from '../audit/load.js'

/** Written procedures in the folder `procedures` beside a description, by name. @throws Stop where one has mistakes */
export function sheetsBeside(file: string, system: System): Procedure[] {
  const folder = join(dirname(file), 'procedures')
  if (!existsSync(folder)) return []
  const names = readdirSync(folder).filter((name) => name.endsWith('.yaml'))
  return names.sort().map((name) => loadProcedure(join(folder, name), system).procedure)
}
