import { copyFrame, type Frame } from './frame.js'
import type { Instant } from './outcome.js'
import type { Scene } from './scene.js'
import type { Tried } from './step.js'
import { INSTANT } from './switching.js'

/** The whole network as the scene's frame, or another, shows it. */
export function instantOf({ sea, bits }: Scene, { across, borderFlow, storeFlow }: Frame, time: number): Instant {
  return { time, circuit: sea.whole, point: { across, borderFlow }, storeFlow, bits: Uint8Array.from(bits) }
}

/** Looks at the network at the times asked for, as the run passes them. */
export class Sampling {
  readonly taken: Instant[] = []

  constructor(private readonly times: readonly number[]) {}

  /** The samples up to `time`, inside the step just tried from `from` on, or with nothing moving. */
  take(scene: Scene, tried: Tried | undefined, from: number, time: number): void {
    for (let n = this.taken.length; n < this.times.length && this.times[n] <= time; n += 1) {
      const at = this.times[n]
      const share = time > from ? (at - from) / (time - from) : 1
      const frame = tried ? within(scene, tried, from, share, time - from) : copyFrame(scene.frame)
      this.taken.push(instantOf(scene, frame, at))
    }
  }
}

/** The whole inside a step: stores on the cubic through their ends and slopes, all else solved for what they then hold. */
function within({ sea, solver, stand, bits, leg, asleep }: Scene, tried: Tried, from: number, share: number, h: number): Frame {
  const frame = copyFrame(tried.frames[share < 0.5 ? 0 : tried.frames.length - 1])
  const legTime = from + share * h - leg.from
  solver.drift(frame, legTime)
  const [p, q] = [(1 + 2 * share) * (1 - share) ** 2, share * (1 - share) ** 2 * h]
  const [r, s] = [share * share * (3 - 2 * share), share * share * (share - 1) * h]
  const next = tried.stand
  sea.islands.forEach((island, n) => {
    if (!island.live || asleep[n]) return
    const { held, rate } = stand
    const left = held[n].map((value, k) => p * value + q * rate[n][k] + r * next.held[n][k] + s * next.rate[n][k])
    const stores = { left, share: INSTANT, held: new Float64Array(left.length), rate: new Float64Array(left.length) }
    solver.solve(n, frame, bits, legTime, stores)
  })
  return frame
}
