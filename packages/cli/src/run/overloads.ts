import { ASSUMPTIONS } from '@halfsplit/core'
import { flowOf, type Instant } from '@halfsplit/network'
import { type Course, conditionsAt, type Fault, labelView, type Opening, type Part, type System } from '@halfsplit/system'

/** Share of what a part can bear that flows through it: above 1 it is overloaded. */
interface Burden {
  part: Part
  fault: Fault
  shares: readonly number[]
}

/** How hard each part that can open for good is driven, sample by sample; of one that is open nothing is told. */
export function burdensOf(system: System, course: Course, samples: readonly Instant[]): Burden[] {
  const conditions = samples.map((seen) => conditionsAt(course, seen.time))
  return [...system.parts.values()].flatMap((part) => {
    const mode = part.kind.overload?.(labelView(part, course.start.settings))?.mode
    if (mode === undefined) return []
    const shares = samples.map((seen, i) => {
      const { settings, faults } = conditions[i]
      const fault = faults.find((one) => one.part === part.name)
      const limit = fault?.mode === mode ? undefined : part.kind.overload?.(labelView(part, settings, fault))
      return limit ? Math.abs(flowOf(seen, `${part.name}:${limit.element}`)) / limit.limit : 0
    })
    return [{ part, fault: { part: part.name, mode }, shares }]
  })
}

/** Stretches between samples in which a part comes to be overloaded, or no longer is. */
export function turns(samples: readonly Instant[], burdens: readonly Burden[]): (readonly [number, number])[] {
  return samples
    .slice(1)
    .map((seen, i) => [samples[i].time, seen.time] as const)
    .filter((_, i) => burdens.some(({ shares }) => shares[i] > 1 !== shares[i + 1] > 1))
}

/** The first part that opens: its heat, the square of its burden over the time it is overloaded, comes to what it can take. */
export function firstOpening(samples: readonly Instant[], burdens: readonly Burden[]): Opening | undefined {
  let first: Opening | undefined
  for (const { fault, shares } of burdens) {
    const from = opensAt(samples, shares)
    if (from !== undefined && (!first || from < first.from)) first = { fault, from }
  }
  return first
}

function opensAt(samples: readonly Instant[], shares: readonly number[]): number | undefined {
  let heat = 0
  for (let i = 1; i < samples.length; i += 1) {
    const [from, to] = [samples[i - 1].time, samples[i].time]
    const [p, q] = [shares[i - 1], shares[i]]
    const more = p > 1 && q > 1 ? ((p * p + q * q) / 2) * (to - from) : 0
    if (more === 0) heat = 0
    else if (heat + more >= ASSUMPTIONS.overloadSeconds) return from + ((ASSUMPTIONS.overloadSeconds - heat) / more) * (to - from)
    heat += more
  }
  return undefined
}
