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
export { canonicalOrder, NO_SENSITIVITIES, type OrderedGroup } from './evidence.js'
export {
  type Belief,
  type BeliefOptions,
  belief,
  type Cell,
  cellLogPriors,
  type LeftBehind,
  likelihoodOf,
  type Predict,
} from './belief.js'
export { strayChance } from './record-likelihood.js'
export type { CellState } from './likelihood.js'
export type { Limits } from './paths.js'
export { leftAside, roughLog } from './sieve.js'
export { mix, moments, type NormalPart, type Predictive, predictive, type UniformPart, withMisread } from './predictive.js'
export { entropyBits, information, type TestClass } from './information.js'
export { type Display, displayEdges, displayInformation } from './display-information.js'
export { bestTest, type Decision, decide, type PlannedTest, type RankedTest, rankTests } from './rank.js'
export { beliefWithout, type Contribution, contributions } from './contributions.js'
export * from './table-model.js'
export * from './finite-model.js'
export type { WeightedSet } from './candidates/best-first.js'
export {
  type ConsistencyModel,
  type ExplanationOptions,
  Explanations,
  explanations,
  smallestExplanations,
} from './candidates/explanations.js'
export { LikeliestSets, likeliestSets, type SetOptions } from './candidates/likeliest-sets.js'
export { type Equation, equationRelation, parseEquation } from './equations.js'
export { type IntermittentSuspect, intermittentBelief, looksNeeded } from './intermittent.js'
export { type FaultWorld, faultWorlds, orderCost, type ReplaceablePart, replacementOrder } from './plan/fault-worlds.js'
export { isolationProblem, type SuspectNode, type TestStep } from './plan/isolation.js'
export type { IsolationTask, PlanSuspect, PlanTest } from './plan/isolation-task.js'
export { type MachineStates, shortest, type StateCost } from './plan/machine.js'
export {
  DEFAULT_PLAN_BUDGET,
  type FirstStep,
  firstSteps,
  greedyPlan,
  type Plan,
  type PlanBudget,
  solvePlan,
} from './plan/plan.js'
export { leastCostOfTests, prefixCodeLength } from './plan/prefix-code.js'
export type { Branch as PlanBranch, Choice, DecisionProblem } from './plan/problem.js'
export { MENDED, type RepairNode, repairProblem, type RepairStep, STILL_THERE } from './plan/repair.js'
export type { RepairPart, RepairTask, RepairTest } from './plan/repair-task.js'
export { type PlanEnd, planEnds, type PlanFigures, planFigures, type PlanStep, type PlanTree } from './plan/tree.js'
export {
  DEFAULT_STEP_BUDGET,
  nextTroubleStep,
  type StepBudget,
  type TimeFigures,
  type TroubleAdvice,
  type TroubleCourse,
  troubleCourse,
} from './plan/troubleshoot/next-step.js'
export { troubleProblem } from './plan/troubleshoot/problem.js'
export type { RolloutBudget, TriedStep } from './plan/troubleshoot/rollout.js'
export type { TroubleRepair, TroubleStep, TroubleSuspect, TroubleTask, TroubleTest } from './plan/troubleshoot/task.js'
export { type SeenFault, type Share, type Testability, testability } from './plan/testability.js'
export { type PlanEnding, planEndings, type TroublePlanFigures, troublePlanFigures } from './plan/troubleshoot/plan-figures.js'
export {
  DEFAULT_PLAN_TREE,
  type PlanPlace,
  type PlanTreeBudget,
  type TroublePlan,
  troublePlan,
} from './plan/troubleshoot/plan-tree.js'
