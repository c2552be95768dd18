/** Worked examples of lamps fed in a chain: what faults can be, with and without a model of what faulty parts do. */

import { diagnoses, type FiniteModel, minimalDiagnoses, type Relation } from '@halfsplit/inference'
import { type Answers, namesIn, type WorkedExample } from './worked-examples-case.js'

interface LampInputs {
  components: string[]
  topology: string
  readings: Record<string, string>
}

interface Link {
  from: string
  to: string
  wires: string[]
}

/** Reads `S feeds lamp B1 through W1 and W2; W3 and W4 carry on from B1 to B2`. */
function linksOf(topology: string): Link[] | null {
  const links = topology.split(/\s*;\s*/).map((clause): Link | null => {
    const feed = /^(\w+) feeds (?:lamp )?(\w+) through (.+)$/.exec(clause)
    if (feed !== null) return { from: feed[1], to: feed[2], wires: namesIn(feed[3]) }
    const on = /^(.+?)(?: carry on| carries on)? from (\w+) to (\w+)$/.exec(clause)
    return on === null ? null : { from: on[2], to: on[3], wires: namesIn(on[1]) }
  })
  const read = links.filter((link) => link !== null)
  return read.length === links.length ? read : null
}

const voltageAt = (name: string): string => `voltage at ${name}`

/** Sound parts carry a state on; faulty parts do anything, or with modes: carry nothing. */
function carries(parts: string[], variables: string[], withModes: boolean): Relation {
  const weight = (values: readonly number[], faulty: readonly boolean[]): number => {
    const out = values[values.length - 1]
    if (faulty.includes(true)) return !withModes || out === 0 ? 1 : 0
    return out === (values.length === 1 ? 1 : values[0]) ? 1 : 0
  }
  return { parts, variables, weight }
}

function modelOf({ components, readings }: LampInputs, links: readonly Link[], withModes: boolean): FiniteModel {
  const supplies = links.map(({ from }) => from).filter((from) => !links.some(({ to }) => to === from))
  const lamps = Object.keys(readings)
  const relations = [
    ...supplies.map((supply) => carries([supply], [voltageAt(supply)], withModes)),
    ...links.map(({ from, to, wires }) => carries(wires, [voltageAt(from), voltageAt(to)], withModes)),
    ...lamps.map((lamp) => carries([lamp], [voltageAt(lamp), lamp], withModes)),
  ]
  const names = [...new Set(relations.flatMap(({ variables }) => variables))]
  return {
    parts: components.map((name) => ({ name, prior: 0 })),
    variables: names.map((name) => ({ name, domain: [0, 1] })),
    relations,
  }
}

/** Every quantity these examples ask for. */
export function lampExample({ inputs }: WorkedExample): Answers {
  const given = inputs as LampInputs
  const links = typeof given.topology === 'string' ? linksOf(given.topology) : null
  if (links === null) return 'a topology that is not a chain of lamps'
  const observed = Object.fromEntries(Object.entries(given.readings).map(([lamp, word]) => [lamp, word === 'lit' ? 1 : 0]))
  const withoutModes = minimalDiagnoses(modelOf(given, links, false), observed)
  return {
    countMinimalDiagnosesWithoutModes: withoutModes.length,
    minimalDiagnosesWithoutModes: withoutModes,
    diagnosesWithModes: diagnoses(modelOf(given, links, true), observed),
  }
}
