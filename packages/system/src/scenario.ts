import { ASSUMPTIONS, type Random } from '@halfsplit/core'
import type { DiscreteState, Element, Leg, Network } from '@halfsplit/network'
import type { Drive, Fault, Scenario } from './model.js'
import type { Realiser } from './realise.js'
import { keptAt, type Rest } from './rest.js'

/** A fault and when it is there: all the time, or in spells [s]. */
export interface Presence {
  fault: Fault
  spells?: readonly Spell[]
}

export interface Spell {
  from: number
  to: number
}

/** A machine about to go through a scenario: how it starts, what is the matter with it, and when it ends [s]. */
export interface Course {
  scenario: Scenario
  /** The last rest of the state the scenario starts from, under the faults that are there from the start. */
  start: Rest
  faults: readonly Presence[]
  /** Parts that open for good on the way, and when [s]. */
  opened?: readonly Opening[]
  until: number
}

export interface Opening {
  fault: Fault
  from: number
}

/** Pieces a stretch is cut into in which something changes smoothly that is not the value of a source. */
const PIECES = 60
/** The machine stands in its state for so long [s] before the first setting moves: stores start from rest, not from what moves them. */
const STAND = 1e-6

type Settings = ReadonlyMap<string, string | number>

/**
 * The networks that are in force one after the other while a scenario runs, and what the machine remembers at its start.
 *
 * At each time at which a setting steps, or an intermittent fault comes or goes, the machine is realised anew. A setting that changes evenly
 * becomes a rate of the sources it sets, where it sets nothing else and does so in proportion; otherwise its stretch is cut into 60 equal
 * pieces, each with the machine of its middle, so the result is good where the machine depends smoothly on the setting (warm coils do).
 * A setting that a store would start from (a tank's pressure) is held where the scenario drives it: the store gives way to a source.
 * Cost: a realising for each piece, three in an even change.  Checked in scenario.test.ts.
 */
export function legsOf(realiser: Realiser, course: Course): { legs: Leg[]; previous: DiscreteState } {
  const { start, until } = course
  const make = new LegMaker(realiser, course)
  const times = cuts(course)
  const legs: Leg[] = [{ from: 0, network: make.network(start.settings, start.faults) }]
  times.forEach((from, i) => legs.push(...make.stretch(Math.max(from, STAND), times[i + 1] ?? until)))
  return { legs, previous: start.settled.state }
}

/** Times at which something begins, changes or ends, rising from 0. */
function cuts({ scenario, faults, opened = [], until }: Course): number[] {
  const steps = scenario.drive.flatMap((drive) => drive.steps.map((step) => step.time))
  const spells = faults.flatMap(({ spells: all = [] }) => all.flatMap(({ from, to }) => [from, to]))
  return [...new Set([0, ...steps, ...spells, ...opened.map(({ from }) => from)])]
    .filter((time) => time < until)
    .sort((p, q) => p - q)
}

/** Settings in force and faults that are there at a time of a course. */
export function conditionsAt(
  course: Course,
  time: number,
  side: 'before' | 'after' = 'after',
): { settings: Settings; faults: Fault[] } {
  const settings = new Map(course.start.settings)
  for (const drive of course.scenario.drive) {
    settings.set(`${drive.part}.${drive.setting}`, valueAt(course.start.settings, drive, time, side))
  }
  return { settings, faults: faultsAt(course, time) }
}

/** What is there then; a part that opened for good has no other fault any more. */
function faultsAt({ start, faults, opened = [] }: Course, time: number): Fault[] {
  const gone = opened.filter(({ from }) => time >= from).map(({ fault }) => fault)
  const come = faults.filter(({ spells }) => spells?.some(({ from, to }) => time >= from && time < to)).map(({ fault }) => fault)
  const first = (all: readonly Fault[], others: readonly Fault[]) => [
    ...all,
    ...others.filter(({ part }) => !all.some((one) => one.part === part)),
  ]
  return first(first(gone, start.faults), come)
}

function valueAt(first: Settings, { part, setting, steps }: Drive, time: number, side: 'before' | 'after'): string | number {
  const passed = steps.filter((step) => (side === 'after' ? step.time <= time : step.time < time))
  const last = passed.at(-1)
  const value = last?.value ?? (first.get(`${part}.${setting}`) as string | number)
  const next = steps[passed.length]
  if (!next?.even) return value
  const since = last?.time ?? 0
  return Number(value) + ((Number(next.value) - Number(value)) * (time - since)) / (next.time - since)
}

class LegMaker {
  private readonly held: ReadonlySet<string>
  private readonly kept: ReadonlyMap<string, number>

  constructor(
    private readonly realiser: Realiser,
    private readonly course: Course,
  ) {
    this.kept = keptAt(course.start.settled)
    this.held = this.drivenStores()
  }

