import { ASSUMPTIONS } from '@halfsplit/core'
import { type Part, portName } from '@halfsplit/system'
import { setupKey } from '../setup.js'
import { minusPort, type Test } from '../tests.js'
import type { Taken } from '../evidence.js'
import { believedFaults, type HazardBench, type HazardStanding } from './believed.js'
import { HazardStudy } from './study.js'

/** Whether an ohmmeter may go on, and what is to be read before. */
export interface OhmsRuling {
  allowed: boolean
  /** Its state is one in which the description says that power is off. */
  dead: boolean
  /** Chance of volts at one of its points in that state, with the part not yet apart from the rest, over all that is believed. */
  maybeLive: number
  /** Readings of volts near zero from both its points to battery minus stand in the log of this job, or it was said so. */
  proved: boolean
  /** What proves it dead: less than so many volts from each of these points to battery minus. */
  proof: { points: readonly string[]; minus: string; below: number }
}

/**
 * Ohms on a live circuit are refused: the state must be one without power, and where the points may carry volts (main supply side, a
 * welded switch, a stored charge) less than `deadVolts` must have been read from both to battery minus first, in this setup or this state:
 * between the two points alone a live wire reads nothing.
 * @param proved the technician has just proved it dead
 */
export function ohmsAllowed(bench: HazardBench, standing: HazardStanding, { setup, probe }: Test, proved = false): OhmsRuling {
  if (probe.kind !== 'ohms') throw new RangeError(`'${probe.kind}' is no reading of resistance`)
  const { system } = bench
  const part = system.parts.get(probe.part) as Part
  const points = [probe.red, probe.black].map((port) => portName(part, port))
  const minus = minusPort(system)
  const dead = system.states.get(setup.state)?.dead ?? false
  const maybeLive = dead ? liveChance(bench, standing, setup.state, points) : 1
  const read = proved || provedInLog(standing, setup, points, minus)
  return {
    allowed: dead && (read || maybeLive < ASSUMPTIONS.maybeLive),
    dead,
    maybeLive,
    proved: read,
    proof: { points, minus, below: ASSUMPTIONS.deadVolts },
  }
}

function liveChance({ machine, system }: HazardBench, standing: HazardStanding, state: string, ports: readonly string[]): number {
  const study = HazardStudy.of(machine)
  const nodes = ports.map((port) => system.nodeOf.get(port) as string)
  const moments = believedFaults(machine, standing).cases.map((one) => ({ one, moment: study.moment(one.faults, { state }) }))
  const whole = moments.reduce((sum, { one }) => sum + one.probability, 0)
  const live = moments
    // Where the machine finds no rest nobody knows: counted as live.
    .filter(({ moment }) => !moment || nodes.some((node) => moment.live.has(node)))
    .reduce((sum, { one }) => sum + one.probability, 0)
  return whole > 0 ? live / whole : 1
}

/** Both points were read to battery minus, in this setup or its state, since anything was last done to the machine. */
function provedInLog(standing: HazardStanding, setup: Test['setup'], ports: readonly string[], minus: string): boolean {
  const { groups, actions } = standing
  const taken = groups
    .filter((group) => group.segment === actions.length && [setupKey(setup), setup.state].includes(setupKey(group.setup)))
    .flatMap((group) => group.taken)
  return ports.every((port) => port === minus || taken.some((one) => readsDead(one, port, minus)))
}

const readsDead = ({ probe, outcome }: Taken, port: string, minus: string): boolean =>
  probe.kind === 'volts' &&
  probe.red === port &&
  probe.black === minus &&
  outcome.kind === 'number' &&
  Math.abs(outcome.value) + outcome.halfWidth <= ASSUMPTIONS.deadVolts
