import type { Signal } from '@halfsplit/network'
import type { Part } from './model.js'
import { labelView } from './own-names.js'
import type { Realiser } from './realise.js'
import { type NoRest, type Rest, restsOnTheWay } from './rest.js'

/** What a reading in a state hangs on besides the state itself: it counts only if the state was reached so, or only after a while. */
export type Counting =
  | {
      /** A switch whose input lies within its hysteresis: what it is depends on where the machine came from. */
      because: 'side'
      part: Part
      dimension: 'temperature' | 'pressureDifference'
      /** Levels at which it goes back and operates, and where its input is [SI]. */
      reset: number
      trip: number
      input: number
      /** What it is here, and what it would be had the machine come from the other side. */
      is: string
      otherwise: string
      /** The side it came from. */
      from: 'above' | 'below'
      /** The last state on the way in which it was beyond the band; undefined where the way begins within it. */
      since?: string
    }
  | {
      /** A timer that starts when the state is entered. */
      because: 'timer'
      part: Part
      /** [s], and its limits where it has a tolerance. */
      delay: number
      shortest?: number
      longest?: number
      /** What its input does on the way into the state. */
      goes: 'on' | 'off'
    }

type Threshold = Extract<Signal, { type: 'threshold' }>
type Timer = Extract<Signal, { type: 'TON' | 'TOF' | 'TP' }>

/**
 * What a reading in a state hangs on, on a healthy machine: for each switch that acts by a temperature or pressure and lies within its
 * hysteresis, the side it came from; for each timer that starts on the way into the state, how long to wait.
 * @returns an empty list where any reading counts; or where the machine finds no rest
 * Cost: a settling a step of the recipe.  Checked in counting.test.ts.
 */
export function countingIn(realiser: Realiser, state: string): Counting[] | NoRest {
  const rests = restsOnTheWay(realiser, state)
  if (!Array.isArray(rests)) return rests
  const last = rests[rests.length - 1]
  return last.settled.circuit.signals.flatMap((signal): Counting[] => {
    const part = realiser.system.parts.get(signal.id.slice(0, signal.id.indexOf(':')))
    if (!part) return []
    if (signal.type === 'threshold') return sideOf(part, signal, rests) ?? []
    return isTimer(signal) ? (waitFor(part, signal, last) ?? []) : []
  })
}

function sideOf(part: Part, signal: Threshold, rests: readonly Rest[]): Counting[] | undefined {
  const last = rests[rests.length - 1]
  const words = part.kind.says?.(labelView(part, last.settings))[signal.id.slice(part.name.length + 1)]
  if (!words?.acts) return undefined
  const [reset, trip] = [signal.fall / signal.scale, signal.rise / signal.scale]
  const input = inputOf(signal, last)
  if (!(input > reset && input < trip)) return undefined
  const on = last.settled.state[signal.id]
  const beyond = (rest: Rest) => (on ? inputOf(signal, rest) >= trip : inputOf(signal, rest) <= reset)
  const { by: dimension, on: tripped, off: untripped } = words.acts
  return [
    {
      because: 'side',
      part,
      dimension,
      reset,
      trip,
      input,
      is: on ? tripped : untripped,
      otherwise: on ? untripped : tripped,
      from: on ? 'above' : 'below',
      since: rests.findLast(beyond)?.state,
    },
  ]
}

function inputOf({ a, b }: Threshold, { settled: { circuit, point } }: Rest): number {
  const at = (node: string) => point.across[circuit.index.get(node) as number]
  return at(a) - at(b)
}

const isTimer = (signal: Signal): signal is Timer => signal.type === 'TON' || signal.type === 'TOF' || signal.type === 'TP'

/** A timer takes its time when its input comes on; one that delays going off, when it goes off. */
function waitFor(part: Part, { type, of, delay }: Timer, { before, settled }: Rest): Counting[] | undefined {
  const input = settled.state[of]
  if ((before[of] ?? false) === input || input !== (type !== 'TOF')) return undefined
  const rating = [...part.ratings.values()].find((one) => one.dimension === 'time' && one.value === delay)
  return [{ because: 'timer', part, delay, shortest: rating?.low, longest: rating?.high, goes: input ? 'on' : 'off' }]
}
