import { overdrive, type Threshold } from '../signals.js'
import { type Four, cubicAt, firstCrossing, highestInside, PLACE_STAGES } from './crossing.js'
import type { Frame } from './frame.js'
import type { Archipelago } from './islands.js'

/** A threshold that can be crossed between events, because what it looks at moves. */
export interface Level {
  threshold: Threshold
  /** What "a little" is at this level, in its input's unit: its hysteresis, or a thousandth of the level. */
  size: number
}

/** The thresholds that look at nodes of live islands or at held nodes that move. */
export function movingLevels({ whole, islands, moving }: Archipelago): Level[] {
  const lively = new Set(moving.map(({ node }) => node))
  for (const island of islands) if (island.live) for (const node of island.global) lively.add(node)
  lively.delete(0)
  return whole.thresholds
    .filter(({ a, b, gains }) => [a, b, ...gains.flatMap((gain) => [gain.node, gain.less])].some((node) => lively.has(node)))
    .map((threshold) => ({ threshold, size: threshold.rise - threshold.fall || Math.abs(threshold.rise) * 1e-3 || 1e-3 }))
}

/** How far each level's input is past switching, at the four places of a step. */
export const pastAt = ({ threshold }: Level, frames: readonly Frame[], bits: Uint8Array): Four => {
  const on = bits[threshold.signal] === 1
  return PLACE_STAGES.map((stage) => overdrive(threshold, frames[stage].across, on)) as unknown as Four
}

/** The first share of a step at which a level is reached; undefined when none is. */
export function firstReached(levels: readonly Level[], frames: readonly Frame[], bits: Uint8Array): number | undefined {
  let first: number | undefined
  for (const level of levels) {
    const past = pastAt(level, frames, bits)
    if (farBelow(past)) continue
    const share = firstCrossing(past)
    if (share !== undefined && (first === undefined || share < first)) first = share
  }
  return first
}

/** No cubic through these gets above zero: it stays within its values plus what it swings by. */
function farBelow(past: Four): boolean {
  const most = Math.max(...past)
  return most < 0 && most + 2 * (most - Math.min(...past)) < 0
}

/** The level that is furthest past switching at the end of a step, against its size. */
export function furthest(levels: readonly Level[], frame: Frame, bits: Uint8Array): number {
  let most = Number.NEGATIVE_INFINITY
  for (const { threshold, size } of levels) {
    most = Math.max(most, overdrive(threshold, frame.across, bits[threshold.signal] === 1) / size)
  }
  return most
}

/** The levels that are reached at the end of a step, with how fast their input came [1/s]. */
export function reached(levels: readonly Level[], frames: readonly Frame[], bits: Uint8Array, h: number) {
  return levels
    .map((level) => ({ level, past: pastAt(level, frames, bits) }))
    .filter(({ past }) => past[3] >= 0)
    .map(({ level, past }) => ({
      signal: level.threshold.signal,
      rate: slopeAtEnd(past, h) * (bits[level.threshold.signal] ? -1 : 1),
    }))
}

const slopeAtEnd = (past: Four, h: number): number => (cubicAt(past, 1) - cubicAt(past, 1 - 1e-3)) / (1e-3 * h)

/** Share of a level's size within which a turn short of it is a graze. */
const NEAR = 0.05

/** Levels that the step came near to and turned away from. */
export function grazed(levels: readonly Level[], frames: readonly Frame[], bits: Uint8Array) {
  const found: { signal: number; share: number; overdrive: number }[] = []
  for (const { threshold, size } of levels) {
    const past = pastAt({ threshold, size }, frames, bits)
    if (Math.max(...past) < -2 * NEAR * size) continue
    const top = highestInside(past)
    if (top && top.value < 0 && top.value > -NEAR * size)
      found.push({ signal: threshold.signal, share: top.share, overdrive: top.value })
  }
  return found
}
