import { printIssue } from '@halfsplit/core'
import { Bench, type LogItem } from '@halfsplit/diagnosis'
import { type Part, parseSystem, type System } from '@halfsplit/system'
import ts from 'typescript'
import { beforeAll, describe, expect, it } from 'vitest'
import { blocks, guideKindText, kindsWithGuide, root } from './guide.js'
import { across, Bay } from './library.js'

describe('the kind of part that the guide adds', () => {
  let system: System

  beforeAll(async () => {
    const [text] = blocks('docs/guide/new-kind.md', 'yaml')
    const parsed = parseSystem(text, 'blower.yaml', { kinds: await kindsWithGuide() })
    if (!parsed.system) throw new Error(parsed.issues.map((one) => printIssue(one)).join('\n'))
    system = parsed.system
  })

  it('is well typed where the guide puts it', () => {
    expect(typeErrors(`${root}packages/kinds/src/electrical/circuit-breaker.ts`, guideKindText())).toEqual([])
  })

  it('a breaker that is pressed in but does not make is found by two readings and a look', () => {
    const bench = new Bench(system)
    const bay = new Bay(system)
    const arrival = bay.arrive('on', [bay.fault('CB1.does_not_make')])
    const meter = system.meters.find(({ quantity }) => quantity === 'voltage')
    if (!meter) throw new Error('no voltmeter')
    const volts = (red: string): LogItem => ({
      kind: 'taken',
      taken: {
        setup: { state: 'on' },
        probe: { kind: 'volts', red, black: 'BAT.minus', meter },
        outcome: { kind: 'number', value: Number(across(bay, arrival, red, 'BAT.minus').toFixed(2)), halfWidth: 0.005 },
      },
    })
    const part = system.parts.get('CB1') as Part
    const [look] = part.kind.looks ?? []
    const pressedIn: LogItem = {
      kind: 'taken',
      taken: { setup: { state: 'on' }, probe: { kind: 'look', part, look }, outcome: { kind: 'word', word: 0, words: 2 } },
    }
    const { shows } = system.complaints[0]
    const [first] = bench.standing([volts('CB1.a'), volts('CB1.b'), pressedIn], { shows }).repairs
    expect(first.repair).toBe('replace CB1')
    expect(first.probability).toBeGreaterThan(0.9)
  })

  it('too much current trips it', () => {
    const bay = new Bay(system)
    const { blown } = bay.arrive('on', [bay.fault('3.short_to_ground', 0.05)])
    expect(blown).toEqual([{ part: 'CB1', mode: 'tripped' }])
  })
})

/** Messages of the compiler for a text as if it stood in this file. */
function typeErrors(file: string, text: string): string[] {
  const { config } = ts.readConfigFile(`${root}tsconfig.test.json`, (name) => ts.sys.readFile(name))
  const { options } = ts.parseJsonConfigFileContent({ ...config, include: [] }, ts.sys, root)
  const host = ts.createCompilerHost(options)
  host.fileExists = (name) => name === file || ts.sys.fileExists(name)
  host.readFile = (name) => (name === file ? text : ts.sys.readFile(name))
  const program = ts.createProgram([file], options, host)
  const source = program.getSourceFile(file)
  const found = [...program.getSyntacticDiagnostics(source), ...program.getSemanticDiagnostics(source)]
  return found.map((one) => ts.flattenDiagnosticMessageText(one.messageText, '\n'))
}
