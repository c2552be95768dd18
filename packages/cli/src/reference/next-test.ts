/** Reference kind `next-test`: information and expected entropy of each test, best per cost, at the beliefs of posterior.json. */

import { entropyBits, moments, planTableTest, rankTests, type TableModel, tableBelief, tableModel } from '@halfsplit/inference'
import { differences, judge } from './posterior-compare.js'
import { descriptionOf, readCases, resultsOf, type TableInput } from './posterior-table.js'
import type { Runner } from './runner.js'

/** Bits; also on the predicted means and probabilities, which the same sums give. */
const TOLERANCE = 1e-6

type Expected = Record<string, unknown>

function plannedTest(
  model: TableModel,
  probability: Float64Array,
  { id, kind, cost }: TableInput['tests'][number],
  isDone: boolean,
) {
  const { predictive, information, expectedEntropy } = planTableTest(model, probability, id)
  const [{ score }] = rankTests([{ id, information, cost }])
  const { mean, sd } = moments(predictive) ?? {}
  return {
    test: id,
    kind,
    done: isDone,
    cost,
    predicted_mean: mean,
    predicted_sd: sd,
    predicted_outcome_probability: [...predictive.words],
    information_bits: information,
    expected_posterior_entropy_bits: expectedEntropy,
    information_per_cost: score,
  }
}

function computed(input: TableInput) {
  const model = tableModel(descriptionOf(input))
  const { probability, contradiction } = tableBelief(model, resultsOf(input))
  if (contradiction) return { contradiction, tests: null, best: null }
  const done = new Set(resultsOf(input).flatMap(({ test, result }) => (result === null ? [] : [test])))
  const tests = input.tests.map((test) => plannedTest(model, probability, test, done.has(test.id)))
  const open = tests.filter((test) => !test.done)
  const [first, second] = rankTests(
    open.map(({ test, information_bits: information, cost }) => ({ id: test, information, cost })),
  )
  const best = first !== undefined && first.score > 0 ? first : null
  return {
    contradiction,
    entropy_now_bits: entropyBits(probability),
    tests,
    best: best?.id ?? null,
    best_information_per_cost: best?.score ?? null,
    second_information_per_cost: second?.score ?? null,
  }
}

export const nextTest: Runner = (directory) => {
  const states = new Map(readCases<unknown>(directory, 'posterior.json').map(({ id, input }) => [id, input]))
  return readCases<Expected>(directory, 'next-test.json').map(({ id, input_is_case: from, expected }) =>
    judge(id, () => {
      const input = states.get(from ?? '')
      return input === undefined
        ? [`no case '${String(from)}' in posterior.json`]
        : differences(computed(input), expected, TOLERANCE)
    }),
  )
}
