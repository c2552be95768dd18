import type { Archipelago, Island } from './islands.js'

/** Where every store of the live islands stands, and how fast it fills: by island, by store. */
export interface Stand {
  held: Float64Array[]
  rate: Float64Array[]
}

/** One look at the whole network inside a step: across quantities by node, flows by border, fill by element. */
export interface Frame {
  across: Float64Array
  borderFlow: Float64Array
  /** Through quantity of stores and inductances by element position. */
  storeFlow: Float64Array
}

export const emptyFrame = ({ whole }: Archipelago): Frame => ({
  across: Float64Array.from(whole.heldValue, (value, i) => (whole.unknown[i] < 0 ? value : whole.rest[i])),
  borderFlow: new Float64Array(whole.borders.length),
  storeFlow: new Float64Array(whole.network.elements.length),
})

export const copyFrame = ({ across, borderFlow, storeFlow }: Frame): Frame => ({
  across: Float64Array.from(across),
  borderFlow: Float64Array.from(borderFlow),
  storeFlow: Float64Array.from(storeFlow),
})

export function overwrite(frame: Frame, from: Frame): void {
  frame.across.set(from.across)
  frame.borderFlow.set(from.borderFlow)
  frame.storeFlow.set(from.storeFlow)
}

export const emptyStand = (islands: readonly Island[]): Stand => ({
  held: islands.map((island) => new Float64Array(island.stores.length)),
  rate: islands.map((island) => new Float64Array(island.stores.length)),
})

export const copyStand = ({ held, rate }: Stand): Stand => ({
  held: held.map((one) => Float64Array.from(one)),
  rate: rate.map((one) => Float64Array.from(one)),
})
