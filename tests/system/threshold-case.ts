import { createRandom } from '@halfsplit/core'
import { Machine, minusPort, predictAll, type Setup, type TestProbe } from '@halfsplit/diagnosis'
import { belief, type Branch, moments, predictive } from '@halfsplit/inference'
import { VirtualMachine } from '@halfsplit/procedure'
import type { System } from '@halfsplit/system'
import { expect } from 'vitest'
import { Bay } from './library.js'

/** A fault that brings a threshold near its level, the look that tells which way it went, and points read beside it. */
export interface ThresholdCase {
  system: System
  fault: string
  severity: number
  setup: Setup
  /** `PART.look` of two words, the second said of a threshold that switched. */
  look: string
  /** Points of a voltmeter: `red black`, or `red` against battery minus. */
  points: readonly string[]
}

/** What one side of the threshold shows: how often it comes about, and mean and sd of each point's display [V]. */
export interface Side {
  share: number
  points: readonly { mean: number; sd: number }[]
}

export interface Sides {
  off: Side
  on: Side
}

function lookProbe(system: System, name: string): Extract<TestProbe, { kind: 'look' }> {
  const [partName, lookName] = name.split('.')
  const part = system.parts.get(partName)
  const look = part?.kind.looks?.find((one) => one.name === lookName)
  if (!part || !look) throw new Error(`no look '${name}'`)
  return { kind: 'look', part, look }
}

function voltsProbe(system: System, points: string): Extract<TestProbe, { kind: 'volts' }> {
  const meter = system.meters.find(({ quantity }) => quantity === 'voltage')
  if (!meter) throw new Error('no voltmeter')
  const [red, black = minusPort(system)] = points.split(' ')
  return { kind: 'volts', red, black, meter }
}

/** The bench's prediction: the chance of each word of the look and, given the word, what each point shows. */
export function predicted({ system, fault, severity, setup, look, points }: ThresholdCase): Sides {
  const machine = new Machine(system)
  const sized = new Bay(system).fault(fault, severity)
  const probes = [lookProbe(system, look), ...points.map((one) => voltsProbe(system, one))]
  const branches = predictAll(machine, [sized], setup, probes)
  const [off, on] = [0, 1].map((word) => sideOf(branches, word))
  return { off, on }
}

/** The look alone is taken as seen, then the points are predicted from what it taught. */
function sideOf(branches: readonly Branch[], word: number): Side {
  const only = (from: number, to?: number) =>
    branches.map(({ conditions, predictions }) => ({ conditions, predictions: predictions.slice(from, to) }))
  const seen = [{ id: 'seen', records: [{ id: 'look', outcome: { kind: 'word', word, words: 2 } as const, error: 0 }] }]
  const after = belief([{ hypothesis: 0, weight: 1 }], [1], seen, () => only(0, 1))
  const points = predictive(after.states[0], only(1)).map((one) => moments(one) ?? { mean: Number.NaN, sd: Number.NaN })
  return { share: Math.exp(after.logEvidence), points }
}

/** The same from many machines, each drawn and settled in full by the virtual machine, with no misreads and no slips. */
export function drawn(one: ThresholdCase, draws: number, seed: string): Sides {
  const { system, fault, severity, setup, look, points } = one
  const cut = fault.lastIndexOf('.')
  const truth = [{ part: fault.slice(0, cut), mode: fault.slice(cut + 1), severity }]
  const { part, look: seen } = lookProbe(system, look)
  const probes = points.map((text) => voltsProbe(system, text))
  const shown = [new Array<number[]>(), new Array<number[]>()]
  for (let n = 0; n < draws; n += 1) {
    const machine = new VirtualMachine(system, truth, createRandom(`${seed} ${n}`), { misread: 0, slip: 0 })
    const word = seen.words.indexOf(machine.look(setup, part, seen))
    shown[word].push(probes.map((probe) => displayed(machine, setup, probe)))
  }
  const [off, on] = shown.map((rows) => ({
    share: rows.length / draws,
    points: points.map((_, p) => spreadOf(rows.map((row) => row[p]))),
  }))
  return { off, on }
}

function displayed(machine: VirtualMachine, setup: Setup, probe: Extract<TestProbe, { kind: 'volts' }>): number {
  const shown = machine.read(setup, probe)
  if (shown === 'unsteady' || shown.over) throw new Error('the machine finds no rest')
  return shown.value
}

function spreadOf(values: readonly number[]): { mean: number; sd: number } {
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length
  const square = values.reduce((sum, value) => sum + (value - mean) ** 2, 0)
  return { mean, sd: Math.sqrt(square / (values.length - 1)) }
}

/** Sampling errors that a right prediction stays within, all but never; what a straight line near the middle may be off, as shares. */
const SIGMAS = 4
const SHARE_OFF = 0.01
const LINE_OFF = 0.02

/**
 * Both sides of the threshold agree: shares within the binomial error and 0.01; mean and sd of each point within their sampling
 * errors and 2 % of what lies between the two sides.
 */
export function expectAgreement(names: readonly string[], bench: Sides, judge: Sides, draws: number): void {
  const { share } = judge.on
  const binomial = Math.sqrt((share * (1 - share)) / draws)
  expect(Math.abs(bench.on.share - share), 'share that switches').toBeLessThan(SIGMAS * binomial + SHARE_OFF)
  expect(bench.on.share + bench.off.share).toBeCloseTo(1, 3)
  names.forEach((name, p) => {
    const apart = Math.abs(judge.on.points[p].mean - judge.off.points[p].mean)
    for (const side of ['off', 'on'] as const) {
      const [own, other] = [bench[side].points[p], judge[side].points[p]]
      const error = other.sd / Math.sqrt(judge[side].share * draws)
      expect(Math.abs(own.mean - other.mean), `mean of ${name}, ${side}`).toBeLessThan(SIGMAS * error + LINE_OFF * apart)
      expect(Math.abs(own.sd - other.sd), `sd of ${name}, ${side}`).toBeLessThan((SIGMAS * error) / Math.SQRT2 + LINE_OFF * apart)
    }
  })
}

/** One line for each side of each point, the bench's figures before the judge's. */
export function comparison(title: string, names: readonly string[], bench: Sides, judge: Sides): string {
  const lines = (['off', 'on'] as const).flatMap((side) => [
    `  ${side}: share ${bench[side].share.toFixed(4)}, drawn ${judge[side].share.toFixed(4)}`,
    ...names.map((name, p) => {
      const [own, other] = [bench[side].points[p], judge[side].points[p]]
      return `    ${name}: ${own.mean.toFixed(3)} V, sd ${own.sd.toFixed(3)}; drawn ${other.mean.toFixed(3)}, sd ${other.sd.toFixed(3)}`
    }),
  ])
  return [title, ...lines].join('\n')
}
