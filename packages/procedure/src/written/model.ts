import type { Dimension, Position } from '@halfsplit/core'
import type { Test } from '@halfsplit/diagnosis'

/** What a sound machine shows at a step, as the sheet has it. */
export type Expect =
  /** One of these words of the look. */
  | { kind: 'words'; words: readonly string[] }
  /** A reading within limits [SI], either of which may be absent. */
  | { kind: 'range'; dimension: Dimension; low?: number; high?: number }
  /** The display says that it is beyond its ranges. */
  | { kind: 'over-range' }

/** Where a sheet goes from a step. */
export type Next =
  | { kind: 'step'; step: string }
  /** A repair of the description, as `replace K7`. */
  | { kind: 'repair'; repair: string }
  /** The machine is called sound. */
  | { kind: 'nothing found' }
  /** The sheet gives up. */
  | { kind: 'no conclusion' }

/** How a sheet ends. */
export type Conclusion = Exclude<Next, { kind: 'step' }>

/** One step of a written procedure: something taken in a setup, what is expected, and where to go from there. */
export interface Step {
  id: string
  /** What the sheet says is to be done. */
  text: string
  test: Test
  expect: Expect
  /** Temperature of the part at which the limits of a resistance hold [K]. */
  temperature?: number
  warnings: readonly string[]
  /** Where it goes when the machine shows what is expected, and when not. */
  pass: Next
  fail: Next
  position: Position
  expectAt: Position
}

/** A written procedure for one described machine. Its steps never lead back: every way through it ends. */
export interface Procedure {
  title: string
  about: string
  invented: boolean
  /** Id of the complaint it is for. */
  complaint?: string
  /** Warnings that hold for all of it. */
  warnings: readonly string[]
  /** In the order of the sheet; the first is where it begins. */
  steps: readonly Step[]
}

/** The words of a conclusion or a way, as a sheet writes them. */
export function nextText(next: Next): string {
  if (next.kind === 'step') return `go to ${next.step}`
  return next.kind === 'repair' ? next.repair : next.kind
}
