export {
  assessCoil,
  type CoilConformity,
  type CoilReading,
  coilAtReference,
  type KnownTemperature,
  temperatureUncertainty,
} from './assess-coil.js'
export {
  assessConformity,
  type Conformity,
  conformanceProbability,
  type DecisionRule,
  GUARDED,
  guardedLimits,
  type Limits,
  type Measured,
  type Verdict,
} from './assess-conformity.js'
export { type Settlement, whatSettles } from './settle-temperature.js'
export { combine, differenceLimits, meanOf, rectangular } from './uncertainty.js'
