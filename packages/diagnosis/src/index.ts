export { Bench } from './bench.js'
export { Consequences } from './consequences.js'
export { money, type RepairCost, repairCost, repairTarget } from './cost.js'
export { minutesFor, type Standpoint, stateMinutes } from './effort.js'
export * from './hazards/index.js'
export { type Complaint, type Done, groupsOf, type LogItem, misreadRange, type Taken } from './evidence.js'
export {
  type Contribution,
  contributions,
  type SizeStatement,
  sizeOf,
  standingWithout,
  type Verdict,
  verdict,
} from './explain.js'
export { breakEven, type TwoWays, twoWays } from './decide/break-even.js'
export { type PlanCosts, planCosts } from './decide/plan-costs.js'
export { type DecisionView, type RepairDecision, repairDecision } from './decide/decision.js'
export { priorFactors } from './ends/comeback.js'
export {
  type ComplaintLook,
  type Excluded,
  type LogNext,
  type NoFaultFound,
  noFaultFound,
  type OpenSuspect,
} from './ends/no-fault.js'
export { type Clearing, clearing } from './explain/clearing.js'
export { type Fit, fit, type Misfit } from './explain/misfit.js'
export { complaintGroups, type Place, readingPlaces } from './explain/place.js'
export { Subsets } from './explain/subsets.js'
export { bitsOf, type Speech, type SuspectCase, suspectCases } from './explain/suspect.js'
export { type FaultMode, faultModes, type SizedFault, sized, stretches } from './faults.js'
export { ABSENT_NOW, type Hypothesis, NOTHING_WRONG, type SizedHypothesis } from './hypotheses.js'
export { type Arrival, Machine } from './machine.js'
export { norm } from './sense.js'
export { type Setup, setupKey } from './setup.js'
export {
  displayOf,
  type NextOptions,
  NO_REPAIR,
  predictCell,
  type SuspectClass,
  tellsApart,
  type WeighedTest,
  weighTests,
} from './next.js'
export { type Proposal, propose } from './propose.js'
export { predictAll, wordShares } from './predict.js'
export { isLowImpedance, probeKey, type TestProbe } from './probe.js'
export { PredictionStore } from './store.js'
export { generateTests, minusPort, ownerOf, type Test, testId, testOf } from './tests.js'
export { leadingRepairs, type RepairGroup, readingSupport, repairGroups } from './ambiguity.js'
export { type Band, bandsOf } from './bands.js'
export { earlierJob, type JobLog, type LocateInJob, logOf } from './job-log.js'
export { jobSetup, LOG_ISSUE_CODES, type LogIssueCode, partNames, type Report, reporter, setupOf } from './job-setup.js'
export { outcomeOf, probeOf } from './job-probe.js'
export { PROVOCATIONS, type Provocation, type Provoked, presentUnder, provokes } from './provoke.js'
export { exposedBy, type Good, goodAt } from './prove/exposure.js'
export { isGood, type Proof, type ProofStep, proof } from './prove/proof.js'
export { type Refit, refitList } from './prove/refit.js'
export { type Risk, repairsMade, risks } from './prove/risk.js'
export { type RepairBelief, repairsOf } from './repair-belief.js'
export { type DecisionTable, decisionTable, type TableOptions, type TableTest } from './table/decision-table.js'
export {
  type JobStep,
  type Minutes,
  type NextStep,
  nextStep,
  type PricedStep,
  type StopPoints,
  stopPoints,
} from './table/next-step.js'
export type { TableOutcome } from './table/outcomes.js'
export type { TableSuspect } from './table/suspects.js'
export type { Standing } from './view.js'
