import type { JsonSchema } from '@halfsplit/system'
import { PROCEDURE_VERSION } from './parse-procedure.js'

const TEXT = { type: 'string' } as const
const TEXTS = { anyOf: [TEXT, { type: 'array', items: TEXT }] } as const
const WAY = {
  type: 'string',
  pattern: '^(go to .+|nothing found|no conclusion|[a-z]+ \\S+)$',
} as const

const about = (schema: JsonSchema, description: string): JsonSchema => ({ ...schema, description })

const STEP: JsonSchema = {
  type: 'object',
  properties: {
    do: about(TEXT, 'what is to be done, in the words of the sheet'),
    in: about(TEXT, 'a state of the description'),
    unplug: about(TEXTS, 'parts or connectors that are unplugged'),
    jumper: about(TEXT, 'two points that are bridged: K7.common K7.work'),
    swap: about(TEXT, 'a part in whose place a like one is tried'),
    look: about(TEXT, 'a part and what is looked at: H1.light'),
    measure: about(
      { type: 'string', pattern: '^(volts|ohms|pressure|amps) ' },
      'volts RED BLACK, ohms PART RED BLACK, pressure POINT or amps WIRE',
    ),
    meter: about(TEXT, 'a meter of the description, if more than one fits'),
    expect: about(TEXTS, 'what a sound machine shows: a word, a range as 24..28 V, at least 22 V, over range'),
    temperature: about(TEXT, 'temperature of the part at which limits of a resistance hold'),
    warnings: about(TEXTS, 'what can hurt in this step'),
    pass: about(WAY, 'if it shows what is expected: go to STEP, a repair, nothing found, no conclusion'),
    fail: about(WAY, 'if it does not'),
  },
  required: ['in', 'expect', 'pass', 'fail'],
  oneOf: [
    { type: 'object', required: ['look'] },
    { type: 'object', required: ['measure'] },
  ],
  additionalProperties: false,
}

/**
 * JSON Schema (2020-12) of written procedures, for completion and hints in an editor. It knows shapes; whether names are those of
 * the machine, `parseProcedure` says.  Checked in tests/system/procedure-schema.test.ts.
 */
export function procedureSchema(): JsonSchema {
  return {
    $schema: 'https://json-schema.org/draft/2020-12/schema',
    title: 'Halfsplit: written procedure',
    type: 'object',
    properties: {
      procedure: { const: Number(PROCEDURE_VERSION), description: 'version of the form' },
      title: TEXT,
      about: TEXT,
      invented: { type: 'boolean', description: 'not a real sheet' },
      complaint: about(TEXT, 'a complaint of the description'),
      warnings: about(TEXTS, 'what can hurt in all of it'),
      steps: { type: 'object', additionalProperties: STEP, description: 'in the order of the sheet; it begins with the first' },
    },
    required: ['procedure', 'steps'],
    additionalProperties: false,
  }
}
