import { chargeAt } from '../charge.js'
import { settle } from '../settle.js'
import { overdrive, stateArray, stateRecord } from '../signals.js'
import { Clock } from './clock.js'
import { PLACE_STAGES } from './crossing.js'
import { Extremes } from './extremes.js'
import { copyFrame, emptyFrame, emptyStand, type Frame, overwrite, type Stand } from './frame.js'
import { type Archipelago, explore } from './islands.js'
import { firstReached, furthest, grazed, type Level, movingLevels, reached } from './levels.js'
import type { Instant, Leg, March, MarchEvent, MarchOptions } from './outcome.js'
import { Repetition } from './period.js'
import { Solver, type Stuck } from './solve.js'
import { ERROR_SCALE, Stepper, type Tried } from './step.js'

const TOLERANCE = 1e-8
/** Length of the implicit step that stands for an instant [s]: what flows in it moves no store that a reading could tell. */
const INSTANT = 1e-7
/** Rounds of switching at one instant before contacts that switch each other are called a chatter. */
const MOST_ROUNDS = 60
/** Time a contact takes to move [s], of which the period of a chatter is made when nothing else gives it one. Common practice, no source. */
const ARMATURE = 5e-3
/** A level counts as reached when the step ends this little past it, against its size. */
const REACHED = 1e-9
/** Growth of a step at most, and share of what the error would allow. */
const GROWTH = 5
const CAUTION = 0.9

/** One march under way. */
export class Run {
  private readonly clock = new Clock()
  private readonly repetition = new Repetition()
  private readonly extremes = new Extremes()
  private readonly result: Pick<March, 'events' | 'grazes' | 'samples'> & { steps: number; refused: number; solves: number } = {
    events: [],
    grazes: [],
    samples: [],
    steps: 0,
    refused: 0,
    solves: 0,
  }
  private time = 0
  private leg = -1
  private bits: Uint8Array = new Uint8Array(0)
  private sea!: Archipelago
  private solver!: Solver
  private stepper!: Stepper
  private frame!: Frame
  private stand!: Stand
  private levels: Level[] = []
  /** By island: the signals its laws were last solved with. */
  private solvedWith: string[] = []
  private sample = 0
  private ended: Pick<March, 'status' | 'parts' | 'period'> | undefined
  private period: March['period']
  private start: March['start'] = {}

  constructor(
    private readonly legs: readonly Leg[],
    private readonly options: MarchOptions,
  ) {}

  march(): March {
    const { until } = this.options
    this.nextLeg()
    this.start = stateRecord(this.sea.whole.signals, this.bits)
    this.result.events.length = 0
    this.takeSamples(undefined, 0)
    while (!this.ended && this.time < until) {
      this.advance(Math.min(this.nextLegAt(), until))
      this.options.progress?.(this.time)
      if (!this.ended && this.time >= this.nextLegAt() && this.time < until) this.nextLeg()
    }
    this.result.solves += this.solver.solves
    const last = this.instant(copyFrame(this.frame), this.time)
    const ended = this.ended ?? { status: 'done' as const, parts: [], period: this.period }
    const { highest, lowest } = this.extremes.gather()
    return { ...this.result, ...ended, highest, lowest, end: this.time, start: this.start, last }
  }

  private nextLegAt(): number {
    return this.legs[this.leg + 1]?.from ?? Number.POSITIVE_INFINITY
  }

  /** Puts the next network into force: signals, timers and stores carry over by name. */
  private nextLeg(): void {
    const before = this.leg < 0 ? undefined : { sea: this.sea, frame: this.frame, stand: this.stand, bits: this.bits }
    if (before) this.result.solves += this.solver.solves
    this.leg += 1
    const { network } = this.legs[this.leg]
    this.sea = explore(network)
    const { whole, islands } = this.sea
    this.frame = emptyFrame(this.sea)
    this.stand = emptyStand(islands)
    if (before) {
      this.bits = stateArray(whole.signals, stateRecord(before.sea.whole.signals, before.bits))
      this.takeOver(before)
    } else {
      this.begin()
    }
    this.solver = new Solver(this.sea)
    this.stepper = new Stepper(this.solver, this.frame, this.options.tolerance ?? TOLERANCE)
    this.levels = movingLevels(this.sea)
    this.solvedWith = islands.map(() => '')
    this.repetition.forget()
    this.extremes.begin(whole.names)
    this.switchAll([], 'leg')
    this.extremes.see(this.frame)
  }

