import { fileURLToPath } from 'node:url'
import { expect, test } from 'vitest'
import { nextTest } from './next-test.js'
import { posterior } from './posterior.js'

const CASES = fileURLToPath(new URL('../../../../reference/oracle-cases', import.meta.url))

test('all posterior cases come out within 1e-9', () => {
  expect(posterior(CASES).filter(({ outcome }) => outcome !== 'passed')).toEqual([])
})

test('all next-test cases come out within 1e-6 bits', () => {
  expect(nextTest(CASES).filter(({ outcome }) => outcome !== 'passed')).toEqual([])
})
