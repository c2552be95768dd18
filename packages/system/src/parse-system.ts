import { HalfsplitError, type Issue, parseQuantity } from '@halfsplit/core'
import { type Kind, KINDS, type Overload } from '@halfsplit/kinds'
import { checkAssemblies, PART_SECTIONS, readBody } from './description/assemblies.js'
import { readComplaints } from './description/complaints.js'
import { Draft, referenceOf, type Scope } from './description/draft.js'
import { Fields, named, section } from './description/fields.js'
import { IssueList } from './description/issues.js'
import { readPlaces } from './description/places.js'
import { checkRawText } from './description/raw-text.js'
import { readTree } from './description/read-tree.js'
import { readScenarios } from './description/scenarios.js'
import { readStates } from './description/states.js'
import { readTools } from './description/tools.js'
import type { Entry } from './description/tree.js'
import { unitsUsed } from './description/units-used.js'
import { type Wiring, WiringMaker } from './description/wiring.js'
import { checkSources, checkWiring } from './description/wiring-checks.js'
import { labelView } from './own-names.js'
import { contentHash } from './hash.js'
import { latentsOf } from './latents.js'
import type { Part, State, System } from './model.js'

/** Version of the language this project reads. */
export const LANGUAGE_VERSION = '1'

/** Keys a description may have. */
export const TOP_KEYS = [
  'halfsplit',
  'machine',
  'invented',
  'about',
  'sequence',
  'frame',
  ...PART_SECTIONS,
  'assemblies',
  'places',
  'tools',
  'states',
  'scenarios',
  'complaints',
] as const

const EXAMPLE = 'halfsplit: 1'

/** What `parseSystem` returns: the system, or what is wrong with its description. */
export interface ParsedSystem {
  /** Undefined if any issue is an error. */
  system?: System
  /** In the order of the file; warnings too. */
  issues: Issue[]
}

/**
 * Reads the description of a system.
 * @param text the file's text   @param file its name, for the positions of issues
 * @param options.kinds the kinds of part it may use; every one there is unless given
 * @returns the system, all quantities in SI, and every mistake found; never throws on account of the text.
 * Codes: see docs/reference/issues.md; the language: docs/reference/description.md.
 * Cost: linear in the text.  Checked in tests/system/malformed and parse-system.test.ts.
 */
export function parseSystem(text: string, file: string, options: { kinds?: ReadonlyMap<string, Kind> } = {}): ParsedSystem {
  const issues = new IssueList()
  checkRawText(text, file, issues)
  const tree = issues.hasErrors ? undefined : readTree(text.replace(/^\ufeff/, ''), file, issues)
  const top = tree && Fields.of(issues, tree, 'the description', TOP_KEYS, EXAMPLE)
  const system = top && readSystem(issues, top, options.kinds ?? KINDS, file, contentHash(text))
  return issues.hasErrors ? { issues: issues.sorted() } : { system, issues: issues.sorted() }
}

const OUTSIDE: Scope = { prefix: '', within: [], exposure: 1, sealed: false }

function readSystem(
  issues: IssueList,
  top: Fields,
  kinds: ReadonlyMap<string, Kind>,
  file: string,
  hash: string,
): System | undefined {
  checkVersion(issues, top)
  if (!top.get('parts')) {
    issues.add('KEY_MISSING', 'the description has no parts', top.at, {
      expected: 'a group "parts", as in "parts: { BAT: { kind: battery } }"',
      fix: 'add "parts:"',
    })
  }
  const assemblies = new Map<string, Entry>()
  for (const entry of section(issues, top.get('assemblies'), 'cluster: { ports: {}, parts: {} }'))
    assemblies.set(entry.key, entry)
  const draft = new Draft(issues, kinds, readPlaces(issues, top.get('places')), assemblies)
  readBody(draft, top.branch, OUTSIDE)
  checkAssemblies(draft, top.branch)
  const frame = top.get('frame')
  const wiring = new WiringMaker(draft, frame && referenceOf(issues, frame.value, '', '"frame"')).make()
  checkWiring(draft, wiring, top.at)
  const states = readStates(draft, top.get('states'))
  const written = {
    ...readHead(top, file),
    places: draft.places,
    states,
    scenarios: readScenarios(draft, top.get('scenarios'), states),
    complaints: readComplaints(draft, top.get('complaints'), states),
    meters: readTools(issues, top.get('tools')),
    units: unitsUsed(top.branch),
    hash,
  }
  if (issues.hasErrors) return undefined
  const system: System = { ...written, ...computed(draft, wiring, states) }
  checkSources(issues, system, wiring)
  return system
}

function readHead(top: Fields, file: string): Pick<System, 'name' | 'title' | 'about' | 'invented' | 'sequence'> {
  const name = file.replace(/^.*[/\\]/, '').replace(/\.ya?ml$/i, '')
  return {
    name,
    title: top.text('machine') ?? name,
    about: top.text('about') ?? '',
    invented: top.yes('invented'),
    sequence: top.texts('sequence'),
  }
}

/** What follows from the parts: nodes, latent quantities, settings at rest, and what opens for good. */
function computed(draft: Draft, wiring: Wiring, states: ReadonlyMap<string, State>) {
  const parts = new Map<string, Part>()
  for (const draftPart of draft.parts.values()) {
    const { run: _, ...part } = draftPart
    parts.set(part.name, { ...part, frame: wiring.frameOf(draftPart) })
  }
  const defaults = defaultsOf(parts.values())
  const overloads = new Map<string, Overload>()
  for (const part of parts.values()) {
    const overload = part.kind.overload?.(labelView(part, defaults))
    if (overload) overloads.set(part.name, overload)
  }
  const { nodeOf, portsAt } = wiring
  return { parts, nodeOf, portsAt, defaults, overloads, latents: latentsOf(parts.values(), states.values()) }
}

/** What every setting is before any state imposes another: a word, or a number in SI. */
function defaultsOf(parts: Iterable<Part>): Map<string, string | number> {
  const defaults = new Map<string, string | number>()
  for (const part of parts) {
    for (const [name, setting] of Object.entries(part.kind.settings ?? {})) {
      const parsed = 'dimension' in setting ? parseQuantity(setting.default, setting.dimension) : undefined
      if (parsed && !parsed.ok) throw new HalfsplitError(parsed.code, `default of setting '${name}' of kind '${part.kind.name}'`)
      defaults.set(`${part.name}.${name}`, parsed ? parsed.value.value : setting.default)
    }
  }
  return defaults
}

function checkVersion(issues: IssueList, top: Fields): void {
  const version = top.text('halfsplit')
  if (version === LANGUAGE_VERSION) return
  const fix = `begin the file with "halfsplit: ${LANGUAGE_VERSION}"`
  const expected = `version ${LANGUAGE_VERSION} of the language`
  if (!top.get('halfsplit')) issues.add('VERSION_MISSING', 'the version of the language is missing', top.at, { expected, fix })
  else if (version !== undefined) {
    const at = (top.get('halfsplit') as Entry).value.at
    issues.add('VERSION_UNKNOWN', 'this version of the language is not known', at, { expected, received: named(version), fix })
  }
}
