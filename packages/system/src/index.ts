export { AIR_NODE, portName, SURROUNDINGS } from './fragment.js'
export * from './model.js'
export { LANGUAGE_VERSION, type ParsedSystem, parseSystem } from './parse-system.js'
export { type Conditions, type LatentChange, type MeterLoad, nodeAt, type Realised, Realiser, recipe } from './realise.js'
