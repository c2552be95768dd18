import type { Job } from '@halfsplit/job'
import { EXIT } from '../exit-codes.js'
import { Stop } from '../stop.js'

const MS_PER_DAY = 86_400_000

/**
 * A new job as the comeback of an earlier one: its complaint stands unless another is given, and what was read and done then counts with its age.
 * @param days from the end of the earlier job to now; taken from its last entry's time where none are given
 * @throws Stop where the earlier job says no time and none is given, or lies in the future
 */
export function comebackJob(job: Job, earlier: Job, now: string, days: number | undefined): Job {
  const ageDays = days ?? daysSince(earlier, now)
  if (!(ageDays >= 0))
    throw new Stop(EXIT.usage, `the earlier job lies ${-ageDays} days ahead; give its age in days with --days, as in --days 12`)
  const { words, looks } = job.complaint
  const given = words !== '' || (looks?.length ?? 0) > 0
  return {
    ...job,
    complaint: given ? job.complaint : withoutWork(earlier.complaint),
    comebackOf: { ageDays, complaint: earlier.complaint, entries: earlier.entries },
  }
}

/** What was asked then of earlier work has been asked; since then it was this shop. */
const withoutWork = (complaint: Job['complaint']): Job['complaint'] => ({ ...complaint, workedOnSince: undefined })

function daysSince({ entries }: Job, now: string): number {
  const last = entries.findLast(({ at }) => at !== undefined && !Number.isNaN(Date.parse(at)))?.at
  if (last === undefined)
    throw new Stop(EXIT.usage, 'the earlier job does not say when it was; give its age in days with --days, as in --days 12')
  return Math.round(((Date.parse(now) - Date.parse(last)) / MS_PER_DAY) * 10) / 10
}
