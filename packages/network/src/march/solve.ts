import { type Workspace, workspace } from '../balance.js'
import type { Circuit } from '../circuit.js'
import type { Jacobian } from '../border.js'
import { briefNewton } from '../newton.js'
import { operatingPoint } from '../starts.js'
import { heldAt, prepare } from './companion.js'
import type { Frame } from './frame.js'
import type { Archipelago, Island } from './islands.js'

/** Relative change at which the solve of a stage stops; from there on it gains as many digits again. */
const STAGE_TOLERANCE = 1e-8

/** An island that found no operating point. */
export interface Stuck {
  parts: string[]
}

/** Solves islands one at a time against a frame of the whole; counts what it does. */
export class Solver {
  solves = 0
  /** By island: the eliminated Jacobian of its last solve. */
  readonly jacobians: (Jacobian | undefined)[]
  private readonly rooms: Workspace[]
  private readonly starts: Float64Array[]

  constructor(readonly sea: Archipelago) {
    this.jacobians = sea.islands.map(() => undefined)
    this.rooms = sea.islands.map(({ circuit }) => workspace(circuit))
    this.starts = sea.islands.map(({ global }) => new Float64Array(global.length))
  }

  /** Held nodes that move, at a time counted from the leg's begin. */
  drift(frame: Frame, time: number): void {
    const { whole, moving } = this.sea
    for (const { node, rate } of moving) frame.across[node] = whole.heldValue[node] + rate * time
  }

  /**
   * One island at one instant: its stores hold what is `left` in them plus what flows in during `share` seconds. Writes the island's
   * part of the frame, and what its stores hold and take into `held` and `rate`.
   */
  solve(
    n: number,
    frame: Frame,
    bits: Uint8Array,
    time: number,
    stores?: { left: Float64Array; share: number; held: Float64Array; rate: Float64Array },
  ): Stuck | undefined {
    const island = this.sea.islands[n]
    const { circuit, global, imports } = island
    for (const node of imports) circuit.heldValue[node] = frame.across[global[node]]
    this.inject(island, time, stores)
    const start = this.starts[n]
    const room = this.rooms[n]
    for (let i = 0; i < global.length; i += 1) start[i] = frame.across[global[i]]
    this.solves += 1
    const point =
      briefNewton(circuit, bits, start, room, STAGE_TOLERANCE) ?? operatingPoint(circuit, bits, start, room, STAGE_TOLERANCE)
    if (!('across' in point)) return { parts: partsAt(circuit, point.node) }
    this.jacobians[n] = point.jacobian
    for (let i = 1; i < global.length; i += 1) frame.across[global[i]] = point.across[i]
    island.borders.forEach((border, k) => {
      frame.borderFlow[border] = point.borderFlow[k]
    })
    if (stores) fill(island, frame, point.across, stores)
    return undefined
  }

  private inject(
    { circuit, stores, baseInjection, ramps }: Island,
    time: number,
    now?: { left: Float64Array; share: number },
  ): void {
    circuit.injection.set(baseInjection)
    for (const { a, b, rate } of ramps) {
      circuit.injection[a] += rate * time
      circuit.injection[b] -= rate * time
    }
    if (!now) return
    stores.forEach(({ element, companion, a, b }, s) => {
      const besides = prepare(element, companion, now.left[s], now.share)
      circuit.injection[a] -= besides
      circuit.injection[b] += besides
    })
  }
}

function fill(
  { stores }: Island,
  frame: Frame,
  across: Float64Array,
  { left, share, held, rate }: { left: Float64Array; share: number; held: Float64Array; rate: Float64Array },
): void {
  stores.forEach(({ element, companion, a, b, position }, s) => {
    held[s] = heldAt(element, companion, across[a] - across[b], left[s], share)
    rate[s] = (held[s] - left[s]) / share
    frame.storeFlow[position] = element.type === 'inertance' ? held[s] : rate[s]
  })
}

const partsAt = ({ network }: Circuit, node: string): string[] =>
  network.elements.filter((element) => 'a' in element && (element.a === node || element.b === node)).map((element) => element.id)
