export { DEAD_SHORT, GAP, SOLID } from './insulation.js'
export * from './kind.js'
export { KINDS } from './registry.js'
export { jointSeverity, logSeverity, shiftSeverity } from './severity.js'
