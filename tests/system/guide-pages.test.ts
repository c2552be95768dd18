import { printIssue } from '@halfsplit/core'
import { checkSystem } from '@halfsplit/system'
import { expect, it } from 'vitest'
import { blocks, kindsWithGuide, PAGES } from './guide.js'

it.each(PAGES)('%s shows descriptions without a mistake', async (path) => {
  const kinds = await kindsWithGuide()
  const issues = blocks(path, 'yaml').flatMap((text) => checkSystem(text, path, { kinds }).issues)
  expect(issues.map((one) => printIssue(one))).toEqual([])
})
