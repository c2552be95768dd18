import type { Position } from '@halfsplit/core'
import { compile, NetworkError } from '@halfsplit/network'
import { portName } from '../fragment.js'
import type { Part, System } from '../model.js'
import { Realiser } from '../realise.js'
import type { Draft, DraftPart } from './draft.js'
import type { IssueList } from './issues.js'
import { isBattery, type Wiring } from './wiring.js'

/** Ends that meet nothing, parts that hang in the air, and a machine without a battery. */
export function checkWiring(draft: Draft, wiring: Wiring, top: Position): void {
  const { issues, parts, unread } = draft
  const electrical = [...parts.values()].some((part) => part.kind.ports.some((port) => port.domain === 'electrical'))
  if (electrical && unread.size === 0 && ![...parts.values()].some(isBattery)) {
    issues.add('BATTERY_MISSING', 'the electrical parts have no battery', top, {
      expected: 'a part with "kind: battery"; its minus is what all voltages are counted from',
      fix: 'add "BAT: { kind: battery }" under "parts"',
    })
  }
  const referred = new Set(draft.links.flatMap(({ ends }) => ends.map((end) => end.scope + end.text)))
  const alone = (part: DraftPart) =>
    part.kind.ports.filter(({ name }) => isAlone(wiring, portName(part, name)) && !referred.has(portName(part, name)))
  const single = [...parts.values()]
    .filter((part) => !part.run)
    .map((part) => ({ part, ports: alone(part).map((port) => port.name) }))
  const isRun = ({ kind }: DraftPart) => kind.name === 'wire' || kind.name === 'hose'
  for (const { part, ports } of single) if (isRun(part)) for (const port of ports) reportDangling(issues, part, port)
  // What is not connected may be so on account of a mistake elsewhere.
  if (issues.hasErrors) return
  for (const { part, ports } of single) {
    if (part.connector && ports.length === 1) reportHalfPin(issues, part, ports[0])
    if (!part.connector && ports.length > 0 && ports.length === part.kind.ports.length) {
      issues.warn('PART_UNCONNECTED', `${part.kind.name} '${part.name}' is connected to nothing`, part.position, {
        fix: `lead something to one of ${ports.map((port) => portName(part, port)).join(', ')}`,
      })
    }
  }
}

function isAlone(wiring: Wiring, port: string): boolean {
  const node = wiring.nodeOf.get(port)
  return node === undefined || (wiring.portsAt.get(node)?.length === 1 && node !== wiring.nodeOf.get('frame'))
}

function reportDangling(issues: IssueList, part: DraftPart, port: string): void {
  issues.add('DANGLING_WIRE', `${part.kind.name} '${part.name}' has an end that meets nothing`, part.position, {
    expected: `another part at ${portName(part, port)}`,
    fix: 'lead it to a port of a part, or delete it',
  })
}

function reportHalfPin(issues: IssueList, part: DraftPart, side: string): void {
  issues.warn('PIN_HALF_WIRED', `pin '${part.name}' is wired on one side only`, part.position, {
    expected: `a wire at ${portName(part, side)} too`,
    fix: 'lead a wire to it, or take the one on the other side away',
  })
}

/** Sources against each other, and values no network can be made of. Only for a description without other errors. */
export function checkSources(issues: IssueList, system: System, wiring: Wiring): void {
  const batteries = [...system.parts.values()].filter(isBattery)
  const group = (part: Part, port: string) => wiring.copper.of(wiring.indexOf.get(portName(part, port)) as number)
  batteries.forEach((part, i) => {
    const [plus, minus] = [group(part, 'plus'), group(part, 'minus')]
    if (plus === minus) {
      issues.add('SOURCE_SHORTED', `${part.kind.name} '${part.name}' is shorted`, part.position, {
        expected: 'a load between plus and minus',
        received: 'copper all the way from plus to minus',
      })
      return
    }
    for (const other of batteries.slice(0, i)) {
      const [its, itsMinus] = [group(other, 'plus'), group(other, 'minus')]
      if (plus === itsMinus && minus === its) reportConflict(issues, part, other, 'plus to minus both ways')
      else if (plus === its && minus === itsMinus && differ(part, other))
        reportConflict(issues, part, other, voltages(part, other))
    }
  })
  if (!issues.hasErrors) checkNetwork(issues, system)
}

/** Batteries in parallel whose rest voltages differ by more than this share drive current through each other for good. An assumption. */
const UNEQUAL = 0.1

const voltage = (part: Part): number => part.ratings.get('voltage')?.value ?? 0
const differ = (p: Part, q: Part): boolean => Math.abs(voltage(p) - voltage(q)) > UNEQUAL * Math.max(voltage(p), voltage(q))
const voltages = (p: Part, q: Part): string => `${q.ratings.get('voltage')?.text} beside ${p.ratings.get('voltage')?.text}`

function reportConflict(issues: IssueList, part: Part, other: Part, received: string): void {
  issues.add('SOURCES_CONFLICT', `'${part.name}' and '${other.name}' short each other`, part.position, {
    expected: 'sources in parallel of one voltage, or in series',
    received,
    related: [{ position: other.position, message: `'${other.name}' is here` }],
    fix: 'check which plus goes where',
  })
}

/** Makes the network once: a value that no part can have (a wire of no cross-section) shows itself there. */
function checkNetwork(issues: IssueList, system: System): void {
  try {
    compile(new Realiser(system).realise({ settings: system.defaults }).network)
  } catch (error) {
    if (!(error instanceof NetworkError)) throw error
    const names = [...new Set(error.elements.map((id) => id.split(':')[0]))]
    const [part, ...others] = names.map((name) => system.parts.get(name)).filter((one) => one !== undefined)
    if (!part) throw error
    const related = others.map((other) => ({ position: other.position, message: `'${other.name}' is here` }))
    if (error.code === 'SOURCES_CONFLICT') {
      issues.add('SOURCES_CONFLICT', `'${part.name}' and other sources hold one point apart`, part.position, { related })
    } else {
      issues.add('VALUE_IMPOSSIBLE', `no ${part.kind.name} can be as '${part.name}' is rated`, part.position, {
        expected: 'ratings above zero where a part needs them',
        received: error.message,
        related,
      })
    }
  }
}
