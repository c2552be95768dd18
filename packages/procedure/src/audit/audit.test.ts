import { createRandom } from '@halfsplit/core'
import { faultModes } from '@halfsplit/diagnosis'
import { describe, expect, it } from 'vitest'
import { GOOD_SHEET, LAMP, lampSheet, line } from '../testing/lamp.js'
import { VirtualMachine } from '../virtual-machine.js'
import type { Step } from '../written/model.js'
import type { TakenAtStep } from '../written/passes.js'
import { walk } from '../written/walk.js'
import { audit } from './audit.js'

const found = (steps: string, head?: string) =>
  audit(LAMP, lampSheet(steps, head)).findings.map(({ kind, step }) => `${step.id}: ${kind}`)
const SEEN = line(
  'seen',
  'in: on, look: H1.light, expect: [bright, dim], pass: nothing found, fail: go to next, warnings: [hot glass]',
)
const next = (rest: string) => SEEN + line('next', `${rest}, warnings: [hot glass]`)

describe('an audit', () => {
  it('has nothing to say against an ordinary sheet', () => {
    expect(found(GOOD_SHEET)).toEqual([])
  })

  it('finds a step that a sound machine fails, and says what it shows', () => {
    const steps = next('in: on, measure: volts H1.feed BAT.minus, expect: at most 1 V, pass: no conclusion, fail: no conclusion')
    const [finding] = audit(LAMP, lampSheet(steps)).findings
    expect(finding).toMatchObject({ kind: 'contradicts the description', fails: 1, shows: { kind: 'range' } })
    if (finding.kind !== 'contradicts the description' || finding.shows.kind !== 'range') throw new Error('no range')
    expect(finding.shows.low).toBeGreaterThan(11.5)
    expect(finding.shows.high).toBeLessThan(13.5)
  })

  it('finds limits of a coil that name no temperature, and the state in which good coils fail them', () => {
    const coil = 'in: off, unplug: K1, measure: ohms K1 coil_a coil_b, expect: 75..105 Ohm, pass: no conclusion, fail: replace K1'
    const [finding] = audit(LAMP, lampSheet(line('coil', coil), '')).findings
    // Copper, IEC 60028: 90 Ohm at 20 degC are 90 x (1 + 0.00393 x 75) = 116.5 Ohm at 95 degC.
    expect(finding).toMatchObject({ kind: 'limits without a temperature', worst: { state: 'hot', verdict: 'good' } })
    if (finding.kind !== 'limits without a temperature') throw new Error('no limits')
    expect(Math.abs((finding.worst?.reading ?? 0) - 116.5)).toBeLessThan(2)
    expect(found(line('coil', `${coil}, temperature: 20 degC`), '')).not.toContain('coil: limits without a temperature')
  })

  it('says nothing of the temperature of a contact, which has none', () => {
    const contact =
      'in: off, unplug: K1, measure: ohms K1 common rest, expect: at most 2 Ohm, pass: no conclusion, fail: replace K1'
    expect(found(line('contact', contact), '')).not.toContain('contact: limits without a temperature')
  })

  it('finds a step that cannot tell, and one that nobody comes to', () => {
    const blind = next('in: off, look: F1.link, expect: [intact, blown], pass: no conclusion, fail: go to never')
    const never = line(
      'never',
      'in: on, look: H1.light, expect: bright, pass: no conclusion, fail: no conclusion, warnings: [hot glass]',
    )
    const { findings } = audit(LAMP, lampSheet(blind + never))
    expect(findings.map((one) => (one.kind === 'proves nothing' ? [one.step.id, one.why] : one.kind))).toEqual([
      ['next', 'all show the same'],
      ['never', 'nobody comes here'],
    ])
  })

  it('finds a part condemned where others read the same, and names what is needed instead', () => {
    const { findings } = audit(
      LAMP,
      lampSheet(next('in: on, measure: volts H1.feed BAT.minus, expect: at least 10 V, pass: replace H1, fail: replace K1')),
    )
    const finding = findings.find((one) => one.kind === 'good part condemned' && !one.passed)
    if (finding?.kind !== 'good part condemned') throw new Error('nothing condemned')
    expect([finding.step.id, finding.passed, finding.repair]).toEqual(['next', false, 'replace K1'])
    expect(finding.instead.map(({ repair }) => repair)).toContain('replace S1')
    expect(finding.wrong).toBeCloseTo(
      finding.instead.reduce((sum, { share }) => sum + share, 0),
      9,
    )
  })

  it('finds what is not warned of, in the step or in the head', () => {
    const bare = GOOD_SHEET.replace(', warnings: [the glass is hot]', '')
    expect(found(bare)).toEqual(['seen: no warning'])
    expect(found(bare, 'complaint: dark\nwarnings: [the glass is hot]\n')).toEqual([])
  })

  it('counts every machine once, and is the same for the same seed', () => {
    const { figures } = audit(LAMP, lampSheet(GOOD_SHEET))
    const { cured, causeLeft, goodPart, nothingFound, noConclusion, faults } = figures
    expect(cured + causeLeft + goodPart + nothingFound + noConclusion).toBeCloseTo(1, 9)
    expect(faults.reduce((sum, { weight }) => sum + weight, 0)).toBeCloseTo(1, 9)
    expect(figures.worstMinutes).toBeGreaterThanOrEqual(figures.meanMinutes)
    expect(figures.goodPartMoney).toBeLessThan(figures.meanMoney)
    expect(audit(LAMP, lampSheet(GOOD_SHEET)).figures).toEqual(figures)
  })

  it('with a fuse replaced and its cause left in is not called cured', () => {
    const fuse = next('in: off, look: F1.link, expect: intact, pass: no conclusion, fail: replace F1')
    const [conclusion] = audit(LAMP, lampSheet(fuse)).conclusions
    expect(conclusion.causeLeft).toBeGreaterThan(0)
    expect(conclusion.causeLeft + conclusion.cured).toBeCloseTo(conclusion.weight, 9)
  })
})

