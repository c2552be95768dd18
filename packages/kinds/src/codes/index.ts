export * from './failure-mode-identifiers.js'
export * from './reference-letters.js'
export * from './terminal-numbers.js'