  /** From the rest of the machine, or, where it finds none, from what its stores hold. */
  private begin(): void {
    const { whole, islands } = this.sea
    const { network } = this.legs[0]
    const rest = settle(network, { previous: this.options.previous })
    const known = rest.status === 'settled' ? rest : undefined
    if (known) this.frame.across.set(known.point.across)
    this.bits = known ? Uint8Array.from(known.bits) : stateArray(whole.signals, this.options.previous ?? {})
    this.clock.begin(whole.signals, this.bits)
    islands.forEach(({ stores, circuit, global }, n) => {
      stores.forEach(({ element, a, b }, s) => {
        const own = network.elements.find((one) => one.id === element.id)
        const imposed = own?.type === 'store' ? own.holds : undefined
        const v = imposed ?? this.frame.across[global[a]] - this.frame.across[global[b]]
        this.stand.held[n][s] =
          element.type === 'store' ? chargeAt(element.charge, v).q : (element.starts ?? v / element.resistance)
        if (imposed !== undefined && circuit.names[b] === '0') this.frame.across[global[a]] = imposed
      })
    })
  }

  private takeOver({ sea, frame, stand }: { sea: Archipelago; frame: Frame; stand: Stand }): void {
    const { whole, islands } = this.sea
    whole.names.forEach((name, i) => {
      const old = sea.whole.index.get(name)
      if (old !== undefined && whole.unknown[i] >= 0) this.frame.across[i] = frame.across[old]
    })
    const left = new Map<string, { v: number; current: number }>()
    sea.islands.forEach(({ stores, global }, n) => {
      stores.forEach(({ element, a, b }, s) => {
        left.set(element.id, { v: frame.across[global[a]] - frame.across[global[b]], current: stand.held[n][s] })
      })
    })
    const { elements } = this.legs[this.leg].network
    islands.forEach(({ stores, global }, n) => {
      stores.forEach(({ element, a, b }, s) => {
        const old = left.get(element.id)
        const own = elements.find((one) => one.id === element.id)
        const first = own?.type === 'store' ? own.holds : undefined
        const v = old?.v ?? first ?? this.frame.across[global[a]] - this.frame.across[global[b]]
        this.stand.held[n][s] =
          element.type === 'store' ? chargeAt(element.charge, v).q : (old?.current ?? element.starts ?? v / element.resistance)
      })
    })
  }

  /** One step, and what switches at its end. */
  private advance(end: number): void {
    const due = this.clock.due(this.sea.whole.signals)
    const limit = Math.min(end, Math.max(due, this.time))
    if (this.levels.length === 0 && !this.sea.islands.some((island) => island.live)) {
      this.takeSamples(undefined, limit)
      this.time = limit
    } else if (limit > this.time && !this.step(limit)) {
      return
    }
    if (this.time >= due) this.switchAll([], 'timer')
  }

  private h = 0

  /** Steps as far as the error, the limit and the first level allow. @returns whether it got on */
  private step(limit: number): boolean {
    const from = this.time
    const legTime = from - this.legs[this.leg].from
    if (!(this.h > 0)) this.h = this.firstStep(limit - from)
    let tried: Tried | Stuck | undefined
    let h = this.h
    for (;;) {
      h = Math.min(h, limit - from)
      tried = this.stepper.try(this.frame, this.stand, this.bits, legTime, h)
      if ('frames' in tried && tried.error <= 1) break
      this.result.refused += 1
      h *= 'frames' in tried ? Math.max(0.1, CAUTION * tried.error ** -0.25) : 0.25
      if (h > 1e-12 * (1 + from)) continue
      this.ended = { status: 'no convergence', parts: 'parts' in tried ? tried.parts : [], period: undefined }
      return false
    }
    const next = h * Math.min(GROWTH, CAUTION * Math.max(tried.error, 1e-8) ** -0.25)
    const share = firstReached(this.levels, tried.frames, this.bits)
    if (share !== undefined) {
      const located = this.locate(legTime, share * h, h)
      if (!located) return false
      h = located.h
      tried = located.tried
    }
    const full = share === undefined && h === limit - from
    this.accept(tried, from, h, full ? limit : from + h)
    this.h = share === undefined ? Math.max(next, full ? this.h : 0) : 0
    if (share !== undefined) {
      const fired = reached(this.levels, tried.frames, this.bits, h)
      this.switchAll(fired, 'level')
    }
    return true
  }

  private accept(tried: Tried, from: number, h: number, time: number): void {
    for (const { signal, share, overdrive: short } of grazed(this.levels, tried.frames, this.bits)) {
      this.result.grazes.push({ time: from + share * h, signal: this.sea.whole.signals[signal].id, overdrive: short })
    }
    this.takeSamples(tried, time)
    for (const stage of PLACE_STAGES) this.extremes.see(tried.frames[stage])
    overwrite(this.frame, tried.frames[tried.frames.length - 1])
    tried.stand.held.forEach((held, n) => {
      if (!this.sea.islands[n].live) return
      this.stand.held[n].set(held)
      this.stand.rate[n].set(tried.stand.rate[n])
    })
    this.time = time
    this.result.steps += 1
  }

