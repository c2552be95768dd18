import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { expect, test } from 'vitest'
import { plan } from './plan.js'
import { repair } from './repair.js'
import { setupPlan } from './setup-plan.js'

const CASES = fileURLToPath(new URL('../../../../reference/oracle-cases', import.meta.url))

test.each([
  ['plan', plan, 10],
  ['setup-plan', setupPlan, 5],
  ['repair', repair, 8],
])('all %s cases come out within 1e-9', (_, run, number) => {
  const results = run(CASES)
  expect(results).toHaveLength(number)
  expect(results.filter(({ outcome }) => outcome !== 'passed')).toEqual([])
})

test('a cost that is not the optimum fails, and says so', () => {
  const file = JSON.parse(readFileSync(join(CASES, 'plan.json'), 'utf8'))
  file.cases = file.cases.slice(0, 1)
  file.cases[0].expected.optimal_expected_cost += 1e-6
  const folder = mkdtempSync(join(tmpdir(), 'plan-'))
  try {
    writeFileSync(join(folder, 'plan.json'), JSON.stringify(file))
    expect(plan(folder)).toMatchObject([
      { outcome: 'failed', detail: expect.stringContaining('optimal_expected_cost: expected') },
    ])
  } finally {
    rmSync(folder, { recursive: true })
  }
})
