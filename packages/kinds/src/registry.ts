import { battery } from './electrical/battery.js'
import { fuse } from './electrical/fuse.js'
import { ground } from './electrical/ground.js'
import { lamp } from './electrical/lamp.js'
import { load } from './electrical/load.js'
import { pin } from './electrical/pin.js'
import { relay } from './electrical/relay.js'
import { splice } from './electrical/splice.js'
import { manualSwitch } from './electrical/switch.js'
import { twinLamp } from './electrical/twin-lamp.js'
import { wire } from './electrical/wire.js'
import type { Kind } from './kind.js'

const ALL: readonly Kind[] = [battery, fuse, ground, lamp, load, pin, relay, splice, manualSwitch, twinLamp, wire]

/** Every kind of part, by name. Written by scripts/list-kinds.mjs from the files of the folders: adding a kind is adding a file. */
export const KINDS: ReadonlyMap<string, Kind> = new Map(ALL.map((kind) => [kind.name, kind]))
