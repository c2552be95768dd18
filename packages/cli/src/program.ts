import { readFileSync } from 'node:fs'
import { Command, CommanderError } from 'commander'
import { type AuditCommandOptions, auditCommand } from './commands/audit.js'
import { checkCommand } from './commands/check.js'
import { demoCommand } from './commands/demo.js'
import { faultsCommand } from './commands/faults.js'
import { type IsolateOptions, isolateCommand } from './commands/isolate.js'
import { type PlanCommandOptions, planCommand } from './commands/plan.js'
import { type ReadingsOptions, readingsCommand } from './commands/readings.js'
import { runCommand } from './commands/run.js'
import { trialCommand } from './commands/trial.js'
import { REFERENCE_KINDS, referenceCommand } from './commands/reference.js'
import { EXIT, EXIT_MEANINGS, type ExitCode } from './exit-codes.js'
import type { Io } from './io.js'
import type { RunOptions } from './run/request.js'
import { Stop } from './stop.js'
import type { TrialOptions } from './trial/tables.js'

const FAN = 'library/fan-drive/fan-drive.yaml'
const FAN_SHEET = 'library/fan-drive/procedures/fan-never-stops.yaml'
const TRAILER = 'library/trailer-lights/trailer-lights.yaml'

const examples = (...lines: string[]): string => `\nExamples:\n${lines.map((line) => `  halfsplit ${line}`).join('\n')}`

const EXITS = `\nExit codes:\n${(Object.keys(EXIT) as (keyof typeof EXIT)[])
  .map((name) => `  ${String(EXIT[name]).padEnd(4)}${EXIT_MEANINGS[name]}`)
  .join('\n')}`

const version = (): string =>
  (JSON.parse(readFileSync(new URL('../package.json', import.meta.url), 'utf8')) as { version: string }).version

/**
 * Runs one command line. Never throws: what goes wrong is said on stderr, once more as JSON on stdout where that was asked for.
 * @param args without the program's own name
 */
export async function runProgram(io: Io, args: readonly string[]): Promise<ExitCode> {
  let exit: ExitCode = EXIT.ok
  try {
    await program(io, (code) => {
      exit = code
    }).parseAsync(args, { from: 'user' })
    return exit
  } catch (error) {
    if (error instanceof CommanderError) return error.exitCode === 0 ? EXIT.ok : EXIT.usage
    return failed(io, error, args.includes('--json'))
  }
}

function failed(io: Io, error: unknown, json: boolean): ExitCode {
  const known = error instanceof Stop
  const exitCode = known ? error.exitCode : EXIT.internal
  const message = error instanceof Error ? error.message : String(error)
  const issues = known ? error.issues : []
  // Issues carry their own places; anything else begins with who speaks.
  io.err(issues.length > 0 ? `${message}\n` : `halfsplit: ${known ? '' : 'a mistake of the program itself: '}${message}\n`)
  if (json) io.out(`${JSON.stringify({ format: 'halfsplit-error/1', exitCode, message, issues }, null, 2)}\n`)
  return exitCode
}

function program(io: Io, end: (code: ExitCode) => void): Command {
  const root = new Command('halfsplit')
    .description('From a described machine and a complaint to the part that failed.')
    .version(version(), '--version')
    .helpCommand(false)
    .exitOverride()
    .configureOutput({
      writeOut: io.out,
      writeErr: io.err,
      outputError: (text, write) => write(text.replace(/^error: /, 'halfsplit: ')),
      getOutHasColors: () => io.colour,
      getErrHasColors: () => false,
    })
    .showHelpAfterError('(halfsplit --help shows the commands, and halfsplit COMMAND --help each of them)')
    .addHelpText('after', examples('demo', `check ${FAN}`, `isolate ${TRAILER}`) + `\n${EXITS}`)
  addDescribed(root, io, end)
  addRun(root, io, end)
  addJobs(root, io, end)
  addWritten(root, io, end)
  addPlan(root, io, end)
  addTrial(root, io, end)
  return root
}

