import { ASSUMPTIONS, type Random } from '@halfsplit/core'
import { type Setup, setupKey, type TestProbe } from '@halfsplit/diagnosis'
import type { Look, Mode } from '@halfsplit/kinds'
import { probeValue } from '@halfsplit/network'
import { type Fault, labelView, nodeAt, type Part, probeOfPart, type System } from '@halfsplit/system'
import { Draws, type Making, USUAL_MAKING } from './draws.js'
import { say } from './observer.js'
import { ohmsOfPart } from './part-alone.js'
import { flowThrough, RecipeRunner, type Rest, type Specimen } from './run-recipe.js'
import { MeterSet, type Shown } from './virtual-meter.js'

/** Chances of what does not come out the same every time. */
export interface Chances {
  /** A display or note that says nothing of the machine. */
  misread: number
  /** An observer says another word than the one that fits. */
  slip: number
  /** An intermittent fault is there in a setup. */
  present: number
}

const USUAL: Chances = { misread: ASSUMPTIONS.misread, slip: ASSUMPTIONS.lookError, present: ASSUMPTIONS.intermittentPresent }

/**
 * One machine of a described system with faults in it, as real as the description can make it: every part's value, the meters' errors
 * and the faults' presence are drawn, every reading is a full solve with the meter in the network. It shares no code with the
 * predictions of the bench, so that it can judge them.
 * @param truth the faults that are there   @param random stream of its own; the same stream gives the same machine
 */
export class VirtualMachine {
  private faults: readonly Fault[]
  private readonly draws: Draws
  private readonly meters: MeterSet
  private readonly runner: RecipeRunner
  private readonly chances: Chances
  private readonly present = new Map<string, boolean>()
  private readonly rests = new Map<string, Rest>()
  private touched = 0

  constructor(
    readonly system: System,
    truth: readonly Fault[],
    private readonly random: Random,
    chances: Partial<Chances> = {},
    making: Making = USUAL_MAKING,
  ) {
    this.faults = truth
    this.chances = { ...USUAL, ...chances }
    this.draws = new Draws(system, random.fork('parts'), making.spread)
    this.meters = new MeterSet(random.fork('meters'), this.chances.misread, making.meterError)
    this.runner = new RecipeRunner(system)
  }

  /** The faults it has by now: not those that were cured or wiped away. */
  get standing(): readonly Fault[] {
    return this.faults
  }

  /** What too much current has opened for good and nobody has replaced. */
  get opened(): readonly Fault[] {
    return [...this.runner.opened.values()]
  }

  /** What a meter or gauge shows at a probe in a setup. A second call is a second reading of the same machine with the same meter. */
  read(setup: Setup, probe: Exclude<TestProbe, { kind: 'look' }>): Shown {
    if (probe.kind === 'ohms') return this.readOhms(setup, probe)
    const rest = this.restIn(setup)
    if (!rest.settled) return 'unsteady'
    if (probe.kind === 'volts') return this.readVolts(setup, rest, probe)
    const value =
      probe.kind === 'amps'
        ? flowThrough(rest.settled, `${probe.part}:${probe.element}`)
        : probeValue(rest.settled, { across: { [nodeAt(this.system, probe.at)]: 1 } })
    return this.meters.show(probe, () => value)
  }

  /** What a person sees, hears or feels at a part in a setup: a word of the look. */
  look(setup: Setup, part: Part, look: Look): string {
    const quantity = this.quantityOf(setup, part, look)
    if (quantity === undefined) return look.words[this.random.integer(look.words.length)]
    return say(look, quantity, this.random, this.chances.slip)
  }

  /** The quantity behind a look, in the unit of its levels; undefined where the machine finds no rest. */
  quantityOf(setup: Setup, part: Part, look: Look): number | undefined {
    const { settled, settings, discrete } = this.restIn(setup)
    if (!settled) return undefined
    const quantity = look.quantity(labelView(part, settings, this.faultsIn(setup, part)))
    if ('signal' in quantity) return discrete[`${part.name}:${quantity.signal}`] ? 1 : 0
    const probe = probeOfPart(this.system, part, quantity.probe)
    const value = ('through' in probe ? flowThrough(settled, probe.through) : probeValue(settled, probe)) * quantity.scale
    return quantity.absolute ? Math.abs(value) : value
  }

  /** The machine is used in a state, as its owner did: what too much current opens is open from now on. */
  use(state: string): void {
    this.restIn({ state })
  }

  /** The machine is used for a while and comes to rest anew: what comes and goes may be there now, or not. */
  goOn(): void {
    if (this.faults.some((fault) => modeOf(this.system, fault).intermittent)) this.forget()
  }

