import { ASSUMPTIONS, type Random } from '@halfsplit/core'
import { type FaultMode, faultModes, stretches } from '@halfsplit/diagnosis'
import type { Severity } from '@halfsplit/kinds'
import type { Fault, System } from '@halfsplit/system'

interface Weighed {
  fault: FaultMode
  /** Chance that it came in since the machine was last good. */
  weight: number
}

/** Faults as they come into a workshop: by their rates, over the time in which an operator would have noticed them. */
export class FaultSource {
  private readonly weights: readonly number[]

  private constructor(private readonly all: readonly Weighed[]) {
    this.weights = all.map(({ weight }) => weight)
  }

  /** @param factorOf what a fault's true rate is, as a multiple of the described one */
  static of(system: System, factorOf: (fault: FaultMode) => number = () => 1): FaultSource {
    const weightOf = (fault: FaultMode) => -Math.expm1(-fault.rate * factorOf(fault) * ASSUMPTIONS.noticedExposure)
    return new FaultSource(faultModes(system).map((fault) => ({ fault, weight: weightOf(fault) })))
  }

  /** The source of those faults only that a condition keeps; undefined where none is left. */
  only(keep: (fault: FaultMode) => boolean): FaultSource | undefined {
    const kept = this.all.filter(({ fault }) => keep(fault))
    return kept.length > 0 ? new FaultSource(kept) : undefined
  }

  /** Share of jobs with two faults among those with one or two: three and more are left out. */
  get shareOfTwo(): number {
    const one = sum(this.weights)
    const same = new Map<string, number>()
    for (const { fault, weight } of this.all) same.set(fault.part.name, (same.get(fault.part.name) ?? 0) + weight)
    const two = (one ** 2 - sum([...same.values()].map((weight) => weight ** 2))) / 2
    return two / (one + two)
  }

  one(random: Random): Fault {
    return sizedFault(this.all[random.pick(this.weights)].fault, random)
  }

  /** Two faults in different parts. */
  two(random: Random): Fault[] {
    for (;;) {
      const [first, second] = [this.one(random), this.one(random)]
      if (first.part !== second.part) return [first, second]
    }
  }

  /** One of the faults that a repair cures. */
  curedBy(repair: string, random: Random): Fault {
    const own = this.all.filter(({ fault }) => fault.repair === repair)
    return sizedFault(own[random.pick(own.map(({ weight }) => weight))].fault, random)
  }

  /** Repairs by how often they are needed; ties by name. */
  likeliestRepairs(): string[] {
    const needed = new Map<string, number>()
    for (const { fault, weight } of this.all) needed.set(fault.repair, (needed.get(fault.repair) ?? 0) + weight)
    return [...needed].sort(([a, p], [b, q]) => q - p || (a < b ? -1 : 1)).map(([repair]) => repair)
  }
}

const sum = (values: readonly number[]): number => values.reduce((all, one) => all + one, 0)

/** The fault at a size drawn anywhere in its range. */
function sizedFault({ part, mode, other, severity }: FaultMode, random: Random): Fault {
  const fault: Fault = { part: part.name, mode: mode.id }
  if (other !== undefined) fault.other = other
  if (severity) fault.severity = drawnSize(severity, random)
  return fault
}

function drawnSize(severity: Severity, random: Random): number {
  const parts = stretches(severity)
  const { middle, width } = parts[random.integer(parts.length)]
  const at = middle + width * (random.uniform() - 0.5)
  return severity.scale === 'log' ? Math.exp(at) : at
}
