import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { describe, expect, it } from 'vitest'
import { handbook } from './handbook.js'

const directory = fileURLToPath(new URL('../../../../reference/handbook', import.meta.url))

describe('the handbook', () => {
  const results = handbook(directory)

  it('has no failed row', () => {
    expect(results.filter((result) => result.outcome === 'failed')).toEqual([])
  })

  const mostly = ['01', '02', '03', '04', '05', '06', '07', '08', '09', '10', '12', '13', '14', '15', '16']
  it.each(mostly)('topic %s passes at least four rows in five', (topic) => {
    const rows = results.filter((result) => result.id.startsWith(`${topic}.`))
    expect(rows.filter((result) => result.outcome === 'passed').length).toBeGreaterThanOrEqual(0.8 * rows.length)
  })

  it('leaves out of topic 11 what stands in one data sheet', () => {
    const skipped = results.filter((result) => result.id.startsWith('11.') && result.outcome === 'skipped')
    expect(skipped.map((result) => result.id)).toEqual(['11.ds.R', '11.ds.drop', '11.ds.time', '11.j2544.t', '11.uscar.6.3'])
  })

  it('gives a reason for every row it skips', () => {
    expect(results.filter((result) => result.outcome === 'skipped' && !result.detail)).toEqual([])
  })
})

/** Results of rows of a topic that stand in a directory of their own. */
function run(topic: number, rows: object[]) {
  const own = mkdtempSync(join(tmpdir(), 'handbook-'))
  try {
    const file = { format: 'halfsplit-handbook-check/1', topic, title: 'rows of this test', rows }
    writeFileSync(join(own, 'rows.json'), JSON.stringify(file))
    return handbook(own)
  } finally {
    rmSync(own, { recursive: true })
  }
}

