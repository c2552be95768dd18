/** Reference kind `reliability`: failure rates, proportions and comparison of suppliers from small tables. */

import {
  chanceFirstHigher,
  chanceOfCount,
  chanceOfFailure,
  clopperPearson,
  dirichletShares,
  exactTableTest,
  fisherTest,
  garwoodInterval,
  type Interval,
  jeffreysCentral,
  jeffreysInterval,
  jeffreysMean,
  rateMoments,
  rateQuantile,
  updateRate,
} from '@halfsplit/measurement'
import { readPlanningCases } from './plan-cases.js'
import { judge } from './posterior-compare.js'
import { relativeDifferences } from './relative-compare.js'
import type { Runner } from './runner.js'

/** Relative, on every number. */
const TOLERANCE = 1e-9

interface GammaInput {
  prior_shape: number
  prior_exposure: number
  failures: number
  exposure: number
  next_exposure: number
}

const pair = ({ low, high }: Interval): number[] => [low, high]

function gammaCase(input: GammaInput) {
  const { failures, exposure, next_exposure: next } = input
  const known = updateRate({ shape: input.prior_shape, exposure: input.prior_exposure }, failures, exposure)
  return {
    posterior_shape: known.shape,
    posterior_exposure: known.exposure,
    ...rateMoments(known),
    quantiles: Object.fromEntries(['0.025', '0.05', '0.5', '0.95', '0.975'].map((p) => [p, rateQuantile(known, Number(p))])),
    next_count_probability_0_to_3: [0, 1, 2, 3].map((count) => chanceOfCount(known, next, count)),
    probability_at_least_one: chanceOfFailure(known, next),
    exact_poisson_interval_95: Number.isInteger(failures) ? pair(garwoodInterval(failures, exposure, 0.95)) : null,
  }
}

function dirichletCase({ prior, counts }: { prior: Record<string, number>; counts: Record<string, number> }) {
  const kinds = Object.keys(prior)
  const weights = kinds.map((kind) => prior[kind] + (counts[kind] ?? 0))
  const shares = dirichletShares(weights, 0.95)
  const byKind = <T>(value: (kind: number) => T) => Object.fromEntries(kinds.map((kind, i) => [kind, value(i)]))
  return {
    posterior: byKind((i) => weights[i]),
    mean: byKind((i) => shares[i].mean),
    sd: byKind((i) => shares[i].sd),
    marginal_interval_95: byKind((i) => pair(shares[i].interval)),
  }
}

function binomialCase({ failures, n }: { failures: number; n: number }) {
  const at = (level: number) => ({
    [`jeffreys_${level}`]: pair(jeffreysInterval(failures, n, level)),
    [`jeffreys_equal_tailed_unmodified_${level}`]: pair(jeffreysCentral(failures, n, level)),
    [`clopper_pearson_${level}`]: pair(clopperPearson(failures, n, level)),
  })
  return { jeffreys_mean: jeffreysMean(failures, n), ...at(0.9), ...at(0.95) }
}

function fisherCase({ table }: { table: [[number, number], [number, number]] }) {
  const { twoSided, firstFailsMore, firstFailsLess, sampleOddsRatio } = fisherTest(table)
  const [first, second] = table.map(([failures, good]) => ({ failures, number: failures + good }))
  return {
    p_two_sided: twoSided,
    p_first_fails_more: firstFailsMore,
    p_first_fails_less: firstFailsLess,
    sample_odds_ratio: sampleOddsRatio,
    probability_first_rate_higher_jeffreys: chanceFirstHigher(first, second),
  }
}

const tableCase = ({ table }: { table: number[][] }) => ({ p_exact_all_tables: exactTableTest(table) })

/** What is computed for each kind of case. */
const KINDS: Record<string, (input: never) => Record<string, unknown>> = {
  gamma: gammaCase,
  gamma_soft: gammaCase,
  dirichlet: dirichletCase,
  binomial: binomialCase,
  fisher: fisherCase,
  table: tableCase,
}

export const reliability: Runner = (directory) =>
  readPlanningCases<never, Record<string, unknown>>(directory, 'reliability.json').map((one) => {
    const { id, input, expected, kind } = one as typeof one & { kind: string }
    const compute = KINDS[kind]
    return judge(id, () =>
      compute === undefined ? [`no kind of case '${kind}'`] : relativeDifferences(compute(input), expected, TOLERANCE),
    )
  })
