/** Worked examples of diagnosis from a model of equations: conflicts, minimal diagnoses, posterior, best measurement. */

import {
  bestTest,
  equationRelation,
  type FiniteModel,
  finiteBelief,
  measuringEntropy,
  minimalConflicts,
  minimalDiagnoses,
  parseEquation,
  partProbability,
  variableMarginal,
} from '@halfsplit/inference'
import { type Answers, numberIn, type WorkedExample } from './worked-examples-case.js'

interface EquationInputs {
  components: string[]
  equations: string[]
  values: Record<string, number>
  readings: Record<string, number>
  probabilityModel: string
}

function modelOf({ components, equations, probabilityModel }: EquationInputs): FiniteModel | string {
  const parsed = equations.map(parseEquation).filter((equation) => equation !== null)
  if (parsed.length < equations.length) return 'an equation that is no sum of products'
  const modulus = numberIn(probabilityModel, /modulo (\d+)/)
  const prior = numberIn(probabilityModel, /prior (\d*\.?\d+)/)
  if (modulus === null || prior === null) return 'the probability model gives no modulus or no prior'
  const names = [...new Set(parsed.flatMap(({ inputs, output }) => [...inputs, output]))]
  const domain = Array.from({ length: modulus }, (_, value) => value)
  return {
    parts: components.map((name) => ({ name, prior })),
    variables: names.map((name) => ({ name, domain })),
    relations: parsed.map((equation) => equationRelation(equation, modulus)),
  }
}

function expectedSets({ expected }: WorkedExample): { set: string[]; probability: number }[] {
  return (expected.find(({ name }) => name === 'posteriorOfFaultSets')?.value ?? []) as { set: string[]; probability: number }[]
}

/** Every quantity these examples ask for, whichever of them they do. */
export function equationExample(example: WorkedExample): Answers {
  const inputs = example.inputs as EquationInputs
  if (!Array.isArray(inputs.equations)) return 'no equations'
  const model = modelOf(inputs)
  if (typeof model === 'string') return model
  const observed = { ...inputs.values, ...inputs.readings }
  const known = finiteBelief(model, observed)
  const probabilityOf = (set: string[]) =>
    known.belief.probability[known.sets.findIndex((s) => [...s].sort().join() === [...set].sort().join())]
  const open = model.variables.map(({ name }) => name).filter((name) => !(name in observed))
  const measured = open.map((id) => ({ id, cost: 1, ...measuringEntropy(model, observed, known, id) }))
  const marginals = open.map((name) => [`marginal${name}`, Object.fromEntries(variableMarginal(model, observed, known, name))])
  return {
    minimalConflicts: minimalConflicts(model, observed),
    minimalDiagnoses: minimalDiagnoses(model, observed),
    posteriorOfFaultSets: expectedSets(example).map(({ set }) => ({ set, probability: probabilityOf(set) })),
    posteriorPerComponent: partProbability(model, known),
    entropyNowBits: measured[0]?.now,
    expectedEntropyAfterMeasuringBits: Object.fromEntries(measured.map(({ id, expected }) => [id, expected])),
    bestMeasurement: bestTest(measured)?.id,
    ...Object.fromEntries(marginals),
  }
}
