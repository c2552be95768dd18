export type { Adjoint } from './adjoint.js'
export {
  Campaign,
  type CampaignCounts,
  type CampaignOptions,
  campaign,
  type Outcome,
  type OutcomeStore,
} from './campaign/campaign.js'
export { bothFaults, faulted, type NetworkFault } from './campaign/fault.js'
export { type Circuit, compile } from './circuit.js'
export { NetworkError } from './errors.js'
export { connectedNodes, floatingNodes } from './floating.js'
export { chargeAt } from './charge.js'
export { gradient } from './gradient.js'
export { evaluate, LAMINAR_RATIO, REFERENCE_DENSITY } from './laws.js'
export { type FailingLogic, failingLogic, type LogicObservation } from './logic/failing.js'
export { compileGates, evaluateGates, type Gate, type GateNetwork, type GateProgram } from './logic/gates.js'
export { march } from './march/march.js'
export type { Graze, Instant, Leg, March, MarchEvent, MarchOptions, Period } from './march/outcome.js'
export type { OperatingPoint } from './newton.js'
export { adjointOf, directShare, flowOf, type Probe, probeValue, type Seen, seenResistance } from './probe.js'
export { type Margin, type Settled, type SettleOptions, settle, type Unsettled } from './settle.js'
export { type Change, type Slopes, slopes, slopesOf } from './slopes.js'
export * from './types.js'
