import { ASSUMPTIONS } from '@halfsplit/core'
import { type FaultMode, money, repairCost } from '@halfsplit/diagnosis'
import type { System } from '@halfsplit/system'
import { outcomeOf } from './conclusions.js'
import type { End } from './follow.js'
import type { Population } from './population.js'

/** A fault and how surely the sheet finds it. */
export interface FaultShare {
  fault: FaultMode
  /** Share of all machines with a fault that show the complaint. */
  weight: number
  /** Share of its machines that end with the repair that cures it. */
  found: number
}

/** How a sheet does over all machines with one fault that show the complaint, weighed by how often each comes. */
export interface Figures {
  /** Shares that end cured, with the cause left in, with a good part replaced, as "nothing found", without a conclusion. */
  cured: number
  causeLeft: number
  goodPart: number
  nothingFound: number
  noConclusion: number
  faults: readonly FaultShare[]
  /** Faults the sheet hardly ever finds, by their weight. */
  neverFound: readonly FaultShare[]
  /** Minutes of the sheet's tests: mean, and the longest way anybody goes. */
  meanMinutes: number
  worstMinutes: number
  /** Minutes and parts of tests and of the repair the sheet ends in, in the shop's money; what of it goes into good parts. */
  meanMoney: number
  worstMoney: number
  goodPartMoney: number
  /** Minutes of tests and of the repair the sheet ends in. */
  meanJobMinutes: number
  /** `meanMoney`, and for each machine that is not mended what it costs that it comes back. */
  meanJobMoney: number
  /** Endings of a sound machine that was complained of. */
  sound: readonly { conclusion: string; share: number }[]
}

/** Below this share a fault counts as never found. */
const NEVER = 0.05

/** @param ends of everything that was taken through the sheet, the sound machine among it */
export function figuresOf(system: System, population: Population, ends: readonly End[]): Figures {
  const faulty = ends.filter(({ cell }) => cell.fault)
  const all = sumOf(faulty)
  const share = (which: (end: End) => boolean) => (all > 0 ? sumOf(faulty.filter(which)) / all : 0)
  const faults = faultShares(population, faulty, all)
  const costs = faulty.map((end) => ({ end, ...costOf(system, end) }))
  const mean = (of: (one: (typeof costs)[number]) => number) =>
    all > 0 ? costs.reduce((sum, one) => sum + one.end.weight * of(one), 0) / all : 0
  const worst = (of: (one: (typeof costs)[number]) => number) => costs.reduce((most, one) => Math.max(most, of(one)), 0)
  const cured = share((end) => outcomeOf(end) === 'cured')
  const meanMoney = mean(({ tests, repair }) => tests + repair)
  return {
    cured,
    causeLeft: share((end) => outcomeOf(end) === 'cause left'),
    goodPart: share((end) => outcomeOf(end) === 'good part'),
    nothingFound: share(({ conclusion }) => conclusion.kind === 'nothing found'),
    noConclusion: share(({ conclusion }) => conclusion.kind === 'no conclusion'),
    faults,
    neverFound: faults.filter(({ found }) => found < NEVER),
    meanMinutes: mean(({ end }) => end.minutes),
    worstMinutes: worst(({ end }) => end.minutes),
    meanMoney,
    worstMoney: worst(({ tests, repair }) => tests + repair),
    goodPartMoney: mean(({ end, repair }) => (outcomeOf(end) === 'good part' ? repair : 0)),
    meanJobMinutes: mean(({ end, repairMinutes }) => end.minutes + repairMinutes),
    meanJobMoney: meanMoney + (1 - cured) * (ASSUMPTIONS.comebackMoney + money(ASSUMPTIONS.comebackMinutes)),
    sound: endingsOf(ends.filter(({ cell }) => !cell.fault)),
  }
}

function costOf(system: System, { conclusion, minutes, at }: End): { tests: number; repair: number; repairMinutes: number } {
  const repair = conclusion.kind === 'repair' ? repairCost(system, conclusion.repair, at.places) : { money: 0, minutes: 0 }
  return { tests: money(minutes), repair: repair.money, repairMinutes: repair.minutes }
}

function faultShares({ faults }: Population, ends: readonly End[], all: number): FaultShare[] {
  const byFault = new Map(faults.map((fault) => [fault, { weight: 0, cured: 0 }]))
  for (const end of ends) {
    const one = byFault.get(end.cell.fault as FaultMode)
    if (!one) continue
    one.weight += end.weight
    if (outcomeOf(end) === 'cured') one.cured += end.weight
  }
  return [...byFault]
    .map(([fault, { weight, cured }]) => ({ fault, weight: weight / all, found: weight > 0 ? cured / weight : 0 }))
    .sort((p, q) => q.weight - p.weight || (p.fault.id < q.fault.id ? -1 : 1))
}

function endingsOf(ends: readonly End[]): { conclusion: string; share: number }[] {
  const all = sumOf(ends)
  const shares = new Map<string, number>()
  for (const { conclusion, weight } of ends) {
    const name = conclusion.kind === 'repair' ? conclusion.repair : conclusion.kind
    shares.set(name, (shares.get(name) ?? 0) + weight / all)
  }
  return [...shares].map(([conclusion, share]) => ({ conclusion, share })).sort((p, q) => q.share - p.share)
}

const sumOf = (ends: readonly End[]): number => ends.reduce((sum, { weight }) => sum + weight, 0)
