export type {
  Branch,
  BroadPart,
  EvidenceRecord,
  GroupEvidence,
  MarginCondition,
  NumberPrediction,
  Outcome,
  Prediction,
  Sensitivities,
  WordsPrediction,
} from './evidence.js'
export { NO_SENSITIVITIES } from './evidence.js'
export { type Belief, type BeliefOptions, belief, type Cell, type LeftBehind, type Predict } from './belief.js'
export { strayChance } from './record-likelihood.js'
export type { CellState } from './likelihood.js'
export type { Limits } from './paths.js'
export { mix, moments, type NormalPart, type Predictive, predictive, type UniformPart, withMisread } from './predictive.js'
export { entropyBits, information, type TestClass } from './information.js'
export { type Display, displayInformation } from './display-information.js'
export { bestTest, type Decision, decide, type PlannedTest, type RankedTest, rankTests } from './rank.js'
export { beliefWithout, type Contribution, contributions } from './contributions.js'
export * from './table-model.js'
export * from './finite-model.js'
export { type Equation, equationRelation, parseEquation } from './equations.js'
export { type IntermittentSuspect, intermittentBelief, looksNeeded } from './intermittent.js'
