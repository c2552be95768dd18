/** Reference kind `posterior`: exact beliefs over single and double faults from tables. */

import { entropyBits, tableBelief, tableMarginals, tableModel } from '@halfsplit/inference'
import { differences, judge } from './posterior-compare.js'
import { descriptionOf, readCases, resultsOf, type TableInput } from './posterior-table.js'
import type { Runner } from './runner.js'

/** On probabilities and entropies; on the log of the evidence. */
const TOLERANCE = 1e-9
const LOG_TOLERANCE = 1e-8

type Expected = Record<string, unknown> & { log_evidence: number | null }

function computed(input: TableInput) {
  const model = tableModel(descriptionOf(input))
  const { probability, logEvidence, contradiction } = tableBelief(model, resultsOf(input))
  const { faults, components } = tableMarginals(model, probability)
  const hypotheses = model.hypotheses.map(({ id }) => id)
  const known = <T>(value: T): T | null => (contradiction ? null : value)
  return {
    n_hypotheses: hypotheses.length,
    hypotheses,
    prior: [...model.prior],
    prior_entropy_bits: entropyBits(model.prior),
    contradiction,
    log_evidence: known(logEvidence),
    posterior: known([...probability]),
    fault_marginal: known(faults),
    component_marginal: known(components),
    posterior_entropy_bits: known(entropyBits(probability)),
    most_probable: known(hypotheses[probability.indexOf(Math.max(...probability))]),
  }
}

export const posterior: Runner = (directory) =>
  readCases<Expected>(directory, 'posterior.json').map(({ id, input, expected }) =>
    judge(id, () => {
      const { log_evidence: ourLog, ...ours } = computed(input)
      const { log_evidence: log, ...rest } = expected
      return [
        ...differences(ours, rest, TOLERANCE),
        ...differences({ log_evidence: ourLog }, { log_evidence: log }, LOG_TOLERANCE),
      ]
    }),
  )
