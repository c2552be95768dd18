import { MISMATCHES, type Mismatch, type TrialSetting, type WayName } from '@halfsplit/procedure'
import { EXIT } from '../exit-codes.js'
import { Stop } from '../stop.js'

/** What `halfsplit trial` was asked for, as typed. */
export interface TrialOptions {
  jobs: string
  seed: string
  mismatched?: boolean
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
  missing: 'Failure modes that the bench was not told of (3 % of them, half of the jobs)',
}

/** Share of the jobs that each mismatched table has. */
const MISMATCHED_SHARE = 1 / 4

/** The tables that were asked for. @throws Stop for an option that cannot be read */
export function tablesOf({ jobs, seed, mismatched, falsify, pairs, pairsOf }: TrialOptions): Table[] {
  const number = wholeNumber('--jobs', jobs)
  const asked: Table[] = []
  if (falsify !== undefined) {
    const falsified = shareIn('--falsify', falsify)
    const title = `One fault, and ${(100 * falsified).toPrecision(3).replace(/\.?0+$/, '')} % of all records falsified`
    asked.push({ id: 'falsified', title, setting: { seed, faults: 'one', falsified }, jobs: number, ways: ['bench'] })
  }
  if (pairs !== undefined) {
    const setting: TrialSetting = { seed, faults: 'two' }
    asked.push({ id: 'pairs', title: 'Two faults', setting, jobs: wholeNumber('--pairs', pairs), ways: ['bench'] })
  }
  if (pairsOf !== undefined) {
    const most = wholeNumber('--pairs-of', pairsOf)
    const setting: TrialSetting = { seed, faults: { pairsOf: most } }
    const title = `Each two of the ${most} likeliest repairs`
    asked.push({ id: 'pairs of the likeliest', title, setting, jobs: undefined, ways: ['bench'] })
  }
  if (asked.length > 0 && !mismatched) return asked
  const matched: Table = {
    id: 'matched',
    title: 'Machines as described',
    setting: { seed, faults: 'by weight' },
    jobs: number,
    ways: ['bench', 'likeliest', 'sheet'],
  }
  if (!mismatched) return [matched]
  const some = Math.max(1, Math.round(number * MISMATCHED_SHARE))
  const others = MISMATCHES.map((mismatch): Table => {
    const setting: TrialSetting = { seed, faults: 'by weight', mismatch }
    return { id: mismatch, title: TITLES[mismatch], setting, jobs: some, ways: ['bench', 'likeliest'] }
  })
  return [...asked, matched, ...others]
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
