import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { HalfsplitError } from '@halfsplit/core'
import { air } from './handbook-air.js'
import { battery } from './handbook-battery.js'
import { brake } from './handbook-brake.js'
import { codes } from './handbook-codes.js'
import { coil } from './handbook-coil.js'
import { contact } from './handbook-contact.js'
import { coolant } from './handbook-coolant.js'
import { diode } from './handbook-diode.js'
import { fuse } from './handbook-fuse.js'
import { heat } from './handbook-heat.js'
import { judge } from './handbook-judge.js'
import { lamp } from './handbook-lamp.js'
import { oil } from './handbook-oil.js'
import type { Row, Topic } from './handbook-row.js'
import { safety } from './handbook-safety.js'
import { sensor } from './handbook-sensor.js'
import { trade } from './handbook-trade.js'
import { units } from './handbook-units.js'
import { wire } from './handbook-wire.js'
import type { CaseResult, Runner } from './runner.js'

interface HandbookFile {
  format: string
  topic: number
  title: string
  rows: Row[]
}

const TOPICS: Record<number, Topic> = {
  1: wire,
  2: coil,
  3: fuse,
  4: sensor,
  5: coolant,
  6: air,
  7: oil,
  8: brake,
  9: battery,
  10: codes,
  11: contact,
  12: lamp,
  13: diode,
  14: heat,
  15: safety,
  16: units,
  17: trade,
}

function runRow(row: Row, file: HandbookFile): CaseResult {
  const topic = TOPICS[file.topic]
  if (!topic) return { id: row.id, outcome: 'skipped', detail: `topic ${file.topic} (${file.title}) is not computed yet` }
  try {
    return judge(row, topic(row, file.rows))
  } catch (error) {
    // A unit or a limit the row has and the project does not know; anything else is a mistake of ours and must be seen.
    if (!(error instanceof HalfsplitError)) throw error
    // A row beyond a formula's range is not computed, which is said.
    if (error.code === 'VALUE_IMPOSSIBLE') return { id: row.id, outcome: 'skipped', detail: error.message }
    return { id: row.id, outcome: 'failed', detail: `${error.code}: ${error.message}` }
  }
}

/** Runs every row of the handbook files (format halfsplit-handbook-check/1) of a directory; other JSON files are passed over. */
export const handbook: Runner = (directory) =>
  readdirSync(directory)
    .filter((name) => name.endsWith('.json'))
    .sort()
    .map((name) => JSON.parse(readFileSync(join(directory, name), 'utf8')) as HandbookFile)
    .filter((file) => file.format === 'halfsplit-handbook-check/1')
    .flatMap((file) => file.rows.map((row) => runRow(row, file)))
