import { type Fault, Realiser, restsOnTheWay, type SweptOutcome, type SweptSetup, sweep } from '@halfsplit/system'
import { faultModes } from '@halfsplit/diagnosis'
import { describe, expect, test } from 'vitest'
import { libraryText, systemOf } from './library.js'

/** Every failure mode of every part, at its smallest and its largest size. */
function everySingle(system: ReturnType<typeof systemOf>): Fault[][] {
  return faultModes(system).flatMap(({ part, mode, severity, other }) => {
    const nodes = severity ? [severity.nodes[0], severity.nodes[severity.nodes.length - 1]] : [undefined]
    return nodes.map((size): Fault[] => [{ part: part.name, mode: mode.id, severity: size, other }])
  })
}

/** How far a case ended from the machine by itself, at most, against what is allowed; infinite where they ended otherwise. */
function apart({ outcome, names }: SweptOutcome, own: ReturnType<typeof restsOnTheWay>): number {
  if (!Array.isArray(own)) {
    // Two sources bolted together are refused by the campaign and have no numbers for the machine by itself.
    const { status } = own.unsettled
    return (status === 'no convergence' ? ['refused', status] : [status]).includes(outcome.status) ? 0 : Number.POSITIVE_INFINITY
  }
  if (outcome.status !== 'settled') return Number.POSITIVE_INFINITY
  const { circuit, point } = own[own.length - 1].settled
  return Math.max(
    ...names.map((name, n) => {
      const i = circuit.index.get(name) as number
      const value = point.across[i]
      // A billionth of the largest voltage; elsewhere what a valve that moves by itself leaves open.
      const allowed = circuit.domains[i] === 'electrical' ? 1e-9 * 28 : 1e-7 * Math.max(1, Math.abs(value))
      return Math.abs(outcome.across[n] - value) / allowed
    }),
  )
}

/** Sweeps a setup and holds each case against the machine followed through its recipe by itself. */
function swept(name: string, setup: SweptSetup, casesOf: (singles: Fault[][]) => Fault[][]) {
  const system = systemOf(libraryText(name), `${name}.yaml`)
  const realiser = new Realiser(system)
  const cases = casesOf(everySingle(system))
  const far: string[] = []
  const told = new Set<number>()
  const counts = sweep(realiser, setup, cases, (one, i) => {
    told.add(i)
    const times = apart(one, restsOnTheWay(realiser, setup.state, cases[i], setup.intervention))
    if (!(times <= 1)) far.push(`${JSON.stringify(cases[i])}: ${times} times what is allowed`)
  })
  if (!('together' in counts)) throw new Error('the sound machine finds no rest')
  return { counts, cases, far, told }
}

describe('every single fault in a setup ends as the machine followed by itself does', () => {
  test.each([
    ['trailer-lights', { state: 'tail_stop' }],
    ['starting', { state: 'key_start' }],
    ['fan-drive', { state: 'cooled_lamps' }],
    ['fan-drive', { state: 'idle_cold', intervention: { do: 'unplug', parts: ['X12'] } }],
    ['fan-drive', { state: 'idle_cold', intervention: { do: 'jumper', from: 'K7.common', to: 'K7.rest' } }],
  ] as [string, SweptSetup][])('%s in %j', (name, setup) => {
    const { counts, cases, far, told } = swept(name, setup, (singles) => singles)
    expect(far).toEqual([])
    expect(told.size).toBe(cases.length)
    expect(counts.together + counts.alone).toBe(cases.length)
    expect(counts.together).toBeGreaterThan(0.3 * cases.length)
    expect(counts.byPath).toBeGreaterThan(0.8 * counts.together)
  })
})

test('pairs too', () => {
  const { counts, far } = swept('trailer-lights', { state: 'tail_stop' }, (singles) =>
    singles.flatMap((one, i) => {
      const two = singles[(i * 7 + 13) % singles.length]
      return one[0].part === two[0].part ? [] : [[...one, ...two]]
    }),
  )
  expect(far).toEqual([])
  expect(counts.byPath).toBeGreaterThan(100)
})
