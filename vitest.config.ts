import { readdirSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { defineConfig } from 'vitest/config'

// Tests read the sources, so that a failing line is the line one edits and no build is needed first.
const packages = readdirSync(new URL('./packages', import.meta.url))
const alias = Object.fromEntries(
  packages.map((name) => [`@halfsplit/${name}`, fileURLToPath(new URL(`./packages/${name}/src/index.ts`, import.meta.url))]),
)

export default defineConfig({
  resolve: { alias },
  test: {
    testTimeout: 60_000,
    projects: [
      { extends: true, test: { name: 'unit', include: ['packages/**/*.test.ts'] } },
      { extends: true, test: { name: 'system', include: ['tests/**/*.test.ts'], testTimeout: 600_000, hookTimeout: 600_000 } },
    ],
  },
})
