import { Bench } from '@halfsplit/diagnosis'
import type { Job } from '@halfsplit/job'
import { faultKey, type System } from '@halfsplit/system'
import { modeOf, repairOf } from '../virtual-machine.js'
import type { Procedure } from '../written/model.js'
import { followBench } from './follow-bench.js'
import { followPlan } from './follow-plan.js'
import { followSheet } from './follow-sheet.js'
import { likeliestFirst } from './likeliest-first.js'
import { without } from './mismatch.js'
import type { End, JobOutcome, WayName } from './outcome.js'
import { CaseSource, type TrialCase, type TrialSetting } from './trial-case.js'
import { Workplace } from './workplace.js'

/** A way of working a job to its end; undefined where it is none for this job. */
type Way = (place: Workplace) => End | undefined

/** A trial of one system: draws jobs and has each worked in several ways, each on the same specimen of the machine. */
export class Trial {
  readonly source: CaseSource
  readonly bench: Bench
  private readonly ways: Readonly<Record<WayName, Way>> = {
    bench: followBench,
    plan: followPlan,
    likeliest: likeliestFirst,
    sheet: (place) => followSheet(place, this.sheets),
  }

  /**
   * @param bench of the whole description, to share what it has computed; used unless something is missing from what it is told
   * @param sheets written procedures of the system, each for a complaint
   */
  constructor(
    readonly system: System,
    setting: TrialSetting,
    bench?: Bench,
    private readonly sheets: readonly Procedure[] = [],
  ) {
    this.source = new CaseSource(system, setting)
    const { missing } = this.source
    this.bench = missing.size > 0 ? new Bench(without(system, missing)) : (bench ?? new Bench(system))
  }

  /** How job i went; undefined where no machine drawn for it showed a complaint of the description. */
  work(index: number, ways: readonly WayName[]): JobOutcome | undefined {
    const given = this.source.at(index)
    if (!given) return undefined
    const worked: JobOutcome['ways'] = {}
    for (const way of ways) {
      const place = new Workplace(this.bench, given)
      const end = this.ways[way](place)
      if (end) worked[way] = place.end(end)
    }
    return { ...this.described(given), ways: worked }
  }

  /** Job i as the bench worked it, with its log: what `isolate --job` opens. */
  job(index: number): Job | undefined {
    const given = this.source.at(index)
    if (!given) return undefined
    const place = new Workplace(this.bench, given)
    followBench(place)
    return place.job
  }

  private described({ index, truth, complaint, redrawn, missing }: TrialCase): Omit<JobOutcome, 'ways'> {
    return {
      index,
      truth: truth.map(faultKey),
      cures: [...new Set(truth.map((fault) => repairOf(this.system, fault)))],
      comesAndGoes: truth.some((fault) => modeOf(this.system, fault).intermittent),
      missing,
      complaint: complaint.id,
      redrawn,
    }
  }
}
