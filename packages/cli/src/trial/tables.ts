import { MISMATCHES, type Mismatch, type TrialSetting, type WayName } from '@halfsplit/procedure'
import { EXIT } from '../exit-codes.js'
import { Stop } from '../stop.js'

/** What `halfsplit trial` was asked for, as typed. */
export interface TrialOptions {
  jobs: string
  seed: string
  mismatched?: boolean
  plan?: boolean
  falsify?: string
  pairs?: string
  pairsOf?: string
  workers?: string
  job?: string
  json?: boolean
}

/** One table of a trial: which jobs are drawn, how many, and how they are worked. */
export interface Table {
  id: 'matched' | Mismatch | 'falsified' | 'pairs' | 'pairs of the likeliest'
  title: string
  setting: TrialSetting
  /** Undefined where the jobs are given one by one. */
  jobs: number | undefined
  ways: readonly WayName[]
}

const TITLES: Readonly<Record<Mismatch, string>> = {
  tolerances: 'Part values uniform, and one and a half times as wide as described',
  rates: 'True rates three times the described ones, or a third of them',
  meter: 'Meters off by their full limit',
  missing: 'Bench not told of 3 % of the failure modes, which half of the machines drawn have',
}

/** Share of the jobs that each mismatched table has. */
const MISMATCHED_SHARE = 1 / 4

/** The tables that were asked for. @throws Stop for an option that cannot be read */
export function tablesOf(options: TrialOptions): Table[] {
  const asked = askedFor(options)
  if (asked.length > 0 && !options.mismatched) return asked
  return [...asked, matched(options), ...(options.mismatched ? mismatched(options) : [])]
}

/** Tables of one sort of job. */
function askedFor({ jobs, seed, falsify, pairs, pairsOf, plan }: TrialOptions): Table[] {
  const ways: WayName[] = plan ? ['bench', 'plan'] : ['bench']
  const asked: Table[] = []
  if (falsify !== undefined) {
    const falsified = shareIn('--falsify', falsify)
    const title = `One fault, and ${(100 * falsified).toPrecision(3).replace(/\.?0+$/, '')} % of all records falsified`
    asked.push({ id: 'falsified', title, setting: { seed, faults: 'one', falsified }, jobs: wholeNumber('--jobs', jobs), ways })
  }
  if (pairs !== undefined) {
    const setting: TrialSetting = { seed, faults: 'two' }
    asked.push({ id: 'pairs', title: 'Two faults', setting, jobs: wholeNumber('--pairs', pairs), ways })
  }
  if (pairsOf !== undefined) {
    const most = wholeNumber('--pairs-of', pairsOf)
    const setting: TrialSetting = { seed, faults: { pairsOf: most } }
    const title = `Each two of the ${most} likeliest repairs`
    asked.push({ id: 'pairs of the likeliest', title, setting, jobs: undefined, ways })
  }
  return asked
}

const matched = ({ jobs, seed, plan }: TrialOptions): Table => ({
  id: 'matched',
  title: 'Machines as described',
  setting: { seed, faults: 'by weight' },
  jobs: wholeNumber('--jobs', jobs),
  ways: plan ? ['bench', 'plan', 'likeliest', 'sheet'] : ['bench', 'likeliest', 'sheet'],
})

function mismatched({ jobs, seed }: TrialOptions): Table[] {
  const some = Math.max(1, Math.round(wholeNumber('--jobs', jobs) * MISMATCHED_SHARE))
  return MISMATCHES.map((mismatch) => {
    const setting: TrialSetting = { seed, faults: 'by weight', mismatch }
    return { id: mismatch, title: TITLES[mismatch], setting, jobs: some, ways: ['bench', 'likeliest'] }
  })
}

/** @throws Stop */
export function wholeNumber(option: string, text: string): number {
  const value = Number(text)
  if (Number.isInteger(value) && value >= 1) return value
  throw new Stop(EXIT.usage, `${option} takes a whole number from 1 up, not '${text}'`)
}

function shareIn(option: string, text: string): number {
  const value = Number(text)
  if (value >= 0 && value < 1 && text.trim() !== '') return value
  throw new Stop(EXIT.usage, `${option} takes a share from 0 to below 1, as in 0.05, not '${text}'`)
}
