import { chargeAt } from '../charge.js'
import { stateRecord } from '../signals.js'
import { Clock } from './clock.js'
import { PLACE_STAGES } from './crossing.js'
import { Extremes } from './extremes.js'
import { copyFrame, overwrite } from './frame.js'
import { firstReached, furthest, grazed, reached } from './levels.js'
import type { Leg, March, MarchEvent, MarchOptions } from './outcome.js'
import { Repetition } from './period.js'
import { instantOf, Sampling } from './sampling.js'
import { domainOf, eachStore, firstScene, lull, nextScene, type Scene } from './scene.js'
import type { Stuck } from './solve.js'
import { CURRENT_RESOLUTION, RESOLUTION, type Tried } from './step.js'
import { type Fired, switchAll } from './switching.js'

const TOLERANCE = 1e-3
/** Time a contact takes to move [s], of which the period of a chatter is made when nothing else gives it one. Common practice, no source. */
const ARMATURE = 5e-3
/** A level counts as reached when the step ends this little past it, against its size. */
const REACHED = 1e-9
/** Growth of a step at most, and share taken of what the error would allow. */
const GROWTH = 5
const CAUTION = 0.9
/** A first step moves a store by so many times what can be resolved. */
const FIRST = 10

type Ended = Pick<March, 'status' | 'parts' | 'period'>

/** One march under way. */
export class Run {
  private readonly clock = new Clock()
  private readonly repetition = new Repetition()
  private readonly extremes = new Extremes()
  private readonly sampling: Sampling
  private readonly events: MarchEvent[] = []
  private readonly grazes: March['grazes'] = []
  private readonly cost = { steps: 0, refused: 0, solves: 0 }
  private readonly start: March['start']
  private scene: Scene
  private time = 0
  /** Number of the leg in force. */
  private leg = 0
  /** Length to try next [s]; 0 where the way begins anew. */
  private h = 0
  private ended: Ended | undefined
  private period: March['period']

  constructor(
    private readonly legs: readonly Leg[],
    private readonly options: MarchOptions,
  ) {
    this.sampling = new Sampling(options.samples ?? [])
    this.scene = firstScene(legs[0], this.tolerance, options.previous ?? {})
    this.clock.begin(this.scene.sea.whole.signals, this.scene.bits)
    this.begin()
    this.start = stateRecord(this.scene.sea.whole.signals, this.scene.bits)
    this.events.length = 0
  }

  private get tolerance(): number {
    return this.options.tolerance ?? TOLERANCE
  }

  march(): March {
    const { until, progress } = this.options
    this.sampling.take(this.scene, undefined, 0, 0)
    while (!this.ended && this.time < until) {
      this.advance(Math.min(this.nextLegAt(), until))
      progress?.(this.time)
      if (!this.ended && this.time >= this.nextLegAt() && this.time < until) this.nextLeg()
    }
    this.cost.solves += this.scene.solver.solves
    const { highest, lowest } = this.extremes.gather()
    const last = instantOf(this.scene, copyFrame(this.scene.frame), this.time)
    const ended = this.ended ?? { status: 'done' as const, parts: [], period: this.period }
    const { events, grazes, start, time: end } = this
    return { ...this.cost, ...ended, events, grazes, samples: this.sampling.taken, highest, lowest, end, start, last }
  }

  private nextLegAt(): number {
    return this.legs[this.leg + 1]?.from ?? Number.POSITIVE_INFINITY
  }

  private nextLeg(): void {
    this.cost.solves += this.scene.solver.solves
    this.leg += 1
    this.scene = nextScene(this.legs[this.leg], this.tolerance, this.scene)
    this.begin()
  }

  /** What the network in force makes switch at once. */
  private begin(): void {
    this.repetition.forget()
    this.extremes.begin(this.scene.sea.whole.names)
    this.switch([], 'leg')
    this.extremes.see(this.scene.frame)
  }

  /** One step, or a leap where nothing moves, and what switches at its end. */
  private advance(end: number): void {
    const { sea, levels } = this.scene
    const due = this.clock.due(sea.whole.signals)
    const limit = Math.min(end, Math.max(due, this.time))
    if (levels.length === 0 && !sea.islands.some((island) => island.live)) {
      this.sampling.take(this.scene, undefined, this.time, limit)
      this.time = limit
    } else if (limit > this.time && !this.step(limit)) {
      return
    }
    if (this.time >= due) this.switch([], 'timer')
  }

  /** Steps as far as the error, the limit and the first level allow. @returns whether it got on */
  private step(limit: number): boolean {
    const { levels, bits } = this.scene
    const from = this.time
    const found = this.withinError(limit - from)
    if (!found) return false
    let { tried, h } = found
    const whole = h === limit - from
    const next = h * Math.min(GROWTH, CAUTION * Math.max(tried.error, 1e-8) ** -0.25)
    const share = firstReached(levels, tried.frames, bits)
    if (share !== undefined) {
      const located = this.locate(share * h, h)
      if (!located) return false
      ;({ tried, h } = located)
    }
    this.accept(tried, h, share === undefined && whole ? limit : from + h)
    this.h = share === undefined ? Math.max(next, whole ? this.h : 0) : 0
    if (share !== undefined) this.switch(reached(levels, tried.frames, bits, h), 'level')
    return true
  }

