import { type Dimension, dimensionFacts } from '@halfsplit/core'
import type { Kind } from '@halfsplit/kinds'
import { MEASURED, METER_KEYS, RANGE_KEYS, USUAL_TOOLS } from './description/tools.js'
import { LANGUAGE_VERSION } from './parse-system.js'

/** A JSON Schema, as plain data. */
export type JsonSchema = { [key: string]: JsonSchema | string | number | boolean | readonly (JsonSchema | string)[] }

/** A number, then a unit, a tolerance, a range: what `parseQuantity` reads, roughly; the unit itself is checked there. */
const QUANTITY = '^\\s*((<=|>=|≤|≥|at most|at least)\\s*)?(AWG\\s*)?[+-]?(\\d+\\.?\\d*|\\.\\d+)([eE][+-]?\\d+)?([^\\d,].*)?$'
const NAME = '^[\\p{L}\\p{N}][\\p{L}\\p{N}_-]{0,39}$'
const POINT = { type: 'string', description: 'a point: K7.common, X12.1/a, or frame' } as const
const SIZE = { type: 'number', minimum: 0 } as const
const TEXT = { type: 'string' } as const

/**
 * JSON Schema (2020-12) of the description language, for completion and hints in an editor. It knows shapes, names of kinds,
 * ratings and words; whether names meet and units fit, `parseSystem` says.
 * @param kinds the kinds of part a description may use   @returns plain data, the same for the same kinds
 * Checked in tests/system/schema.test.ts.
 */
export function descriptionSchema(kinds: ReadonlyMap<string, Kind>): JsonSchema {
  const all = [...kinds.values()].sort((p, q) => (p.name < q.name ? -1 : 1))
  const body = {
    parts: { ...named({ $ref: '#/$defs/part' }), description: 'the parts, by name' },
    connectors: { ...named({ $ref: '#/$defs/connector' }), description: 'plugs: X12 with 2 pins makes X12.1 and X12.2' },
    wires: { ...named({ $ref: '#/$defs/wire' }), description: 'the wires, by number' },
    hoses: { ...named({ $ref: '#/$defs/hose' }), description: 'the hoses and pipes, by name' },
    joins: { type: 'array', items: { type: 'array', items: POINT, minItems: 2 }, description: 'points that meet directly' },
  }
  return {
    $schema: 'https://json-schema.org/draft/2020-12/schema',
    title: 'Halfsplit: description of a system',
    ...group(
      {
        halfsplit: { const: Number(LANGUAGE_VERSION), description: 'version of the language' },
        machine: { ...TEXT, description: 'what the machine is called' },
        invented: { type: 'boolean', description: 'not a real machine' },
        about: TEXT,
        sequence: { type: 'array', description: 'sequence of operation in words' },
        frame: { ...POINT, description: 'which point is the metal a wire chafes against; the battery minus unless given' },
        ...body,
        assemblies: named({
          ...group({ ports: { type: 'object', additionalProperties: POINT }, ...body }),
          description: 'a kind of part made of other parts',
        }),
        places: { type: 'object', additionalProperties: { $ref: '#/$defs/place' }, description: 'where parts sit' },
        tools: { type: 'array', items: { anyOf: [{ enum: Object.keys(USUAL_TOOLS) }, { $ref: '#/$defs/meter' }] } },
        states: { ...named({ $ref: '#/$defs/state' }), description: 'what the machine can be doing' },
        scenarios: { ...named({ $ref: '#/$defs/scenario' }), description: 'settings over time, for "halfsplit run"' },
        complaints: { ...named({ $ref: '#/$defs/complaint' }), description: 'what the owner may say' },
      },
      ['halfsplit', 'parts'],
    ),
    $defs: { ...fixedDefs(), ...partDefs(kinds, all) },
  }
}

const group = (properties: JsonSchema, required: readonly string[] = []): JsonSchema => ({
  type: 'object',
  properties,
  ...(required.length ? { required } : {}),
  additionalProperties: false,
})

const named = (schema: JsonSchema): JsonSchema => ({
  type: 'object',
  propertyNames: { pattern: NAME },
  additionalProperties: schema,
})

/** Which keys a part may have depends on its kind; another kind than those named is an assembly of the description. */
function partDefs(kinds: ReadonlyMap<string, Kind>, all: readonly Kind[]): JsonSchema {
  const common = (kind: Kind | undefined) => ({
    place: { ...TEXT, description: 'one of the places' },
    harness: { ...TEXT, description: 'bundle it runs in' },
    exposure: { ...SIZE, description: 'factor on how often it fails: 1 as usual, more if wet or hot' },
    frame: { ...POINT, description: 'metal it sits on, if not the frame of the machine' },
    sealed: { type: 'boolean', description: 'no probe can reach it' },
    ...(kind ? { guards: { ...TEXT, description: 'what it protects from, as in "cranking in gear"' } } : {}),
    ...(kind ? { repairs: repairsOf(kind) } : {}),
  })
  const ownOf = (kind: Kind) => ({ ...common(kind), ...ratingsOf(kind), ...choicesOf(kind) })
  const defs: JsonSchema = {
    part: {
      type: 'object',
      required: ['kind'],
      properties: { kind: { anyOf: [{ enum: all.map((kind) => kind.name) }, { type: 'string' }] } },
      allOf: all.map((kind) => ({
        if: { properties: { kind: { const: kind.name } }, required: ['kind'] },
        then: { $ref: `#/$defs/kind-${kind.name}` },
      })),
    },
  }
  for (const kind of all) {
    const missing = Object.entries(kind.ratings).filter(([, rating]) => rating.default === undefined)
    defs[`kind-${kind.name}`] = {
      ...group(
        { kind: { const: kind.name }, ...ownOf(kind) },
        missing.map(([name]) => name),
      ),
      title: kind.title,
      description: `${kind.about} Ports: ${kind.ports.map((port) => port.name).join(', ')}.`,
    }
  }
  const [wire, hose, pin] = ['wire', 'hose', 'pin'].map((name) => kinds.get(name))
  const run = (kind: Kind | undefined) =>
    group({ kind: TEXT, from: POINT, to: POINT, ...(kind ? ownOf(kind) : common(undefined)) }, ['from', 'to'])
  defs.wire = run(wire)
  defs.hose = run(hose)
  defs.connector = group({ pins: { type: 'integer', minimum: 1, maximum: 200 }, ...(pin ? ownOf(pin) : common(undefined)) }, [
    'pins',
  ])
  return defs
}

