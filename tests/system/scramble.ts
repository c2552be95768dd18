import { parse, stringify } from 'yaml'

type Tree = string | Tree[] | { [key: string]: Tree }
type Group = { [key: string]: Tree }

/** Gives every name its scrambled one, the same each time. */
export type Rename = (name: string) => string

/** Names without likeness to the old ones, nor to their order: what the n-th name becomes is spread by a fixed stride. */
function scrambler(): Rename {
  const given = new Map<string, string>()
  return (name) => {
    const known = given.get(name)
    if (known) return known
    const n = given.size
    const made = `${'qjxzvkwygh'[(n * 7) % 10]}${(n * 379 + 17) % 997}`
    given.set(name, made)
    return made
  }
}

const KEPT = ['frame']
/** `X7.3/a`, `K1.common`: only what stands before the point is a name of the author's. */
const pointOf = (rename: Rename) => (point: string) => {
  if (KEPT.includes(point)) return point
  const cut = point.search(/[./]/)
  return cut < 0 ? rename(point) : rename(point.slice(0, cut)) + point.slice(cut)
}

const mapKeys = (group: Tree | undefined, key: Rename, value: (tree: Tree) => Tree): Group =>
  Object.fromEntries(Object.entries((group ?? {}) as Group).map(([name, tree]) => [key(name), value(tree)]))

const edit = (tree: Tree, changes: { [key: string]: (tree: Tree) => Tree }): Tree =>
  Object.fromEntries(Object.entries(tree as Group).map(([name, value]) => [name, changes[name]?.(value) ?? value]))

/**
 * A description (without assemblies) in which every part, wire, hose, connector, place, harness, state, scenario and complaint has another
 * name, its comments and prose gone. @returns the text and how names of points were changed
 */
export function scrambled(text: string): { text: string; rename: Rename; point: Rename } {
  const rename = scrambler()
  const point = pointOf(rename)
  const named = (tree: Tree) => rename(tree as string)
  const pointed = (tree: Tree) => point(tree as string)
  const part = (tree: Tree) => edit(tree, { place: named, harness: named, frame: pointed, from: pointed, to: pointed })
  const parts = (tree: Tree) => mapKeys(tree, rename, part)
  const look = (tree: Tree) => edit(tree, { in: named, at: pointed })
  const complaint = (tree: Tree) => edit(tree, { says: () => 'something', shows: (shows) => (shows as Tree[]).map(look) })
  // `into SV1.coil_a`, `A.b to C.d`, `P1.light is dark`: words around points.
  const watched = (tree: Tree) =>
    (tree as string)
      .split(' ')
      .map((word) => (word.includes('.') ? point(word) : word))
      .join(' ')
  const scenario = (tree: Tree) =>
    edit(tree, {
      from: named,
      drive: (drive) => mapKeys(drive, point, (value) => value),
      watch: (watch) => (watch as Tree[]).map(watched),
      checks: (checks) => mapKeys(checks, rename, (check) => edit(check, { of: watched, when: watched })),
    })
  const whole = edit(parse(text, { schema: 'failsafe' }) as Tree, {
    machine: () => 'some machine',
    about: () => 'nothing said',
    sequence: () => [],
    frame: pointed,
    parts,
    connectors: parts,
    wires: parts,
    hoses: parts,
    joins: (joins) => (joins as Tree[][]).map((ends) => ends.map(pointed)),
    places: (places) => mapKeys(places, rename, (tree) => tree),
    states: (states) =>
      mapKeys(states, rename, (tree) => edit(tree, { from: named, set: (set) => mapKeys(set, point, (value) => value) })),
    scenarios: (scenarios) => mapKeys(scenarios, rename, scenario),
    complaints: (complaints) => mapKeys(complaints, rename, complaint),
  })
  return { text: stringify(whole), rename, point }
}
