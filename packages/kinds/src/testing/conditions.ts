import { type Kind, type Mode, type Severity } from '../kind.js'
import { Bench, type Fitted, viewOf } from './bench.js'

/** Settings that are numbers are tried at the ends of what is usual and between. */
const NUMBERS: Record<string, readonly string[]> = {
  temperature: ['-30 degC', '20 degC', '110 degC'],
  absolutePressure: ['0 bar', '8 bar'],
  force: ['0 N', '6 kN'],
  fraction: ['0 %', '50 %', '100 %'],
  volume: ['0 l', '0.4 l'],
  power: ['0 W', '60 kW'],
  angularSpeed: ['0 rpm', '2200 rpm'],
  speed: ['0 m/s', '20 m/s'],
  time: ['0 s', '10 s', '5 min'],
}

export const make = (kind: Kind, fitted: Fitted = {}): Bench => new Bench().fit(kind, 'X1', {}, fitted)

/** Every combination of the words of the choices with words and numbers of the settings. */
export function conditions(kind: Kind): Fitted[] {
  const words = (of: { words: readonly string[] } | { dimension: string }) => ('words' in of ? of.words : NUMBERS[of.dimension])
  let found: Fitted[] = [{}]
  for (const [name, choice] of Object.entries(kind.choices ?? {})) {
    found = found.flatMap((one) => choice.words.map((word) => ({ ...one, choices: { ...one.choices, [name]: word } })))
  }
  for (const [name, setting] of Object.entries(kind.settings ?? {})) {
    found = found.flatMap((one) => words(setting).map((word) => ({ ...one, settings: { ...one.settings, [name]: word } })))
  }
  return found
}

export const severityOf = (kind: Kind, mode: Mode): Severity | undefined =>
  typeof mode.severity === 'function' ? mode.severity(viewOf(kind, 'X1')) : mode.severity

/** A part in every condition, in every mode at every size of it. */
export function faulted(kind: Kind): (Fitted & { fault: readonly [string, number?] })[] {
  const faults = kind.modes.flatMap((mode) => {
    const nodes: readonly (number | undefined)[] = severityOf(kind, mode)?.nodes ?? [undefined]
    return nodes.map((size) => [mode.id, size] as const)
  })
  return conditions(kind).flatMap((condition) => faults.map((fault) => ({ ...condition, fault })))
}
