import { REFERENCE } from '@halfsplit/network'
import type { Builder } from '../kind.js'

/** What a body that lost its liquid falls back to [K]: 20 degC, an assumption. */
const SURROUNDINGS = 293.15

/** Adds a node held at the temperature of the surroundings. */
export function addSurroundings(make: Builder): string {
  const node = make.inner('surroundings', 'thermal', SURROUNDINGS)
  make.add({ type: 'across', id: 'surroundings', a: node, b: REFERENCE, value: SURROUNDINGS, resistance: 0 })
  return node
}