function addDescribed(root: Command, io: Io, end: (code: ExitCode) => void): void {
  root
    .command('check')
    .description('all mistakes of one or more descriptions, each with its place and a fix')
    .argument('<file...>', 'descriptions')
    .option('--json', 'print JSON (docs/reference/json.md)')
    .addHelpText('after', examples(`check ${FAN}`, 'check library/*/*.yaml --json'))
    .action((files: string[], options: { json?: boolean }) => end(checkCommand(io, files, options)))
  root
    .command('readings')
    .description('what every point of a healthy machine reads in a state, with limits and what they depend on')
    .argument('<file>', 'description')
    .requiredOption('--state <name>', 'state of the machine')
    .option('--meter <name>', 'use this meter of the description for what it measures')
    .option('--temperature <value>', 'hold every part that has a temperature at this one, as in "95 degC"')
    .option('--json', 'print JSON (docs/reference/json.md)')
    .addHelpText('after', examples(`readings ${FAN} --state idle_cold`, `readings ${FAN} --state parked --temperature "85 degC"`))
    .action((file: string, options: ReadingsOptions) => end(readingsCommand(io, file, options)))
  root
    .command('faults')
    .description('every failure mode: what can be seen of it, how often it happens, the repair')
    .argument('<file>', 'description')
    .option('--json', 'print JSON (docs/reference/json.md)')
    .addHelpText('after', examples(`faults ${TRAILER}`))
    .action((file: string, options: { json?: boolean }) => end(faultsCommand(io, file, options)))
}

function addRun(root: Command, io: Io, end: (code: ExitCode) => void): void {
  const another = (value: string, before: string[]) => [...before, value]
  root
    .command('run')
    .description('a scenario over time: what happens when, with a fault and without')
    .argument('<file>', 'description')
    .requiredOption('--scenario <name>', 'scenario of the description')
    .option('--fault <PART.mode[@size]>', 'with this fault; once for each of several', another, [])
    .option('--for <time>', 'run for this long, as in "40 min"')
    .option(
      '--watch <names>',
      'what to chart and write, separated by commas: CL1.air, "SV1.coil_a to SV1.coil_b", "into SV1.coil_a"',
    )
    .option('--csv <file>', 'write what is watched as a table')
    .option('--chart <file>', 'draw what is watched (SVG)')
    .option('--every <time>', 'time from row to row, as in "1 s"')
    .option('--seed <word>', 'another word draws other spells of faults that come and go', 'monday')
    .option('--json', 'print JSON (docs/reference/json.md)')
    .addHelpText(
      'after',
      examples(
        `run ${FAN} --scenario work`,
        `run ${FAN} --scenario work --fault "K7.high_contact_resistance@25 Ohm" --chart work.svg`,
        `run ${FAN} --scenario work --for "40 min" --watch CL1.air,CL1.drive --every "1 s" --csv work.csv`,
      ),
    )
    .action((file: string, options: RunOptions) => end(runCommand(io, file, options)))
}

