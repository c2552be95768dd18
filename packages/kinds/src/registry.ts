import { relay } from './electrical/relay.js'
import { wire } from './electrical/wire.js'
import type { Kind } from './kind.js'

/** Every kind of part, by name. Adding a kind is adding a file and naming it here. */
export const KINDS: ReadonlyMap<string, Kind> = new Map([relay, wire].map((kind) => [kind.name, kind]))
