// Draws a recorded job for the library: `node scripts/draw-jobs.mjs SYSTEM COMPLAINT PART.mode[@size in SI] NAME [SEED]`.
// The virtual machine hides the fault and is read with meters that err; the technician does what the bench proposes.
// Writes library/SYSTEM/jobs/NAME.job.json, and NAME.truth.json beside it, which no command of the bench opens.
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs'
import { createRandom } from '@halfsplit/core'
import { Bench } from '@halfsplit/diagnosis'
import { serialiseJob } from '@halfsplit/job'
import { drawJob } from '@halfsplit/procedure'
import { parseSystem } from '@halfsplit/system'

const MOST_TESTS = 14
const [folder, complaint, faultText, name, seed = name] = process.argv.slice(2)
if (!name) {
  console.error('usage: node scripts/draw-jobs.mjs SYSTEM COMPLAINT PART.mode[@size] NAME [SEED]')
  process.exit(2)
}
const path = `library/${folder}/${folder}.yaml`
const { system, issues } = parseSystem(readFileSync(path, 'utf8'), path)
if (!system) {
  for (const { code, message } of issues) console.error(`${path}: ${code}: ${message}`)
  process.exit(1)
}
const [modeText, size] = faultText.split('@')
const cut = modeText.lastIndexOf('.')
const fault = { part: modeText.slice(0, cut), mode: modeText.slice(cut + 1), ...(size ? { severity: Number(size) } : {}) }
const drawn = drawJob(new Bench(system), { truth: [fault], complaint, most: MOST_TESTS }, createRandom(seed))
const to = `library/${folder}/jobs`
mkdirSync(to, { recursive: true })
writeFileSync(`${to}/${name}.job.json`, serialiseJob(drawn.job))
writeFileSync(
  `${to}/${name}.truth.json`,
  `${JSON.stringify({ invented: true, faults: [fault], repairs: drawn.repairs }, null, 2)}\n`,
)
const [first, second] = drawn.standing.repairs
console.log(`${folder} ${name}: ${drawn.job.entries.length} entries, complaint ${drawn.complaintShown ? 'shown' : 'NOT shown'}`)
console.log(
  `  cured by ${drawn.repairs.join(', ')}; bench: ${first.repair} ${first.probability.toFixed(4)}, then ${second?.repair} ${second?.probability.toFixed(4)}`,
)
