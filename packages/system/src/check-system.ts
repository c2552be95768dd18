import { type Issue, issue } from '@halfsplit/core'
import { type DiscreteState, flowOf, NetworkError, type Settled, settle, type Unsettled } from '@halfsplit/network'
import type { Part, State, System } from './model.js'
import { type ParsedSystem, parseSystem } from './parse-system.js'
import { Realiser, recipe } from './realise.js'

/** Current out of a source above which a machine is not dead [A]: far above insulation, below any lamp or coil. An assumption. */
const DEAD_CURRENT = 1e-3

/**
 * Reads a description and tries every state of the healthy machine: each must come to rest, blow no fuse, and carry no current
 * where it says that power is off.
 * Arguments and result as `parseSystem`. Beyond its codes: STATE_CHATTERS, STATE_CYCLES, STATE_RACE, STATE_UNSOLVED (errors),
 * STATE_OVERLOADS, STATE_NOT_DEAD (warnings).
 * Cost: one settling a step of each state's way.  Checked in check-system.test.ts and tests/system/malformed.
 */
export function checkSystem(text: string, file: string, options: Parameters<typeof parseSystem>[2] = {}): ParsedSystem {
  const parsed = parseSystem(text, file, options)
  if (!parsed.system) return parsed
  const check = new StateCheck(parsed.system)
  for (const name of parsed.system.states.keys()) check.enter(name)
  const issues = [...parsed.issues, ...check.issues]
  return issues.some((one) => one.severity === 'error') ? { issues } : { system: parsed.system, issues }
}

/** Enters the states of a healthy machine, each once, from the state it comes from. */
class StateCheck {
  readonly issues: Issue[] = []
  private readonly realiser: Realiser
  private readonly ends = new Map<string, DiscreteState | undefined>()

  constructor(private readonly system: System) {
    this.realiser = new Realiser(system)
  }

  /** What the machine remembers once it is at rest in a state; undefined if it never is. */
  enter(name: string): DiscreteState | undefined {
    if (!this.ends.has(name)) this.ends.set(name, this.settled(this.system.states.get(name) as State))
    return this.ends.get(name)
  }

  private settled(state: State): DiscreteState | undefined {
    const previous = state.from === undefined ? {} : this.enter(state.from)
    if (!previous) return undefined
    const outcome = this.settle(state, previous)
    if (outcome.status !== 'settled') {
      this.reportUnsettled(state, outcome)
      return undefined
    }
    this.reportOverloads(state, outcome)
    if (state.dead) this.reportAlive(state, outcome)
    return outcome.state
  }

  private settle(state: State, previous: DiscreteState): Settled | Unsettled {
    const settings = new Map(this.system.defaults)
    for (const step of recipe(this.system, state.name)) {
      for (const { part, setting, value } of step) settings.set(`${part}.${setting}`, value)
    }
    try {
      return settle(this.realiser.realise({ settings }).network, { previous })
    } catch (error) {
      if (!(error instanceof NetworkError)) throw error
      return { status: 'no convergence', parts: error.elements, node: '', residual: 0, iterations: 0 }
    }
  }

  private reportUnsettled(state: State, outcome: Unsettled): void {
    const parts = this.partsOf(outcome.parts)
    const names = parts.map((part) => part.name).join(', ')
    const [code, message, fix] = UNSETTLED[outcome.status]
    this.report(code, `${message} in state '${state.name}'`, 'error', state, parts, {
      received: names ? `at ${names}` : outcome.status,
      fix,
    })
  }

  private reportOverloads(state: State, settled: Settled): void {
    for (const [name, { element, limit }] of this.system.overloads) {
      const flow = Math.abs(flowOf(settled, `${name}:${element}`))
      if (!(flow > limit)) continue
      this.report('STATE_OVERLOADS', `'${name}' opens in state '${state.name}'`, 'warning', state, this.partsOf([name]), {
        expected: `at most ${limit.toPrecision(3)} A through it while every part is good`,
        received: `${flow.toPrecision(3)} A`,
        fix: 'check its rating and what hangs on it',
      })
    }
  }

  private reportAlive(state: State, settled: Settled): void {
    const { network, domains, index } = settled.circuit
    const sources = network.elements.filter(
      (element) => element.type === 'across' && domains[index.get(element.a) as number] === 'electrical',
    )
    const live = sources.filter((source) => Math.abs(flowOf(settled, source.id)) > DEAD_CURRENT)
    if (live.length === 0) return
    const parts = this.partsOf(live.map((source) => source.id))
    this.report('STATE_NOT_DEAD', `current flows in state '${state.name}'`, 'warning', state, parts, {
      expected: 'no current, for the state is marked dead and resistance may be measured in it',
      received: live
        .map((source) => `${Math.abs(flowOf(settled, source.id)).toPrecision(2)} A from ${source.id.split(':')[0]}`)
        .join(', '),
      fix: 'switch off what draws it, or take "dead" away',
    })
  }

  private partsOf(ids: readonly string[]): Part[] {
    const names = new Set(ids.map((id) => id.split(':')[0]))
    return [...names].map((name) => this.system.parts.get(name)).filter((part) => part !== undefined)
  }

  private report(
    code: string,
    message: string,
    severity: Issue['severity'],
    state: State,
    parts: readonly Part[],
    details: Partial<Issue>,
  ): void {
    const related = parts.map((part) => ({ position: part.position, message: `${part.kind.name} '${part.name}' is here` }))
    this.issues.push(issue(code, message, { severity, position: state.position, related, ...details }))
  }
}

const UNSETTLED: Record<Unsettled['status'], readonly [code: string, message: string, fix: string]> = {
  chatters: ['STATE_CHATTERS', 'something switches without end', 'check what pulls in against its voltage under load'],
  cycles: ['STATE_CYCLES', 'a timer keeps the machine going', 'describe states in which the machine rests'],
  race: ['STATE_RACE', 'two switches race', 'give the parts ratings that tell which acts first'],
  'no convergence': ['STATE_UNSOLVED', 'no steady values are found', 'check the ratings of the parts named'],
}