  /** Steps again, to where the first level is reached: the last try ends just past it. */
  private locate(legTime: number, guess: number, whole: number): { tried: Tried; h: number } | undefined {
    let [low, high] = [0, whole]
    let [below, above] = [furthest(this.levels, this.frame, this.bits), Number.NaN]
    let h = Math.max(guess, 1e-12)
    for (let n = 0; n < 60; n += 1) {
      const tried = this.stepper.try(this.frame, this.stand, this.bits, legTime, h)
      if (!('frames' in tried)) {
        this.ended = { status: 'no convergence', parts: tried.parts, period: undefined }
        return undefined
      }
      const past = furthest(this.levels, tried.frames[tried.frames.length - 1], this.bits)
      const close = high - low <= 1e-12 * (1 + legTime)
      if (past >= 0 && (past <= REACHED || close)) return { tried, h }
      if (past >= 0) [high, above] = [h, past]
      else [low, below] = [h, past]
      h = between(low, below, high, above, n)
    }
    const tried = this.stepper.try(this.frame, this.stand, this.bits, legTime, high)
    return 'frames' in tried ? { tried, h: high } : undefined
  }

  /** A first length: what moves a store by a hundredth of its ordinary size. */
  private firstStep(most: number): number {
    let h = most
    const { whole, islands } = this.sea
    islands.forEach(({ stores, global }, n) => {
      stores.forEach(({ element, a, b }, s) => {
        const rate = Math.abs(this.stand.rate[n][s])
        if (rate === 0) return
        const held = Math.abs(this.stand.held[n][s])
        const domain = whole.domains[global[a] || global[b]]
        const v = this.frame.across[global[a]] - this.frame.across[global[b]]
        const capacity = element.type === 'store' ? chargeAt(element.charge, v).slope : 1
        const size = element.type === 'store' ? ERROR_SCALE[domain] * capacity : 0.1 + held
        h = Math.min(h, (0.01 * size) / rate)
      })
    })
    return Math.max(h, 1e-9)
  }

  /** All that switches at this instant, one after the other, until nothing more wants to. */
  private switchAll(fired: { signal: number; rate: number }[], cause: MarchEvent['cause']): void {
    const before = { bits: Uint8Array.from(this.bits), frame: copyFrame(this.frame) }
    const together = this.iterate(fired, cause, 'all')
    let outcome = together
    if (together.cycle.length > 0) {
      this.bits = Uint8Array.from(before.bits)
      overwrite(this.frame, before.frame)
      outcome = this.iterate(fired, cause, 'largest')
    }
    if (this.ended) return
    this.result.events.push(...outcome.events)
    this.h = 0
    if (outcome.cycle.length > 0) {
      const signals = outcome.cycle.map((i) => this.sea.whole.signals[i].id)
      const period = { from: this.time, length: outcome.rounds * ARMATURE, signals }
      this.ended = { status: 'chatters', parts: signals, period }
      return
    }
    if (outcome.events.length > 0) this.watchForPeriod(outcome.events[0])
  }

  private iterate(fired: { signal: number; rate: number }[], cause: MarchEvent['cause'], order: 'all' | 'largest') {
    const { whole } = this.sea
    const events: MarchEvent[] = []
    const note = (signal: number, why: MarchEvent['cause'], rate?: number) => {
      const event: MarchEvent = { time: this.time, signal: whole.signals[signal].id, on: this.bits[signal] === 1, cause: why }
      events.push(rate === undefined ? event : { ...event, rate })
    }
    for (const { signal, rate } of fired) {
      this.bits[signal] ^= 1
      note(signal, 'level', rate)
    }
    const seen = new Map<string, number>()
    for (let round = 0; round < MOST_ROUNDS; round += 1) {
      const { changed, restless } = this.clock.settle(whole.signals, whole.logic, this.bits, this.time)
      for (const signal of changed) note(signal, logicCause(cause, round, whole.signals[signal].type))
      if (restless.length > 0) return { events, cycle: restless, rounds: restless.length }
      const key = this.bits.join('')
      const again = seen.get(key)
      if (again !== undefined) return { events, cycle: movingIn([...seen.keys()].slice(again)), rounds: round - again }
      seen.set(key, round)
      const stuck = this.solveInstant()
      if (stuck) {
        this.ended = { status: 'no convergence', parts: stuck.parts, period: undefined }
        return { events, cycle: [], rounds: round }
      }
      const wanting = this.wanting(order)
      if (wanting.length === 0) return { events, cycle: [], rounds: round }
      for (const signal of wanting) {
        this.bits[signal] ^= 1
        note(signal, cause === 'leg' ? 'leg' : 'level')
      }
    }
    return { events, cycle: movingIn([...seen.keys()]), rounds: MOST_ROUNDS }
  }

