import { printIssue } from '@halfsplit/core'
import { parseSystem, type System } from '@halfsplit/system'
import { type Procedure, parseProcedure } from '../index.js'

/** A lamp behind a relay: small enough to be worked out in a moment. */
export const LAMP = systemOf(`halfsplit: 1
machine: work lamp
invented: true
parts:
  BAT: { kind: battery }
  F1: { kind: fuse, rating: 10 A, place: box }
  S1: { kind: switch, place: cab }
  K1: { kind: relay, place: box }
  H1: { kind: lamp, place: mast }
  G1: { kind: ground, place: mast }
wires: { 5: { from: K1.work, to: H1.feed, length: 3 m, place: mast } }
joins:
  - [BAT.plus, F1.a]
  - [F1.b, S1.a, K1.common]
  - [S1.b, K1.coil_a]
  - [H1.ground, G1.a]
  - [K1.coil_b, G1.b, BAT.minus]
places: { box: { minutes: 1 }, cab: { minutes: 1 }, mast: { minutes: 4 } }
tools: [multimeter]
states:
  off: { dead: true }
  on: { from: off, set: { S1: on }, minutes: 1, hazards: [the glass is hot] }
  hot: { from: on, set: { K1.temperature: 95 degC }, minutes: 10 }
complaints:
  dark: { says: the lamp stays dark, shows: [{ in: on, at: H1.light, is: dark }] }
`)

function systemOf(text: string): System {
  const { system, issues } = parseSystem(text, 'lamp.yaml')
  if (!system) throw new Error(issues.map((one) => printIssue(one)).join('\n'))
  return system
}

/** A procedure for the lamp. @throws Error with every issue */
export function lampSheet(steps: string, head = 'complaint: dark\n'): Procedure {
  const { procedure, issues } = parseProcedure(`procedure: 1\n${head}steps:\n${steps}`, 'sheet.yaml', LAMP)
  if (!procedure || issues.length > 0) throw new Error(issues.map((one) => printIssue(one)).join('\n'))
  return procedure
}

/** One step on a line. */
export const line = (id: string, rest: string): string => `  ${id}: { ${rest} }\n`

/** An ordinary sheet without a mistake: is it so, is the fuse whole, where does the feed end, is there a ground. */
export const GOOD_SHEET = [
  line(
    'seen',
    'in: on, look: H1.light, expect: [bright, dim], pass: nothing found, fail: go to fuse, warnings: [the glass is hot]',
  ),
  line('fuse', 'in: off, look: F1.link, expect: intact, pass: go to feed, fail: no conclusion'),
  line(
    'feed',
    'in: on, measure: volts H1.feed BAT.minus, expect: at least 10 V, pass: go to ground, fail: go to relay, warnings: [hot glass]',
  ),
  line(
    'ground',
    'in: on, measure: volts H1.ground BAT.minus, expect: at most 1 V, pass: replace H1, fail: clean G1, warnings: [hot glass]',
  ),
  line('relay', 'in: on, look: K1.click, expect: pulled in, pass: go to wire, fail: go to fused, warnings: [hot glass]'),
  line(
    'wire',
    'in: on, measure: volts K1.work BAT.minus, expect: at least 10 V, pass: replace 5, fail: go to contact, warnings: [hot glass]',
  ),
  line(
    'fused',
    'in: on, measure: volts F1.b BAT.minus, expect: at least 10 V, pass: go to switched, fail: no conclusion, warnings: [hot glass]',
  ),
  line(
    'switched',
    'in: on, measure: volts S1.b BAT.minus, expect: at least 10 V, pass: replace K1, fail: replace S1, warnings: [hot glass]',
  ),
  line(
    'contact',
    'in: on, measure: volts K1.common BAT.minus, expect: at least 10 V, pass: replace K1, fail: no conclusion, warnings: [hot glass]',
  ),
].join('')
