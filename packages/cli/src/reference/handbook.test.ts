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

  it.each(['01', '02', '16'])('topic %s passes at least four rows in five', (topic) => {
    const rows = results.filter((result) => result.id.startsWith(`${topic}.`))
    expect(rows.filter((result) => result.outcome === 'passed').length).toBeGreaterThanOrEqual(0.8 * rows.length)
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