  /** The longest step, up to `most`, whose error is within the tolerance. */
  private withinError(most: number): { tried: Tried; h: number } | undefined {
    if (!(this.h > 0)) this.h = this.firstLength(most)
    let h = Math.min(this.h, most)
    for (;;) {
      const tried = this.try(h)
      if ('frames' in tried && tried.error <= 1) return { tried, h }
      this.cost.refused += 1
      h *= 'frames' in tried ? Math.max(0.1, CAUTION * tried.error ** -0.25) : 0.25
      if (h <= 1e-12 * (1 + this.time)) {
        this.ended = { status: 'no convergence', parts: 'parts' in tried ? tried.parts : [] }
        return undefined
      }
    }
  }

  private try(h: number): Tried | Stuck {
    const { stepper, frame, stand, bits, leg } = this.scene
    return stepper.try(frame, stand, bits, this.time - leg.from, h)
  }

  /** Steps again, to where the first level is reached: the last try ends just past it. */
  private locate(guess: number, whole: number): { tried: Tried; h: number } | undefined {
    const { levels, bits, frame } = this.scene
    let [low, high] = [0, whole]
    let [below, above] = [furthest(levels, frame, bits), Number.NaN]
    let h = Math.max(guess, 1e-12)
    for (let n = 0; ; n += 1) {
      const tried = this.try(h)
      if (!('frames' in tried)) {
        this.ended = { status: 'no convergence', parts: tried.parts }
        return undefined
      }
      const past = furthest(levels, tried.frames[tried.frames.length - 1], bits)
      const close = high - low <= 1e-12 * (1 + this.time) || n > 60
      // Where the step's own curve promised a level that the way does not reach, the whole step stands.
      if ((past >= 0 && (past <= REACHED || close)) || (close && h === high)) return { tried, h }
      if (past >= 0) [high, above] = [h, past]
      else [low, below] = [h, past]
      h = close ? high : between(low, below, high, above, n)
    }
  }

  private accept(tried: Tried, h: number, time: number): void {
    const { levels, bits, sea, frame, stand, stepper, asleep } = this.scene
    for (const { signal, share, overdrive } of grazed(levels, tried.frames, bits)) {
      this.grazes.push({ time: this.time + share * h, signal: sea.whole.signals[signal].id, overdrive })
    }
    this.sampling.take(this.scene, tried, this.time, time)
    for (const stage of PLACE_STAGES) this.extremes.see(tried.frames[stage])
    overwrite(frame, tried.frames[tried.frames.length - 1])
    sea.islands.forEach((island, n) => {
      if (!island.live || asleep[n]) return
      stand.held[n].set(tried.stand.held[n])
      stand.rate[n].set(tried.stand.rate[n])
    })
    this.time = time
    this.cost.steps += 1
    lull(this.scene, this.options.until - time, this.tolerance)
    stepper.leaveOut(asleep)
  }

  private firstLength(most: number): number {
    const { scene } = this
    let h = most
    eachStore(scene, (store, n, s, across) => {
      const { element } = store
      const rate = Math.abs(scene.stand.rate[n][s])
      const own = Math.abs(scene.stand.held[n][s])
      const size =
        element.type === 'store'
          ? RESOLUTION[domainOf(scene, n, store)] * chargeAt(element.charge, across).slope
          : CURRENT_RESOLUTION + own / 100
      if (rate > 0) h = Math.min(h, (FIRST * size) / rate)
    })
    return Math.max(h, 1e-9)
  }

  private switch(fired: readonly Fired[], cause: MarchEvent['cause']): void {
    const { events, cycle, rounds, stuck } = switchAll(this.scene, this.clock, this.time, fired, cause)
    this.scene.asleep.fill(false)
    this.scene.stepper.leaveOut(this.scene.asleep)
    this.h = 0
    this.events.push(...events)
    if (stuck) {
      this.ended = { status: 'no convergence', parts: stuck.parts }
    } else if (cycle.length > 0) {
      const parts = cycle.map((i) => this.scene.sea.whole.signals[i].id)
      this.ended = { status: 'chatters', parts, period: { from: this.time, length: rounds * ARMATURE, signals: parts } }
    } else if (events.length > 0) {
      this.watchForPeriod(events[0])
    }
  }

  private watchForPeriod(event: MarchEvent): void {
    const { scene } = this
    const stand: number[] = []
    eachStore(scene, (store, n, _, across) => stand.push(across / RESOLUTION[domainOf(scene, n, store)]))
    const running = this.clock.left(scene.sea.whole.signals, this.time)
    const key = `${event.signal} ${event.on} ${scene.bits.join('')} ${running}`
    const until = Math.min(this.nextLegAt(), this.options.until)
    const found = this.repetition.after(this.time, key, event.signal, Float64Array.from(stand), until)
    if (!found) return
    const { period, chatter } = found
    this.period ??= period
    const lastLeg = this.leg === this.legs.length - 1
    if (chatter) this.ended = { status: 'chatters', parts: period.signals, period }
    else if (this.options.stopWhenPeriodic && lastLeg) this.ended = { status: 'periodic', parts: [], period }
  }
}

/** A secant in the bracket, halving where it would hardly move an end. */
function between(low: number, below: number, high: number, above: number, n: number): number {
  const middle = (low + high) / 2
  if (!(above > 0) || !Number.isFinite(below) || n % 4 === 3) return middle
  const secant = low + ((high - low) * -below) / (above - below)
  // A hair past the root, so that the step that is kept ends on the far side of the level.
  const past = secant + 1e-10 * (high - low)
  return past > low && past < high ? past : middle
}