function addJobs(root: Command, io: Io, end: (code: ExitCode) => void): void {
  root
    .command('isolate')
    .description('from a complaint and readings to the failed part, test by test')
    .argument('<file>', 'description')
    .option('--job <file>', 'go on with a kept job; entries are kept there')
    .option('--complaint <id>', 'begin with this complaint of the description')
    .option('--save <file>', 'keep the job in this new file')
    .option('--comeback <file>', 'begin as the comeback of this earlier job on the same machine')
    .option('--days <number>', 'age of the earlier job; else by the time of its last entry')
    .option('--json', 'print where the job stands as JSON, and ask nothing')
    .addHelpText(
      'after',
      examples(
        `isolate ${TRAILER}`,
        `isolate ${TRAILER} --complaint left_tail_goes_out --save job.yaml`,
        `isolate ${TRAILER} --job job.yaml --json`,
      ),
    )
    .action(async (file: string, options: IsolateOptions) => end(await isolateCommand(io, file, options)))
  root
    .command('demo')
    .description('a job to try: a fault is hidden in the described fan drive, and you find it')
    .option('--seed <word>', 'another word hides another fault in another specimen of the machine', 'monday')
    .option('--json', 'print a worked job as JSON, and ask nothing')
    .addHelpText('after', examples('demo', 'demo --seed tuesday'))
    .action(async (options: { seed: string; json?: boolean }) => end(await demoCommand(io, options)))
  root
    .command('reference')
    .description('run the reference cases of a kind; the last line counts them')
    .argument('<kind>', REFERENCE_KINDS.join(', '))
    .argument('[folder]', "files of the same form; the project's own unless given")
    .option('--json', 'print JSON (docs/reference/json.md)')
    .addHelpText('after', examples('reference circuits', 'reference handbook other-cases'))
    .action((kind: string, folder: string | undefined, options: { json?: boolean }) =>
      end(referenceCommand(io, kind, folder, options)),
    )
}

/** What is written about a machine by others. */
function addWritten(root: Command, io: Io, end: (code: ExitCode) => void): void {
  root
    .command('audit')
    .description('a written procedure held against every fault: what it gets wrong, condemns, never finds, and costs')
    .argument('<file>', 'description')
    .argument('<procedure>', 'procedure (docs/reference/procedure.md)')
    .option('--no-plan', 'leave the computed plan out, which takes longer than the audit')
    .option('--json', 'print JSON (docs/reference/json.md)')
    .addHelpText('after', examples(`audit ${FAN} ${FAN_SHEET}`))
    .action((file: string, sheet: string, options: AuditCommandOptions) => end(auditCommand(io, file, sheet, options)))
}

function addPlan(root: Command, io: Io, end: (code: ExitCode) => void): void {
  root
    .command('plan')
    .description('the whole procedure for a complaint, with what it finds, costs, and cannot tell apart')
    .argument('<file>', 'description')
    .option('--complaint <id>', 'for this complaint of the description; else for any fault of the machine')
    .option('--tree', 'print it as a tree instead of steps')
    .option('--steps <number>', 'work out so many steps; rarer ways end in repairs in order')
    .option('--json', 'print JSON (docs/reference/json.md)')
    .addHelpText('after', examples(`plan ${TRAILER} --complaint left_tail_goes_out`, `plan ${FAN} --tree`))
    .action((file: string, options: PlanCommandOptions) => end(planCommand(io, file, options)))
}

function addTrial(root: Command, io: Io, end: (code: ExitCode) => void): void {
  root
    .command('trial')
    .description('many jobs on virtual machines, worked by the bench and by its rivals: what came of them')
    .argument('<file>', 'description')
    .option('--jobs <number>', 'jobs to draw', '2000')
    .option('--seed <word>', 'another word draws other jobs', 'monday')
    .option('--mismatched', 'four more tables: machines, rates, meters and faults that are not as described')
    .option('--plan', 'work each job by expected cost too, and hold the cost against the best plan and its bound')
    .option('--falsify <share>', 'one fault a job, and this share of all records falsified, as in 0.05')
    .option('--pairs <number>', 'so many jobs with two faults')
    .option('--pairs-of <number>', 'each two of the so many likeliest repairs, once')
    .option('--workers <number>', 'jobs worked at once; one a core unless given. It changes no result')
    .option('--job <number>', 'print this one job as the bench works it, for isolate --job')
    .option('--json', 'print JSON (docs/reference/json.md)')
    .addHelpText(
      'after',
      examples(`trial ${TRAILER} --jobs 100`, `trial ${TRAILER} --mismatched`, `trial ${FAN} --pairs 2000 --seed tuesday`),
    )
    .action(async (file: string, options: TrialOptions) => end(await trialCommand(io, file, options)))
}
