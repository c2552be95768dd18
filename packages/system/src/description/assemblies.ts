import { referenceOf, type Draft, type Scope } from './draft.js'
import { Fields, section } from './fields.js'
import { inherited, kindOf, PART_KEYS, readPart } from './parts.js'
import { readConnector, readJoins, readRun } from './runs.js'
import type { Branch, Entry } from './tree.js'

/** Sections that make parts, in a description and in an assembly alike. */
export const PART_SECTIONS = ['parts', 'connectors', 'wires', 'hoses', 'joins'] as const

const INSIDE = ['ports', ...PART_SECTIONS] as const
const EXAMPLE = 'cluster: { ports: { feed: T1.feed }, parts: { T1: { kind: lamp } } }'

/** Reads everything that makes parts or joins them, in the order of the file: names of nodes follow that order. */
export function readBody(draft: Draft, body: Branch, scope: Scope): void {
  for (const entry of body.entries) {
    const named = (read: (name: string, one: Entry) => void, example: string) => {
      for (const one of section(draft.issues, entry, example)) read(`${scope.prefix}${one.key}`, one)
    }
    if (entry.key === 'parts') named((name, one) => readPartOrAssembly(draft, name, one, scope), 'F10: { kind: fuse }')
    if (entry.key === 'connectors') named((name, one) => readConnector(draft, name, one, scope), 'X12: { pins: 2 }')
    if (entry.key === 'wires') named((name, one) => readRun(draft, name, one, scope, 'wire'), '12: { from: F10.b, to: H1.feed }')
    if (entry.key === 'hoses')
      named((name, one) => readRun(draft, name, one, scope, 'hose'), 'P1: { from: R1.out, to: V1.supply }')
    if (entry.key === 'joins') readJoins(draft, entry, scope)
  }
}

function readPartOrAssembly(draft: Draft, name: string, entry: Entry, scope: Scope): void {
  const kind = entry.value.type === 'map' ? kindOf(draft, entry) : undefined
  const assembly = kind && !draft.kinds.has(kind.text) ? draft.assemblies.get(kind.text) : undefined
  if (kind && assembly) expand(draft, name, entry, assembly, kind, scope)
  else readPart(draft, name, entry, scope)
}

/** Puts the parts of an assembly in place, each under the name of its use: `LEFT.TAIL`. */
function expand(
  draft: Draft,
  name: string,
  use: Entry,
  assembly: Entry,
  kind: { text: string; at: Entry['keyAt'] },
  scope: Scope,
): void {
  if (scope.within.includes(kind.text)) {
    draft.issues.add('CYCLIC_ASSEMBLY', `assembly '${kind.text}' contains itself`, kind.at, {
      received: [...scope.within, kind.text].join(' > '),
      related: [{ position: assembly.keyAt, message: 'the assembly' }],
      fix: 'build it from other kinds',
    })
    return
  }
  if (!draft.declare(name, use, 'part') || !draft.mayExpand(use)) return
  const keys = PART_KEYS.filter((key) => key !== 'repairs' && key !== 'guards')
  const fields = Fields.of(draft.issues, use.value, `'${name}'`, keys, `{ kind: ${kind.text} }`)
  const body = Fields.of(draft.issues, assembly.value, `assembly '${kind.text}'`, INSIDE, EXAMPLE)
  if (!fields || !body) {
    draft.unread.add(name)
    return
  }
  const inner: Scope = { ...inherited(draft, fields, scope), prefix: `${name}.`, within: [...scope.within, kind.text] }
  readBody(draft, body.branch, inner)
  for (const port of section(draft.issues, body.get('ports'), 'ports: { feed: T1.feed }')) {
    const point = referenceOf(draft.issues, port.value, inner.prefix, `port "${port.key}" of assembly '${kind.text}'`)
    if (point) draft.aliases.set(`${name}.${port.key}`, point)
  }
}

/** Assemblies no part uses, or which share a name with a kind. */
export function checkAssemblies(draft: Draft, body: Branch): void {
  const used = new Set<string>()
  const look = (branch: Branch) => {
    for (const { key, value } of branch.entries) {
      if (key !== 'parts' || value.type !== 'map') continue
      for (const part of value.entries) if (part.value.type === 'map') used.add(kindText(part.value))
    }
  }
  look(body)
  for (const { value } of draft.assemblies.values()) if (value.type === 'map') look(value)
  for (const [name, entry] of draft.assemblies) {
    if (draft.kinds.has(name)) {
      const fix = 'give the assembly another name'
      draft.issues.add('DUPLICATE_NAME', `"${name}" already is a kind of part`, entry.keyAt, { fix })
    } else if (!used.has(name)) {
      const fix = `use it with "kind: ${name}", or delete it`
      draft.issues.warn('ASSEMBLY_UNUSED', `assembly '${name}' is used nowhere`, entry.keyAt, { fix })
    }
  }
}

function kindText(part: Branch): string {
  const kind = part.entries.find((one) => one.key === 'kind')?.value
  return kind?.type === 'text' ? kind.text.trim() : ''
}
