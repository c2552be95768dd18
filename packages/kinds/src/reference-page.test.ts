import { expect, test } from 'vitest'
import { KINDS } from './registry.js'
import { referencePage } from './testing/reference-page.js'

test('the reference page of the kinds says what they say', async () => {
  await expect(referencePage(KINDS.values())).toMatchFileSnapshot('../../../docs/reference/kinds.md')
})