  /** Machines between two cuts: one if nothing changes or sources do evenly, else a row of them. */
  stretch(from: number, to: number): Leg[] {
    const { scenario, start } = this.course
    const moves = scenario.drive.some(
      (drive) => valueAt(start.settings, drive, from, 'after') !== valueAt(start.settings, drive, to, 'before'),
    )
    if (!moves) return [{ from, network: this.at(from, from) }]
    const whole = this.piece(from, from, to)
    if (whole.even) return [{ from, network: whole.network }]
    const length = (to - from) / PIECES
    return Array.from({ length: PIECES }, (_, i) => {
      const begin = from + i * length
      return { from: begin, network: this.piece(from, begin, begin + length).network }
    })
  }

  /** The machine in the middle of a piece, its sources moving from where they stand at its begin to where they stand at its end. */
  private piece(cut: number, begin: number, end: number): { network: Network; even: boolean } {
    const [first, middle, last] = [begin, (begin + end) / 2, end].map((time) => this.at(cut, time))
    const elements = middle.elements.map((element, i) => moving(first.elements[i], element, last.elements[i], end - begin))
    const even = elements.every(({ even: alone }) => alone) && sameSignals(first, middle, last)
    return { network: { ...middle, elements: elements.map(({ element }) => element) }, even }
  }

  /** The machine at a time of the stretch that begins at `cut`. */
  private at(cut: number, time: number): Network {
    const { settings } = conditionsAt(this.course, time, time > cut ? 'before' : 'after')
    return this.network(settings, faultsAt(this.course, cut))
  }

  network(settings: Settings, faults: readonly Fault[]): Network {
    const { network } = this.realiser.realise({ settings, faults, kept: this.kept })
    return { ...network, elements: network.elements.map((element) => (this.held.has(element.id) ? asSource(element) : element)) }
  }

  /** Stores that start from a setting which the scenario drives. */
  private drivenStores(): Set<string> {
    const { settings, faults } = this.course.start
    const plain = this.realiser.realise({ settings, faults }).network.elements
    const found = new Set<string>()
    for (const { part, setting, steps } of this.course.scenario.drive) {
      const name = `${part}.${setting}`
      for (const other of otherValues(settings.get(name) as string | number, steps)) {
        const { elements } = this.realiser.realise({ settings: new Map(settings).set(name, other), faults }).network
        elements.forEach((element, i) => {
          const twin = plain[i]
          if (element.type === 'store' && twin.type === 'store' && element.holds !== twin.holds) found.add(element.id)
        })
      }
    }
    return found
  }
}

/** Values to try a setting with that are not the one it has. */
function otherValues(value: string | number, steps: Drive['steps']): (string | number)[] {
  if (typeof value === 'number') return [value + 1e-3 * (Math.abs(value) || 1)]
  return steps.map((step) => step.value).filter((word) => word !== value)
}

function asSource(element: Element): Element {
  if (element.type !== 'store' || element.holds === undefined) return element
  const { id, a, b, holds } = element
  return { type: 'across', id, a, b, value: holds, resistance: 0 }
}

/** An element through a piece: a source with its value at the begin and its rate; `even` if nothing but that changes, in proportion. */
function moving(first: Element, middle: Element, last: Element, time: number): { element: Element; even: boolean } {
  if (isSource(first) && isSource(middle) && isSource(last)) {
    const change = last.value - first.value
    const element = change === 0 ? first : { ...first, rate: change / time }
    const straight = Math.abs(middle.value - (first.value + last.value) / 2) <= 1e-9 * Math.max(Math.abs(change), 1e-3)
    return { element, even: straight && same({ ...first, value: 0 }, { ...last, value: 0 }) }
  }
  return { element: middle, even: same(first, middle) && same(first, last) }
}

const isSource = (element: Element): element is Extract<Element, { type: 'across' | 'through' }> =>
  element.type === 'across' || element.type === 'through'

const same = (p: object, q: object): boolean => p === q || JSON.stringify(p) === JSON.stringify(q)

const sameSignals = (...networks: Network[]): boolean =>
  networks.every(({ signals, nodes }) => same(signals, networks[0].signals) && same(nodes, networks[0].nodes))

/**
 * When an intermittent fault is there: spells and pauses of exponential length, absent at the start. Its share of the time is that with which
 * it is there at a look.
 * @param until [s]
 */
export function spellsOf(random: Random, until: number): Spell[] {
  const { intermittentSpell, intermittentPresent } = ASSUMPTIONS
  const pause = (intermittentSpell * (1 - intermittentPresent)) / intermittentPresent
  const draw = (mean: number) => -mean * Math.log(random.uniform())
  const spells: Spell[] = []
  for (let from = draw(pause); from < until; ) {
    const to = from + draw(intermittentSpell)
    spells.push({ from, to })
    from = to + draw(pause)
  }
  return spells
}
