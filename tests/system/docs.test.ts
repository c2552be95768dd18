import { existsSync, readdirSync } from 'node:fs'
import { dirname, normalize } from 'node:path'
import { ISSUE_CODES } from '@halfsplit/core'
import { LOG_ISSUE_CODES } from '@halfsplit/diagnosis'
import { JOB_ISSUE_CODES } from '@halfsplit/job'
import { describe, expect, it } from 'vitest'
import { blocks, page, root } from './guide.js'

/** Pages below a folder, by their path in the project. */
const pagesIn = (folder: string): string[] =>
  readdirSync(root + folder, { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith('.md') && !/(^|\/)(node_modules|dist)\//.test(name))
    .map((name) => `${folder}/${name}`)

const DOCS = [
  ...['README.md', 'ARCHITECTURE.md', 'CONTRIBUTING.md', 'CHANGELOG.md'],
  ...['docs', 'packages', 'library', 'reference'].flatMap(pagesIn),
]

/** Set by who runs the program, not codes of an issue. */
const ENVIRONMENT = new Set(['NO_COLOR', 'FORCE_COLOR'])
const CODES = new Set([ISSUE_CODES, JOB_ISSUE_CODES, LOG_ISSUE_CODES].flatMap(Object.keys))

const scripts = Object.keys(JSON.parse(page('package.json')).scripts)
const withoutBlocks = (text: string): string => text.replace(/^```[\s\S]*?^```/gm, '')

/** Links within the project that lead nowhere. */
const brokenLinks = (path: string): string[] =>
  [...withoutBlocks(page(path)).matchAll(/\]\((?!https?:)([^)#]+)(?:#[^)]*)?\)/g)]
    .map((match) => normalize(`${dirname(path)}/${match[1]}`))
    .filter((target) => !existsSync(root + target))

/** Lines of a page's shell blocks, and commands named in its text. */
const commandsOf = (path: string): string[] => [
  ...blocks(path, 'sh').flatMap((block) => block.trim().split('\n')),
  ...[...withoutBlocks(page(path)).matchAll(/`((?:npm|npx|node|halfsplit) [^`]+)`/g)].map((match) => match[1]),
  ...[...page(path).matchAll(/^ {4}(npm .+)$/gm)].map((match) => match[1]),
]

/** A command of ours, or the word that stands for any. */
const isOurs = (command: string): boolean =>
  command === 'COMMAND' || command.startsWith('-') || existsSync(`${root}packages/cli/src/commands/${command}.ts`)

/** Whether what a line calls is there: a script of the project, a command of ours, each file it is given. */
function exists(line: string): boolean {
  const [tool, first, second, third] = line.split(/\s+/)
  const files = line.split(/\s+/).filter((word) => /^\w[\w./-]*\.\w+$/.test(word) && word.includes('/'))
  if (files.some((file) => !existsSync(root + file))) return false
  if (tool === 'npx') return existsSync(`${root}node_modules/.bin/${first}`)
  if (tool === 'halfsplit') return isOurs(first)
  if (tool === 'node') return files.length > 0
  if (first === 'run') return scripts.includes(second)
  return scripts.includes(first) && (second !== '--' || isOurs(third))
}

/** Codes named in a page's text that no issue has. */
const unknownCodes = (path: string): string[] =>
  [...withoutBlocks(page(path)).matchAll(/\b[A-Z]{2,}(?:_[A-Z]+)+\b/g)]
    .map(([code]) => code)
    .filter((code) => !CODES.has(code) && !ENVIRONMENT.has(code))

describe.each(DOCS)('%s', (path) => {
  it('links to what is there', () => {
    expect(brokenLinks(path)).toEqual([])
  })

  it('names commands that exist', () => {
    expect(commandsOf(path).filter((line) => !exists(line))).toEqual([])
  })

  it('names codes that exist', () => {
    expect(unknownCodes(path)).toEqual([])
  })
})

it('a command, a script and a file that are not there are found out', () => {
  const wrong = [
    'halfsplit mend x.yaml',
    'npm run mend',
    'npm start -- mend',
    'npm start -- check library/none/none.yaml',
    'npx mend',
  ]
  expect(wrong.filter(exists)).toEqual([])
})
