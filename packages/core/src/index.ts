export { ASSUMPTIONS } from './assumptions.js'
export * from './copper.js'
export { DIMENSIONS, type Dimension, dimensionFacts } from './dimensions.js'
export { HalfsplitError } from './errors.js'
export { type FormatOptions, formatValue, STANDARD_ATMOSPHERE } from './format.js'
export { type Issue, issue, nearestNames, type Position, printIssue } from './issue.js'
export { ISSUE_CODES, type IssueCodeEntry } from './issue-codes.js'
export {
  accuracyLimit,
  DEFAULT_METERS,
  type DefaultMeter,
  type Display,
  display,
  type Meter,
  type MeterRange,
  rangeFor,
} from './meter.js'
export { hex32, mixText } from './mix-text.js'
export { logNormalCdf, normalCdf, normalInterval, normalPdf, normalQuantile } from './normal.js'
export { formatQuantity, type Parsed, parseQuantity, type Quantity } from './quantity.js'
export { createRandom, type Random } from './random.js'
export { convert, convertDifference, fromSI, parseUnit, toSI, type Unit } from './units.js'
export * from './wiring.js'