  /** A plug is pulled and put back, a part tapped or re-seated: a bad contact there may be well again for now. */
  disturb(parts: readonly string[]): void {
    const named = (fault: Fault) => {
      const connector = this.system.parts.get(fault.part)?.connector?.name
      return parts.includes(fault.part) || (connector !== undefined && parts.includes(connector))
    }
    this.faults = this.faults.filter(
      (fault) => !(named(fault) && isContact(fault) && this.random.uniform() < ASSUMPTIONS.disturbedCures),
    )
    this.forget()
  }

  /**
   * Repairs are made, as `replace K7`: each takes away what it cures, unless the new part is bad or wrongly fitted, and another
   * specimen of the part stays in the machine.
   */
  repair(repairs: readonly string[]): void {
    const bad = repairs.filter(() => this.random.uniform() < ASSUMPTIONS.badNewPart)
    this.faults = this.faults.filter((fault) => {
      const cure = repairOf(this.system, fault)
      return !repairs.includes(cure) || bad.includes(cure)
    })
    for (const repair of repairs) {
      const part = repair.slice(repair.indexOf(' ') + 1)
      const opened = this.runner.opened.get(part)
      if (opened && repairOf(this.system, opened) === repair) this.runner.opened.delete(part)
      this.draws.renew(part)
    }
    this.forget()
  }

  private readVolts(setup: Setup, rest: Rest, probe: Extract<TestProbe, { kind: 'volts' }>): Shown {
    const red = nodeAt(this.system, probe.red)
    const black = nodeAt(this.system, probe.black)
    const conductance = 1 / (probe.meter.inputResistance ?? Number.POSITIVE_INFINITY)
    const loaded =
      red === black ? rest.settled : this.runner.withMeter(rest, setup, this.specimen(setup), { red, black, conductance })
    if (!loaded) return 'unsteady'
    const value = red === black ? 0 : probeValue(loaded, { across: { [red]: 1, [black]: -1 } })
    return this.meters.show(probe, () => value)
  }

  private readOhms(setup: Setup, probe: Extract<TestProbe, { kind: 'ohms' }>): Shown {
    const { settings } = this.restIn({ state: setup.state })
    const specimen = this.specimen(setup)
    const { opened } = this.runner
    const faults = [...specimen.faults.filter(({ part }) => !opened.has(part)), ...opened.values()]
    return this.meters.show(probe, (range) =>
      ohmsOfPart(this.system, this.runner.realiser, settings, { ...specimen, faults }, probe, range),
    )
  }

  private restIn(setup: Setup): Rest {
    const key = setupKey(setup)
    let rest = this.rests.get(key)
    if (!rest) {
      const before = this.runner.opened.size
      rest = this.runner.run(setup, this.specimen(setup))
      // What opened here is open in every setup from now on.
      if (this.runner.opened.size > before) this.rests.clear()
      this.rests.set(key, rest)
    }
    return rest
  }

  private specimen(setup: Setup): Specimen {
    const { intervention } = setup
    const draw = intervention?.do === 'swap' ? this.draws.withSpare(intervention.part) : this.draws.z
    return { faults: this.faults.filter((fault) => this.isPresent(fault, setup)), draw }
  }

  /** What comes and goes is there in a setup or not, until somebody touches the machine. */
  private isPresent(fault: Fault, setup: Setup): boolean {
    if (!modeOf(this.system, fault).intermittent) return true
    const key = `${this.touched} ${setupKey(setup)} ${fault.part} ${fault.mode}`
    let there = this.present.get(key)
    if (there === undefined) {
      there = this.random.fork(key).uniform() < this.chances.present
      this.present.set(key, there)
    }
    return there
  }

  private faultsIn(setup: Setup, part: Part): Fault | undefined {
    return (
      this.runner.opened.get(part.name) ?? this.faults.find((fault) => fault.part === part.name && this.isPresent(fault, setup))
    )
  }

  private forget(): void {
    this.touched += 1
    this.rests.clear()
  }
}

/** The word of a look that fits its quantity, for an observer who neither wavers nor slips. */
export const plainWord = ({ words, levels }: Look, quantity: number): string =>
  words[levels.filter(([low, high]) => quantity >= (low + high) / 2).length]

/** The mode of a fault. @throws RangeError for a fault the system's parts can't have */
export function modeOf(system: System, fault: Fault): Mode {
  const mode = system.parts.get(fault.part)?.kind.modes.find(({ id }) => id === fault.mode)
  if (!mode) throw new RangeError(`'${system.name}' has no fault '${fault.part}.${fault.mode}'`)
  return mode
}

/** The repair that cures a fault, as `replace K7`. */
export const repairOf = (system: System, fault: Fault): string => `${modeOf(system, fault).repair} ${fault.part}`

/** Contacts that wiping them can cure for now. */
const isContact = ({ mode }: Fault): boolean => /contact|high_resistance|intermittent|socket/.test(mode)
