import { ASSUMPTIONS } from '@halfsplit/core'
import type { Bench } from '../bench.js'
import type { FaultMode } from '../faults.js'
import { presence } from '../hypotheses.js'
import { risks } from '../prove/risk.js'
import type { Standing } from '../view.js'

const DAYS_PER_YEAR = 365.25

/**
 * What an earlier job on the same machine makes of the prior of each fault: factors on its odds against a sound machine, by fault id. The
 * old readings say what the machine was then, and faults do not heal: what was believed still there at the end of that job is there now.
 * What was not may have come in since, with the failure rate over the time that has passed:
 *     P(now) = P(then) + (1 - P(then)) (1 - exp(-rate x age))
 * So old evidence against a fault wears off as fast as the fault comes in, and never faster. Whatever the old job moved or repaired has
 * its errors of building and its disturbed contacts counted in P(then). A hidden fault that the old job left alone keeps its own prior.
 * @param then standing at the end of the earlier job, its repairs made   @param ageDays from its end to now [day], >= 0
 * @returns factor by fault id; 1 is left out
 */
export function priorFactors(bench: Bench, then: Standing, ageDays: number): ReadonlyMap<string, number> {
  if (!(ageDays >= 0)) throw new RangeError(`a comeback is older than its job by 0 days or more; received ${ageDays}`)
  const years = ageDays / DAYS_PER_YEAR
  const there = stillThere(bench, then)
  const factors = new Map<string, number>()
  for (const { faults, weight } of then.hypotheses) {
    if (faults.length !== 1) continue
    const [fault] = faults
    const factor = oddsNow(fault, there.get(fault.id) ?? 0, years) / weight
    const kept = hides(fault, weight) ? Math.max(1, factor) : factor
    if (Math.abs(Math.log(kept)) > 1e-6) factors.set(fault.id, kept)
  }
  for (const [id, probability] of there)
    if (!then.hypotheses.some((one) => one.id === id)) factors.set(id, factorOf(bench, id, probability, years))
  return factors
}

/** A fault that only counts after somebody's work: its own prior is that of a month's exposure. */
function factorOf({ faults }: Bench, id: string, then: number, years: number): number {
  const fault = faults.find((one) => one.id === id) as FaultMode
  return oddsNow(fault, then, years) / odds(presence(fault.rate, ASSUMPTIONS.noticedExposure))
}

const oddsNow = ({ rate }: FaultMode, then: number, years: number): number =>
  odds(then + (1 - then) * presence(rate, Math.min(years, ASSUMPTIONS.hiddenExposure)))

const odds = (probability: number): number => probability / Math.max(1 - probability, 1e-9)

/** Its prior is that of two years without proof, not of a month without complaint. */
const hides = ({ rate }: FaultMode, weight: number): boolean =>
  weight > odds(presence(rate, (ASSUMPTIONS.noticedExposure + ASSUMPTIONS.hiddenExposure) / 2))

/** Probability of each fault being in the machine at the end of the earlier job. */
function stillThere(bench: Bench, then: Standing): Map<string, number> {
  const found = new Map<string, number>()
  for (const { faults, probability } of risks(bench, then))
    for (const { fault } of faults) found.set(fault.id, Math.min(1, (found.get(fault.id) ?? 0) + probability))
  return found
}