describe('the handbook runner', () => {
  const psi = { id: '16.x', what: 'x', input: { x: { value: 2, unit: '[psi]' } }, tolerance: { rel: 1e-6 } }

  it('fails a row whose number is wrong, and one whose unit is not known', () => {
    expect(run(16, [{ ...psi, expected: { y: { value: 13.8, unit: 'kPa' } } }])).toMatchObject([{ outcome: 'failed' }])
    expect(run(16, [{ ...psi, expected: { y: { value: 1, unit: 'furlong' } } }])).toMatchObject([{ outcome: 'failed' }])
    expect(run(16, [{ ...psi, expected: { y: { value: 13.789515, unit: 'kPa' } } }])).toMatchObject([{ outcome: 'passed' }])
  })

  it('skips a topic and a name it does not compute, and never passes them', () => {
    expect(run(99, [{ ...psi, expected: {} }])).toMatchObject([{ outcome: 'skipped' }])
    const row = {
      id: '02.x',
      what: 'x',
      input: { t2: { value: 60, unit: 'Cel' } },
      expected: { other: true },
      tolerance: 'exact',
    }
    expect(run(2, [row])).toEqual([{ id: '02.x', outcome: 'skipped', detail: 'no answer to other' }])
  })

  it('does not fail on a row of low confidence alone, nor pass it', () => {
    const row = { ...psi, confidence: 'low', expected: { y: { value: 13.8, unit: 'kPa' } } }
    expect(run(16, [row])).toMatchObject([{ outcome: 'skipped' }])
  })

  // No row of the files: other inputs, and results worked out by hand.
  it.each([
    [3, 'Blade fuse type C, opening time at 110 % of rated current', { 'I/In': [110, '%'] }, { tMin: [100, 'h'] }, 'one-sided'],
    [4, 'Pt100 at 0 Cel', { t: [0, 'Cel'] }, { R: [100, 'Ohm'] }, 'exact'],
    [
      5,
      'Plain water under a cap boils at',
      { pGauge: [0, '[psi]'] },
      { t: [99.974, 'Cel'] },
      { abs: { value: 0.001, unit: 'K' } },
    ],
    [6, 'Isolated volume', { V: [10, 'L'], dp: [1, 'bar'], dt: [1, 's'] }, { Q: [1000, 'Pa.m3/s'] }, 'exact'],
    [
      7,
      'Cylinder: push',
      { bore: [20, 'mm'], rod: [0, 'mm'], p: [10, 'bar'], Q: [0, 'L/min'] },
      { F: [314.159265, 'N'] },
      { rel: 1e-8 },
    ],
    [8, 'Longest time', { volumeRatio: [3, '1'] }, { tMax: [75, 's'] }, 'exact'],
    [9, 'Internal resistance', { U0: [12, 'V'], U1: [11, 'V'], I: [100, 'A'] }, { Ri: [10, 'mOhm'], Isc: [1200, 'A'] }, 'exact'],
    [11, 'Coil with a plain diode', { R: [10, 'Ohm'], L: [1, 'H'], I: [1, 'A'] }, { tau: [0.1, 's'] }, 'exact'],
    [12, 'Lamp cold', { P: [10, 'W'], Un: [10, 'V'] }, { Rhot: [10, 'Ohm'], Rmax: [1, 'Ohm'] }, 'exact'],
    [13, 'Series resistor', { U: [5, 'V'], Uf: [2, 'V'], I: [10, 'mA'] }, { R: [300, 'Ohm'], P: [30, 'mW'] }, 'exact'],
    [14, 'Counterflow', { NTU: [3, '1'], Cr: [1, '1'] }, { eff: [0.75, '1'] }, 'exact'],
    [15, 'Copper wire: fusing current', { d: [0.04, '[in_i]'] }, { I: [81.952, 'A'] }, { rel: 1e-6 }],
  ] as const)('computes rows of topic %s that no file has: %s', (topic, what, input, expected, tolerance) => {
    const amounts = (given: object) =>
      Object.fromEntries(Object.entries(given).map(([name, [value, unit]]) => [name, { value, unit }]))
    const row = { id: 'own.row', what, input: amounts(input), expected: amounts(expected), tolerance }
    expect(run(topic, [row])).toEqual([{ id: 'own.row', outcome: 'passed' }])
    const off = Object.fromEntries(
      Object.entries(amounts(expected)).map(([name, one]) => [name, { ...one, value: one.value * 2 }]),
    )
    const [wrong] = run(topic, [{ ...row, expected: off, tolerance: { rel: 1e-6 } }])
    expect(wrong.outcome).toBe('failed')
  })

  it('does not take a gauge pressure for an absolute one', () => {
    const input = { C: { value: 2, unit: 'L/(s.bar)' }, b: { value: 0.3, unit: '1' }, T1: { value: 293.15, unit: 'K' } }
    const pressures = { p1: { value: 6, unit: 'bar' }, p2: { value: 0, unit: 'bar' } }
    const expected = { m: { value: 0.01659, unit: 'kg/s' } }
    const row = { id: '06.x', what: 'gauge by mistake', input: { ...input, ...pressures }, expected, tolerance: { rel: 0.002 } }
    expect(run(6, [row])).toMatchObject([{ outcome: 'failed' }])
  })

  it('skips what lies beyond a formula, and an absolute tolerance counts for its own unit only', () => {
    const hot = { id: '04.x', what: 'Pt100', input: { t: { value: 2000, unit: 'Cel' } }, expected: {}, tolerance: 'exact' }
    expect(run(4, [hot])).toMatchObject([{ outcome: 'skipped' }])
    const input = { soc: { value: 100, unit: '%' }, t: { value: 26.7, unit: 'Cel' } }
    const row = { id: '09.x', what: 'Open-circuit voltage', input, tolerance: { abs: { value: 0.03, unit: 'V' } } }
    const expected = (sg: number) => ({ U: { value: 12.66, unit: 'V' }, sg: { value: sg, unit: '1' } })
    expect(run(9, [{ ...row, expected: expected(1.265) }])).toMatchObject([{ outcome: 'passed' }])
    expect(run(9, [{ ...row, expected: expected(1.27) }])).toMatchObject([{ outcome: 'failed' }])
  })

  it('does not agree with a number the row says must not come out', () => {
    const input = { A: { value: 2581, unit: '[cml_i]' }, t: { value: 5, unit: 's' } }
    const row = {
      id: '15.x',
      what: 'melting current',
      input,
      expected: { I: { value: 170, unit: 'A' } },
      tolerance: { rel: 0.1 },
    }
    expect(run(15, [row])).toMatchObject([{ outcome: 'passed' }])
    expect(run(15, [{ ...row, note: 'the tool must not reproduce 178 A' }])).toMatchObject([{ outcome: 'failed' }])
  })

  it('compares a meaning by its sense: a swapped one fails', () => {
    const row = { id: '10.x', what: 'Terminal', input: { terminal: 'L' }, tolerance: 'text' }
    expect(run(10, [{ ...row, expected: { meaning: 'left turn-signal lamps' } }])).toMatchObject([{ outcome: 'passed' }])
    expect(run(10, [{ ...row, expected: { meaning: 'right turn-signal lamps' } }])).toMatchObject([{ outcome: 'failed' }])
    expect(run(10, [{ ...row, expected: { meaning: 'nothing of the kind' } }])).toMatchObject([{ outcome: 'skipped' }])
    expect(run(10, [{ ...row, input: { terminal: '999' }, expected: { meaning: 'x' } }])).toMatchObject([{ outcome: 'skipped' }])
  })

  it('does not agree with a misprint', () => {
    const input = {
      rPerLength: { value: 0.002, unit: 'Ohm/[ft_i]' },
      length: { value: 10, unit: '[ft_i]' },
      I: { value: 5, unit: 'A' },
    }
    const row = {
      id: '01.ac4313.vd.x',
      what: '(.002)(10)(5) is printed as .1',
      input,
      expected: { drop: { value: 0.1, unit: 'V' } },
      tolerance: { rel: 0.01 },
    }
    expect(run(1, [row])).toMatchObject([{ outcome: 'failed' }])
    expect(run(1, [{ ...row, what: '(.002)(10)(5) is printed as .2' }])).toMatchObject([{ outcome: 'passed' }])
  })
})
