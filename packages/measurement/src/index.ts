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
export type { Interval } from './interval.js'
export { betaQuantile } from './reliability/beta-law.js'
export { chanceFirstHigher, type Sample } from './reliability/compare-rates.js'
export { exactTableTest, type FisherTest, fisherTest } from './reliability/contingency.js'
export {
  chanceOfCount,
  chanceOfFailure,
  garwoodInterval,
  JEFFREYS_RATE,
  type RateKnowledge,
  rateFromQuantiles,
  rateMoments,
  rateQuantile,
  updateRate,
} from './reliability/failure-rate.js'
export { gammaQuantile } from './reliability/gamma-law.js'
export {
  clopperPearson,
  dirichletShares,
  jeffreysCentral,
  jeffreysInterval,
  jeffreysMean,
  type Share,
} from './reliability/proportion.js'
export { meanInterval, studentQuantile } from './reliability/student-law.js'
export {
  assessBathTest,
  type BathLog,
  type BathTest,
  type BathTestResult,
  type SwitchingPoint,
  type SwitchingResult,
} from './trip-point/assess-bath-test.js'
export { fitCensoredNormal, type NormalEstimate } from './trip-point/censored-normal.js'
