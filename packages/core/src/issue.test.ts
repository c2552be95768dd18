import { describe, expect, it } from 'vitest'
import { issue, nearestNames, printIssue } from './index.js'

describe('an issue', () => {
  it('prints place, code, source line, expectation, nearest names, second place, fix and page', () => {
    const found = issue('UNIT_MISMATCH', "resistance of coil 'K3' is given in volts", {
      position: { file: 'hoist.yaml', line: 41, column: 17, length: 4 },
      expected: 'a resistance, as in "1.2 kOhm"',
      received: '92 V',
      nearest: ['Ohm', 'kOhm'],
      related: [{ position: { file: 'hoist.yaml', line: 12, column: 3, length: 2 }, message: 'K3 is a relay here' }],
      fix: 'write "92 Ohm"',
    })
    expect(printIssue(found, '    resistance: 92 V')).toBe(
      [
        "hoist.yaml:41:17: error: UNIT_MISMATCH: resistance of coil 'K3' is given in volts",
        '   41 |     resistance: 92 V',
        '      |                 ^^^^',
        '  expected a resistance, as in "1.2 kOhm"; received 92 V',
        '  nearest: "Ohm", "kOhm"',
        '  hoist.yaml:12:3: K3 is a relay here',
        '  fix: write "92 Ohm"',
        '  see docs/reference/issues.md#unit_mismatch',
      ].join('\n'),
    )
  })

  it('prints without a place, and marks stay within a line that is shorter than told', () => {
    expect(printIssue(issue('QUANTITY_EMPTY', 'the quantity is missing', { severity: 'warning', see: '' }))).toBe(
      'warning: QUANTITY_EMPTY: the quantity is missing',
    )
    const late = issue('QUANTITY_EMPTY', 'the quantity is missing', {
      position: { file: 'a', line: 1, column: 2, length: 90 },
      see: '',
    })
    expect(printIssue(late, '\tab')).toBe('a:1:2: error: QUANTITY_EMPTY: the quantity is missing\n   1 | \tab\n     | \t^^')
  })
})

describe('nearest names', () => {
  it('finds a swap, a missing letter, another case, and nothing where nothing is near', () => {
    const names = ['battery', 'fuse', 'relay', 'resistor', 'regulator']
    expect(nearestNames('realy', names)).toEqual(['relay'])
    expect(nearestNames('resitor', names)[0]).toBe('resistor')
    expect(nearestNames('FUSE', names)).toEqual(['fuse'])
    expect(nearestNames('xyz', names)).toEqual([])
    expect(nearestNames('aaa', ['aab', 'aac', 'aad', 'aae'], 2)).toEqual(['aab', 'aac'])
  })
})
