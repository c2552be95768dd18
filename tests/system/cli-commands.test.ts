import { beforeAll, describe, expect, it } from 'vitest'
import { build, halfsplit, inFolder, LAMP, TRAILER } from './cli.js'

const at = inFolder({
  'lamp.yaml': LAMP,
  'broken.yaml': LAMP.replace('10 W', '10 V').replace('kind: fuse', 'kind: fusse'),
  'restless.yaml': LAMP.replace('{ kind: switch, place: cab }', '{ kind: relay, place: cab }')
    .replace(
      /wires:.*\n.*\n/,
      'wires: { 1: { from: BAT.plus, to: F1.a } }\njoins: [[F1.b, S1.common], [S1.rest, S1.coil_a, H1.feed], [S1.coil_b, H1.ground, BAT.minus, frame]]\n',
    )
    .replace('set: { S1: on }, ', ''),
  'loose.yaml': LAMP.replace('wires: {', 'wires: { 4: { from: S1.b, to: S2.a }, ').replace(
    '  H1:',
    '  S2: { kind: switch, place: cab }\n  H1:',
  ),
})

beforeAll(build)

describe('the door', () => {
  it('shows commands with examples and exit codes', () => {
    const { exit, out, err } = halfsplit(['--help'])
    expect({ exit, err }).toEqual({ exit: 0, err: '' })
    for (const word of ['check', 'readings', 'faults', 'run', 'isolate', 'demo', 'reference', 'Examples:', 'Exit codes:'])
      expect(out).toContain(word)
  })

  it.each(['check', 'readings', 'faults', 'run', 'isolate', 'demo', 'reference'])('%s has help with an example', (command) => {
    const { exit, out } = halfsplit([command, '--help'])
    expect(exit).toBe(0)
    expect(out).toMatch(new RegExp(`Examples:\n {2}halfsplit ${command}`))
    expect(out).toContain('--json')
  })

  it('offers the nearest command to an unknown one, on stderr, with the code of wrong use', () => {
    const { exit, out, err } = halfsplit(['isolat', TRAILER])
    expect({ exit, out }).toEqual({ exit: 2, out: '' })
    expect(err).toContain('isolate')
    expect(err).not.toMatch(/^ {4}at /m)
  })

  it.each([[[]], [['readings', TRAILER]], [['check']], [['check', TRAILER, '--jsn']]])('%j is wrong use', (args) => {
    expect(halfsplit(args)).toMatchObject({ exit: 2, out: '' })
  })

  it('says its version', () => {
    expect(halfsplit(['--version']).out.trim()).toMatch(/^\d+\.\d+\.\d+$/)
  })
})

describe('exit codes', () => {
  it('0 for a sound description', () => {
    const { exit, out } = halfsplit(['check', at('lamp.yaml')])
    expect(exit).toBe(0)
    expect(out).toContain('no mistakes; 7 parts, 2 states')
  })

  it('1 for mistakes, each with file, line and column, and a fix', () => {
    const { exit, out } = halfsplit(['check', at('lamp.yaml'), at('broken.yaml')])
    expect(exit).toBe(1)
    expect(out).toMatch(/broken\.yaml:6:\d+: error: [A-Z_]+: /)
    expect(out).toMatch(/broken\.yaml:8:\d+: error: UNIT_MISMATCH: /)
    expect(out).toContain('fuse')
  })

  it('1 for a machine that never comes to rest', () => {
    const { exit, out } = halfsplit(['check', at('restless.yaml')])
    expect(exit).toBe(1)
    expect(out).toContain('STATE_CHATTERS')
  })

  it('2 for a state that is not there, with the nearest', () => {
    const { exit, err } = halfsplit(['readings', TRAILER, '--state', 'tail_stp'])
    expect(exit).toBe(2)
    expect(err).toContain('"tail_stop"')
  })

  it('3 for a state without rest', () => {
    const { exit, err, out } = halfsplit(['readings', at('restless.yaml'), '--state', 'on'])
    expect({ exit, out }).toEqual({ exit: 3, out: '' })
    expect(err).toContain('S1')
  })

  it('4 for a file that cannot be read', () => {
    for (const command of ['check', 'faults', 'isolate']) {
      const { exit, err } = halfsplit([command, at('nowhere.yaml')])
      expect(exit).toBe(4)
      expect(err).toContain('there is no such file')
    }
    expect(halfsplit(['check', at('.')])).toMatchObject({ exit: 4 })
  })
})

describe('readings', () => {
  it('gives expected value, limits and what they depend on', () => {
    const { exit, out } = halfsplit(['readings', TRAILER, '--state', 'tail'])
    expect(exit).toBe(0)
    expect(out).toMatch(/volts from L1\.tail to BAT\.minus +12\.\d\d V +1\d\.\d\d to 1\d\.\d\d V +BAT voltage \d+ %/)
  })

  it('says of a point that only insulation holds that any reading is possible', () => {
    const { exit, out } = halfsplit(['readings', at('loose.yaml'), '--state', 'on'])
    expect(exit).toBe(0)
    expect(out).toMatch(/volts from S2\.b to BAT\.minus +nothing but insulation holds it: any reading is possible/)
  })

  it('follows a meter and a temperature asked for', () => {
    const lamp = ['readings', at('lamp.yaml'), '--state', 'on']
    expect(halfsplit([...lamp, '--meter', 'multimetr'])).toMatchObject({ exit: 2, err: expect.stringContaining('"multimeter') })
    expect(halfsplit([...lamp, '--temperature', '85 degC'])).toMatchObject({ exit: 0 })
    expect(halfsplit([...lamp, '--temperature', '12 V'])).toMatchObject({ exit: 2, err: expect.stringContaining('12 V') })
  })
})

describe('faults', () => {
  it('gives what is seen, the rate and the repair of each mode', () => {
    const { exit, out } = halfsplit(['faults', at('lamp.yaml')])
    expect(exit).toBe(0)
    expect(out).toMatch(/H1\.\w*open\w*|H1\.burnt_out/)
    expect(out).toMatch(/seen +.*H1 light dark \(sound: bright\)/)
    expect(out).toMatch(/rate +0\.\d+ a year, once in \d+ years/)
    expect(out).toMatch(/repair +replace H1: /)
  })
})

describe('weight of print', () => {
  it('is left out with no terminal and with NO_COLOR, whatever FORCE_COLOR says', () => {
    const escape = '\u001b['
    const args = ['readings', at('lamp.yaml'), '--state', 'on']
    expect(halfsplit(args).out).not.toContain(escape)
    expect(halfsplit(args, { FORCE_COLOR: '1' }).out).toContain(escape)
    expect(halfsplit(args, { FORCE_COLOR: '1', NO_COLOR: '1' }).out).not.toContain(escape)
  })
})

describe('reference', () => {
  it.each(['circuits', 'posterior', 'next-test', 'worked-examples', 'handbook'])(
    '%s: the last line counts, none fails',
    (kind) => {
      const { exit, out } = halfsplit(['reference', kind])
      expect(out.trimEnd().split('\n').at(-1)).toMatch(/^[1-9]\d* passed, 0 failed(, \d+ skipped)?$/)
      expect(exit).toBe(0)
    },
  )

  it('names the kinds there are, and a folder that is not', () => {
    expect(halfsplit(['reference', 'circuit'])).toMatchObject({ exit: 2, err: expect.stringContaining('"circuits"') })
    expect(halfsplit(['reference', 'circuits', at('nowhere')])).toMatchObject({ exit: 4 })
  })
})
