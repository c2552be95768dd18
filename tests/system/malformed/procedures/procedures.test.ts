import { readdirSync, readFileSync } from 'node:fs'
import { ISSUE_CODES, type Issue, printIssue } from '@halfsplit/core'
import { parseProcedure } from '@halfsplit/procedure'
import { parseSystem, type System } from '@halfsplit/system'
import { describe, expect, it } from 'vitest'
import { LAMP } from '../../cli.js'

const folder = new URL('./', import.meta.url)
const files = readdirSync(folder).filter((name) => name.endsWith('.yaml'))
const read = (name: string) => readFileSync(new URL(name, folder), 'utf8')
const system = parseSystem(`${LAMP}tools: [multimeter]\n`, 'lamp.yaml').system as System
const issuesOf = (name: string): Issue[] => parseProcedure(read(name), name, system).issues

/** Codes that only a written procedure can bring about. */
const OWN = [
  ...['PROBE_UNREADABLE', 'METER_NOT_THERE', 'UNKNOWN_POINT', 'DONE_TOO_MUCH', 'EXPECT_WITHOUT_LIMITS'],
  ...['TEMPERATURE_UNUSED', 'UNKNOWN_STEP', 'UNKNOWN_COMPLAINT', 'CYCLIC_STEPS', 'STEP_UNREACHED'],
]

describe('malformed procedures', () => {
  it.each(files)('%s: each mistake at its place', (name) => {
    const expected = /^# expect: (.*)$/m.exec(read(name))?.[1].split(', ')
    expect(issuesOf(name).map(({ code, position }) => `${code} ${position?.line}:${position?.column}`)).toEqual(expected)
  })

  it.each(files)('%s: a message says what, where and what to do', (name) => {
    const { procedure } = parseProcedure(read(name), name, system)
    expect(procedure === undefined).toBe(issuesOf(name).some((one) => one.severity === 'error'))
    for (const one of issuesOf(name)) {
      expect(one.message.split(' ').length).toBeLessThanOrEqual(16)
      expect(one.message).toMatch(/^[a-z"'0-9][^\n]*[^.]$/)
      expect(one.expected ?? one.fix ?? one.related).toBeDefined()
      expect(printIssue(one)).toContain(`${name}:${one.position?.line}:${one.position?.column}: ${one.severity}: ${one.code}: `)
    }
  })

  it('every code of its own has a sample here', () => {
    const shown = new Set(files.flatMap(issuesOf).map(({ code }) => code))
    expect(OWN.filter((code) => !shown.has(code) || !(code in ISSUE_CODES))).toEqual([])
  })

  it('an empty file and a binary one are mistakes, not exceptions', () => {
    expect(parseProcedure('', 'empty.yaml', system).issues.map(({ code }) => code)).toEqual(['FILE_EMPTY'])
    expect(parseProcedure('\u0000', 'binary.yaml', system).issues.map(({ code }) => code)).toEqual(['CONTROL_CHARACTER'])
  })
})
