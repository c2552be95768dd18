import { chargeAt } from '../charge.js'
import { settle } from '../settle.js'
import { stateArray, stateRecord } from '../signals.js'
import type { DiscreteState, Network } from '../types.js'
import { emptyFrame, emptyStand, type Frame, type Stand } from './frame.js'
import { type Archipelago, explore, type StorePlace } from './islands.js'
import { type Level, movingLevels } from './levels.js'
import type { Leg } from './outcome.js'
import { Solver } from './solve.js'
import { CURRENT_RESOLUTION, RESOLUTION, Stepper } from './step.js'

/** What stands during one leg: its equations, and where the machine is in them. */
export interface Scene {
  leg: Leg
  sea: Archipelago
  solver: Solver
  stepper: Stepper
  levels: Level[]
  frame: Frame
  stand: Stand
  bits: Uint8Array
  /** By island: what its last solve at an instant went by, its contacts and what it heard. */
  solvedWith: string[]
  /** By island: it stands still until something switches. */
  asleep: boolean[]
}

function prepare(leg: Leg, tolerance: number): Scene {
  const sea = explore(leg.network)
  const frame = emptyFrame(sea)
  const solver = new Solver(sea)
  return {
    leg,
    sea,
    solver,
    stepper: new Stepper(solver, frame, tolerance),
    levels: movingLevels(sea),
    frame,
    stand: emptyStand(sea.islands),
    bits: new Uint8Array(sea.whole.signals.length),
    solvedWith: sea.islands.map(() => ''),
    asleep: sea.islands.map(() => false),
  }
}

/** The first leg: from the rest of the machine, or, where it finds none, from what its stores hold. */
export function firstScene(leg: Leg, tolerance: number, previous: DiscreteState): Scene {
  const scene = prepare(leg, tolerance)
  const { whole } = scene.sea
  const rest = settle(leg.network, { previous })
  if (rest.status === 'settled') scene.frame.across.set(rest.point.across)
  scene.bits = rest.status === 'settled' ? Uint8Array.from(rest.bits) : stateArray(whole.signals, previous)
  const imposed = holdsOf(leg.network)
  eachStore(scene, (store, n, s, v) => {
    const { element } = store
    const first = imposed.get(element.id)
    const rests = element.type === 'store' ? chargeAt(element.charge, first ?? v).q : (element.starts ?? v / element.resistance)
    scene.stand.held[n][s] = rests
    const { circuit, global } = scene.sea.islands[n]
    if (first !== undefined && circuit.names[store.b] === '0') scene.frame.across[global[store.a]] = first
  })
  return scene
}

/** The next leg: signals and stores carry over by name; a store that was not there before starts at what it holds. */
export function nextScene(leg: Leg, tolerance: number, before: Scene): Scene {
  const scene = prepare(leg, tolerance)
  const { whole } = scene.sea
  scene.bits = stateArray(whole.signals, stateRecord(before.sea.whole.signals, before.bits))
  whole.names.forEach((name, i) => {
    const old = before.sea.whole.index.get(name)
    if (old !== undefined && whole.unknown[i] >= 0) scene.frame.across[i] = before.frame.across[old]
  })
  const left = new Map<string, { v: number; current: number }>()
  eachStore(before, ({ element }, n, s, v) => left.set(element.id, { v, current: before.stand.held[n][s] }))
  const imposed = holdsOf(leg.network)
  eachStore(scene, ({ element }, n, s, v) => {
    const old = left.get(element.id)
    const across = old?.v ?? imposed.get(element.id) ?? v
    const held = scene.stand.held[n]
    if (element.type === 'store') held[s] = chargeAt(element.charge, across).q
    else held[s] = old?.current ?? element.starts ?? across / element.resistance
  })
  return scene
}

/** What states impose on stores, by element. */
const holdsOf = ({ elements }: Network): Map<string, number | undefined> =>
  new Map(elements.map((element) => [element.id, element.type === 'store' ? element.holds : undefined]))

/** Every store with its island, its place there, and what stands across it in the scene's frame. */
export function eachStore({ sea, frame }: Scene, visit: (store: StorePlace, n: number, s: number, across: number) => void): void {
  sea.islands.forEach(({ stores, global }, n) => {
    stores.forEach((store, s) => {
      visit(store, n, s, frame.across[global[store.a]] - frame.across[global[store.b]])
    })
  })
}

/** Domain of a store's ends. */
export const domainOf = ({ sea }: Scene, n: number, { a, b }: StorePlace) => {
  const { global } = sea.islands[n]
  return sea.whole.domains[global[a] || global[b]]
}

/**
 * Lets an island sleep whose stores would, at the rate they have, not move by what a step may err in all the time that is left, and that
 * hears only sleepers: most of a machine stands still between two events. What switches wakes all.
 */
export function lull({ sea, stand, frame, asleep }: Scene, left: number, tolerance: number): void {
  sea.islands.forEach((island, n) => {
    if (asleep[n] || !island.live || island.driven) return
    if (!island.hears.every((other) => asleep[other] || !sea.islands[other].live)) return
    const { global, stores } = island
    asleep[n] = stores.every(({ element, a, b }, s) => {
      const across = frame.across[global[a]] - frame.across[global[b]]
      const slope = element.type === 'store' ? chargeAt(element.charge, across).slope : 1
      const least = element.type === 'store' ? RESOLUTION[sea.whole.domains[global[a] || global[b]]] : CURRENT_RESOLUTION
      return Math.abs(stand.rate[n][s]) * left <= tolerance * least * slope
    })
  })
}