function quantity(dimension: Dimension, about: string, usual?: string): JsonSchema {
  const { name, example } = dimensionFacts(dimension)
  const description = `${about}: ${name}, as in "${example}"`
  return { type: 'string', pattern: QUANTITY, description, ...(usual === undefined ? {} : { default: usual }) }
}

const ratingsOf = (kind: Kind): JsonSchema =>
  Object.fromEntries(Object.entries(kind.ratings).map(([name, one]) => [name, quantity(one.dimension, one.about, one.default)]))

const choicesOf = (kind: Kind): JsonSchema =>
  Object.fromEntries(
    Object.entries(kind.choices ?? {}).map(([name, one]) => [
      name,
      { enum: one.words, default: one.default, description: one.about },
    ]),
  )

const repairsOf = (kind: Kind): JsonSchema =>
  group(
    Object.fromEntries(
      Object.entries(kind.repairs).map(([id, { title, minutes, price }]) => [
        id,
        {
          ...group({ title: TEXT, minutes: { ...SIZE, default: minutes }, price: { ...SIZE, default: price } }),
          description: title,
        },
      ]),
    ),
  )

/** Groups that do not depend on the kinds. */
function fixedDefs(): JsonSchema {
  const range: Record<(typeof RANGE_KEYS)[number], JsonSchema> = {
    to: { ...TEXT, description: 'end of the range, as in "40 V"' },
    resolution: { ...TEXT, description: 'step of the display, as in "10 mV"' },
    accuracy: { ...TEXT, description: 'percent of reading + counts, as in "0.5 % + 2"' },
    test_current: { ...TEXT, description: 'of an ohmmeter' },
  }
  const meter: Record<(typeof METER_KEYS)[number], JsonSchema> = {
    name: TEXT,
    measures: { enum: Object.keys(MEASURED) },
    ranges: { type: 'array', minItems: 1, items: group(range, ['to', 'resolution', 'accuracy']) },
    input_resistance: { ...TEXT, description: 'of a voltmeter, as in "10 MOhm"' },
    burden: { ...TEXT, description: 'of an ammeter, as in "30 mOhm"' },
    open_voltage: { ...TEXT, description: 'of an ohmmeter' },
  }
  return {
    place: group({ about: TEXT, minutes: SIZE, remove: { ...TEXT, description: 'what must come off' } }),
    meter: group(meter, ['measures', 'ranges']),
    state: group({
      about: TEXT,
      from: { ...TEXT, description: 'state it is entered from' },
      set: { type: 'object', additionalProperties: TEXT, description: 'PART or PART.setting: word or quantity, in order' },
      minutes: { ...SIZE, description: 'minutes to get there' },
      hazards: { type: 'array', items: TEXT },
      dead: { type: 'boolean', description: 'power is off everywhere: resistance may be measured' },
    }),
    scenario: group(
      {
        about: TEXT,
        from: { ...TEXT, description: 'state it starts from' },
        for: { ...TEXT, description: 'how long it goes on, as in "60 min"' },
        drive: {
          type: 'object',
          description: 'PART or PART.setting over time',
          additionalProperties: {
            anyOf: [
              { ...TEXT, description: 'from the start on' },
              {
                type: 'object',
                additionalProperties: TEXT,
                description: 'times and values: "5 min: 70 kW" at once, "30 min: to 10 degC" evenly until then',
              },
            ],
          },
        },
        watch: {
          type: 'array',
          items: TEXT,
          description: 'what is charted: a point, "POINT to POINT", "into POINT", or PART.look',
        },
        checks: {
          type: 'object',
          description: 'what the run must show, by rule or manual',
          additionalProperties: group(
            {
              of: { ...TEXT, description: 'a point' },
              from: { ...TEXT, description: 'with "to" and "within": how long it takes' },
              to: TEXT,
              within: { ...TEXT, description: 'a time' },
              when: { ...TEXT, description: '"PART.look is WORD", with a limit: where it stands then' },
              at_least: TEXT,
              at_most: TEXT,
              falls: { ...TEXT, description: 'with "within": how far it may fall' },
              after: { ...TEXT, description: 'from when on the fall is watched' },
              clause: { ...TEXT, description: 'rule or manual it comes from' },
            },
            ['of'],
          ),
        },
      },
      ['from', 'for'],
    ),
    complaint: group(
      {
        says: { ...TEXT, description: "in the owner's words" },
        shows: {
          type: 'array',
          items: group({ in: { ...TEXT, description: 'a state' }, at: { ...TEXT, description: 'PART.look' }, is: TEXT }, [
            'in',
            'at',
            'is',
          ]),
        },
      },
      ['says', 'shows'],
    ),
  }
}