/** The sheet followed on virtual machines, which share no code with the predictions the audit stands on. */
it('comes to the shares that the virtual machine comes to', () => {
  const sheet = lampSheet(GOOD_SHEET)
  const { faults } = audit(LAMP, sheet, { specimens: 400 }).figures
  const lasting = faults.filter(({ fault }) => fault.severity === undefined && !fault.mode.intermittent)
  expect(lasting.length).toBeGreaterThan(5)
  const JOBS = 40
  const apart = lasting.flatMap(({ fault, found: share }) => {
    let cured = 0
    for (let n = 0; n < JOBS; n += 1) {
      const truth = [{ part: fault.part.name, mode: fault.mode.id, other: fault.other }]
      const machine = new VirtualMachine(LAMP, truth, createRandom(n), { misread: 0, slip: 0 })
      machine.use('on')
      const { conclusion } = walk(LAMP, sheet, (step) => takenOf(machine, step))
      if (conclusion.kind === 'repair' && conclusion.repair === fault.repair) cured += 1
    }
    // Binomial, four sd of the jobs.
    const sd = Math.sqrt(Math.max(share * (1 - share), 0.01) / JOBS)
    return Math.abs(cured / JOBS - share) > 4 * sd ? [`${fault.id}: ${cured / JOBS} and ${share}`] : []
  })
  expect(apart).toEqual([])
  expect(faultModes(LAMP).length).toBeGreaterThan(lasting.length)
})

function takenOf(machine: VirtualMachine, { test: { setup, probe } }: Step): TakenAtStep {
  if (probe.kind === 'look') return { word: machine.look(setup, probe.part, probe.look) }
  const shown = machine.read(setup, probe)
  if (shown === 'unsteady') return 'unsteady'
  return shown.over ? 'over range' : { value: shown.value }
}