  private wanting(order: 'all' | 'largest'): number[] {
    const found: { signal: number; size: number }[] = []
    for (const threshold of this.sea.whole.thresholds) {
      const on = this.bits[threshold.signal] === 1
      const past = overdrive(threshold, this.frame.across, on)
      const level = Math.abs(on ? threshold.fall : threshold.rise) || 1
      if (on ? past > 0 : past >= 0) found.push({ signal: threshold.signal, size: past / level })
    }
    if (order === 'all' || found.length < 2) return found.map(({ signal }) => signal)
    return [found.toSorted((p, q) => q.size - p.size || p.signal - q.signal)[0].signal]
  }

  /** Every island that moves, and every one whose contacts switched, at this very instant: stores keep what they hold. */
  private solveInstant(): Stuck | undefined {
    const { islands } = this.sea
    const legTime = this.time - this.legs[this.leg].from
    this.solver.drift(this.frame, legTime)
    for (const [n, island] of islands.entries()) {
      const heard = island.imports.map((node) => this.frame.across[island.global[node]])
      const key = island.gates.map((signal) => this.bits[signal]).join('') + heard.join(',')
      if (!island.live && key === this.solvedWith[n]) continue
      const stores = {
        left: this.stand.held[n],
        share: INSTANT,
        held: new Float64Array(island.stores.length),
        rate: this.stand.rate[n],
      }
      const stuck = this.solver.solve(n, this.frame, this.bits, legTime, stores, true)
      if (stuck) return stuck
      this.solvedWith[n] = `${key} `.slice(0, -1)
    }
    return undefined
  }

  private watchForPeriod(event: MarchEvent): void {
    const { whole, islands } = this.sea
    const stand: number[] = []
    for (const { stores, global } of islands) {
      for (const { a, b } of stores) {
        const scale = ERROR_SCALE[whole.domains[global[a] || global[b]]]
        stand.push((this.frame.across[global[a]] - this.frame.across[global[b]]) / scale)
      }
    }
    const key = `${event.signal} ${event.on} ${this.bits.join('')} ${this.clock.left(whole.signals, this.time)}`
    const until = Math.min(this.nextLegAt(), this.options.until)
    const found = this.repetition.after(this.time, key, event.signal, Float64Array.from(stand), until)
    if (!found) return
    this.period ??= found.period
    const last = this.leg === this.legs.length - 1
    if (found.chatter) this.ended = { status: 'chatters', parts: found.period.signals, period: found.period }
    else if (this.options.stopWhenPeriodic && last) this.ended = { status: 'periodic', parts: [], period: found.period }
  }

  /** Looks at the samples up to `time`, inside the step just tried, or with nothing moving. */
  private takeSamples(tried: Tried | undefined, time: number): void {
    const { samples = [] } = this.options
    for (; this.sample < samples.length && samples[this.sample] <= time; this.sample += 1) {
      const at = samples[this.sample]
      const share = time > this.time ? (at - this.time) / (time - this.time) : 1
      this.result.samples.push(this.instant(tried ? this.within(tried, share, time - this.time) : copyFrame(this.frame), at))
    }
  }

  /** The whole inside a step: stores on the cubic through their ends and slopes, all else solved for what they then hold. */
  private within(tried: Tried, share: number, h: number): Frame {
    const frame = copyFrame(tried.frames[share < 0.5 ? 0 : tried.frames.length - 1])
    const legTime = this.time + share * h - this.legs[this.leg].from
    this.solver.drift(frame, legTime)
    const [p, q] = [(1 + 2 * share) * (1 - share) ** 2, share * (1 - share) ** 2 * h]
    const [r, s] = [share * share * (3 - 2 * share), share * share * (share - 1) * h]
    this.sea.islands.forEach((island, n) => {
      if (!island.live) return
      const { held, rate } = this.stand
      const next = tried.stand
      const left = held[n].map((value, k) => p * value + q * rate[n][k] + r * next.held[n][k] + s * next.rate[n][k])
      const stores = { left, share: INSTANT, held: new Float64Array(left.length), rate: new Float64Array(left.length) }
      this.solver.solve(n, frame, this.bits, legTime, stores, true)
    })
    return frame
  }

  private instant({ across, borderFlow, storeFlow }: Frame, time: number): Instant {
    return { time, circuit: this.sea.whole, point: { across, borderFlow }, storeFlow, bits: Uint8Array.from(this.bits) }
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

function movingIn(keys: readonly string[]): number[] {
  const first = keys[0] ?? ''
  return [...first].map((_, i) => i).filter((i) => keys.some((key) => key[i] !== first[i]))
}

const TIMERS = new Set(['TON', 'TOF', 'TP'])

const logicCause = (cause: MarchEvent['cause'], round: number, type: string): MarchEvent['cause'] => {
  if (cause === 'timer' && round === 0 && TIMERS.has(type)) return 'timer'
  return cause === 'leg' ? 'leg' : 'logic'
}
