export * from './normal.js'
