import { copperRatio } from '@halfsplit/core'
import { Machine, predictAll } from '@halfsplit/diagnosis'
import { assessCoil } from '@halfsplit/measurement'
import type { System } from '@halfsplit/system'
import type { Expect, Procedure, Step } from '../written/model.js'
import { passes } from '../written/passes.js'
import type { NoTemperature } from './findings.js'
import { soundShows } from './shown-by-sound.js'
import { SOUND, type Takings } from './taken-by.js'

const AT_20 = 293.15
/** A part is tried this much warmer to see whether its resistance moves [K]. */
const WARMER = 40
const WARM_STATE = 'audit: part warmer'
/** A resistance moves with temperature if it changes by more than this share over WARMER. */
const MOVES = 0.01
/** How well the temperature of a part is known with a thermometer in hand [K]. */
const THERMOMETER = 2

/** Resistances with limits that name no temperature though the part's resistance has one, and where good parts fail them. */
export function limitsWithoutTemperature(machine: Machine, takings: Takings, { steps }: Procedure): NoTemperature[] {
  return steps.flatMap((step) => {
    const { probe } = step.test
    if (probe.kind !== 'ohms' || step.temperature !== undefined || step.expect.kind !== 'range') return []
    if (!movesWithTemperature(machine.system, step)) return []
    return [{ kind: 'limits without a temperature', step, worst: worstState(machine, takings, step) }]
  })
}

type OhmsProbe = Extract<Step['test']['probe'], { kind: 'ohms' }>

/** Whether the part reads another resistance when it is warmer. */
function movesWithTemperature(system: System, { test: { setup, probe } }: Step): boolean {
  const name = (probe as OhmsProbe).part
  if (!system.parts.get(name)?.kind.settings?.temperature) return false
  const [parked] = system.states.values()
  const impose = [{ part: name, setting: 'temperature', value: AT_20 + WARMER, sd: 0 }]
  const warm = { ...parked, name: WARM_STATE, from: undefined, impose }
  const trial = new Machine({ ...system, states: new Map([...system.states, [WARM_STATE, warm]]) })
  const middle = (state: string) => {
    const [{ predictions }] = predictAll(trial, [], { ...setup, state }, [probe])
    return predictions[0].kind === 'number' ? predictions[0].mean : Number.NaN
  }
  const cold = middle(setup.state)
  return Math.abs(middle(WARM_STATE) - cold) > MOVES * cold
}

/** The state whose temperature makes most good parts fail the limits. */
function worstState(machine: Machine, takings: Takings, step: Step): NoTemperature['worst'] {
  let worst: NoTemperature['worst']
  for (const state of machine.system.states.keys()) {
    const one = inState(machine, takings, step, state)
    if (one && one.fails > (worst?.fails ?? 0)) worst = one
  }
  return worst
}

function inState(machine: Machine, takings: Takings, step: Step, state: string): NoTemperature['worst'] {
  const probe = step.test.probe as OhmsProbe
  const temperature = machine.settingsIn(state).get(`${probe.part}.temperature`)
  if (typeof temperature !== 'number') return undefined
  const taken = takings.of(SOUND, { ...step.test.setup, state }, probe)
  const fails = taken.filter((one) => !passes(step, one)).length / taken.length
  const shows = soundShows(taken)
  if (shows.kind !== 'range') return undefined
  const reading = (shows.low + shows.high) / 2
  return {
    state,
    temperature,
    fails,
    ...shows,
    reading,
    at20: reading / copperRatio(AT_20, temperature),
    verdict: verdictOf(step, reading, temperature),
  }
}

function verdictOf({ test: { probe }, expect }: Step, reading: number, temperature: number) {
  const { low, high } = expect as Extract<Expect, { kind: 'range' }>
  const { meter } = probe as OhmsProbe
  return assessCoil({ reading, meter, temperature: { value: temperature, halfWidth: THERMOMETER }, limits: { low, high } })
    .verdict
}
