import { existsSync } from 'node:fs'
import { dirname, normalize } from 'node:path'
import { printIssue } from '@halfsplit/core'
import { checkSystem } from '@halfsplit/system'
import { describe, expect, it } from 'vitest'
import { blocks, kindsWithGuide, PAGES, page, root } from './guide.js'

const scripts = Object.keys(JSON.parse(page('package.json')).scripts)

/** Lines of a page's shell blocks, and commands named in its text. */
const commandsOf = (path: string): string[] => [
  ...blocks(path, 'sh').flatMap((block) => block.trim().split('\n')),
  ...[...page(path).matchAll(/`((?:npm|npx) [^`]+)`/g)].map((match) => match[1]),
]

/** Whether what a line calls is there: a script of the project, a command of ours, a file it is given. */
function exists(line: string): boolean {
  const words = line.split(/\s+/)
  const [tool, first, second, command] = words
  const files = words.filter((word) => /[/.].*\.\w+$/.test(word))
  if (files.some((file) => !existsSync(root + file))) return false
  if (tool === 'npx') return existsSync(`${root}node_modules/.bin/${first}`)
  if (first === 'run') return scripts.includes(second)
  const ours = second === '--' ? existsSync(`${root}packages/cli/src/commands/${command}.ts`) : true
  return scripts.includes(first) && ours
}

/** Targets of the links within the project that are not there. */
const brokenLinks = (path: string): string[] =>
  [...page(path).matchAll(/\]\((?!https?:)([^)#]+)(?:#[^)]*)?\)/g)]
    .map((match) => normalize(`${dirname(path)}/${match[1]}`))
    .filter((target) => !existsSync(root + target))

describe.each(PAGES)('%s', (path) => {
  it('shows descriptions without a mistake', async () => {
    const kinds = await kindsWithGuide()
    const issues = blocks(path, 'yaml').flatMap((text) => checkSystem(text, path, { kinds }).issues)
    expect(issues.map((one) => printIssue(one))).toEqual([])
  })

  it('names commands that exist', () => {
    expect(commandsOf(path).filter((line) => !exists(line))).toEqual([])
  })

  it('links to what is there', () => {
    expect(brokenLinks(path)).toEqual([])
  })
})

it('the decisions are listed, and their links lead somewhere', () => {
  expect(brokenLinks('docs/decisions/README.md')).toEqual([])
})
