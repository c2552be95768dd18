import { parseQuantity } from '@halfsplit/core'
import { compile, type Element, type Law, type Signal } from '@halfsplit/network'
import type { Kind, Look, LookQuantity } from '../kind.js'
import { type Bench, type Fitted, viewOf } from './bench.js'
import { conditions, faulted, make, severityOf } from './conditions.js'

/** What every kind must keep to. Each rule names what breaks it; nothing named means that it is kept. */
export type Rule = (kind: Kind) => string[]

const missing = (names: readonly string[], among: readonly string[], what: string): string[] =>
  names.filter((name) => !among.includes(name)).map((name) => `${what} '${name}'`)

const twice = (names: readonly string[]): string[] =>
  names.filter((name, i) => names.indexOf(name) !== i).map((name) => `'${name}' twice`)

const portsOf = (kind: Kind): string[] => kind.ports.map((port) => port.name)

export const portsOnce: Rule = (kind) => [...twice(portsOf(kind)), ...(kind.ports.length === 0 ? ['no port'] : [])]

export const defaultsReadable: Rule = (kind) => {
  const asText = (name: string, text: string | undefined, dimension: Parameters<typeof parseQuantity>[1]) =>
    text !== undefined && parseQuantity(text, dimension).ok ? [] : [`${name}: ${text}`]
  const asWord = (name: string, { words, default: word }: { words: readonly string[]; default: string }) =>
    words.includes(word) ? [] : [`${name}: ${word}`]
  return [
    ...Object.entries(kind.ratings).flatMap(([name, rating]) => asText(name, rating.default, rating.dimension)),
    ...Object.entries(kind.choices ?? {}).flatMap(([name, choice]) => asWord(name, choice)),
    ...Object.entries(kind.settings ?? {}).flatMap(([name, setting]) =>
      'words' in setting ? asWord(name, setting) : asText(name, setting.default, setting.dimension),
    ),
  ]
}

export const modesCured: Rule = (kind) => [
  ...twice(kind.modes.map((mode) => mode.id)),
  ...missing(
    kind.modes.map((mode) => mode.repair),
    Object.keys(kind.repairs),
    'no repair',
  ),
  ...missing(
    Object.keys(kind.repairs),
    kind.modes.map((mode) => mode.repair),
    'nothing is cured by',
  ),
  ...kind.modes
    .filter(({ when }) => when && !kind.choices?.[when.choice]?.words.includes(when.word))
    .map((mode) => `${mode.id}: no such choice`),
]

export const sharesWithinOne: Rule = ({ modes }) => {
  const sum = modes.reduce((total, mode) => total + mode.share, 0)
  return sum > 0 && sum <= 1 + 1e-9 && modes.every((mode) => mode.share >= 0) ? [] : [`shares sum to ${sum}`]
}

export const sizesRise: Rule = (kind) =>
  kind.modes.flatMap((mode) => {
    const severity = severityOf(kind, mode)
    const nodes = severity?.nodes ?? []
    const rising = nodes.every((node, i) => i === 0 || node > nodes[i - 1])
    const positive = severity?.scale !== 'log' || nodes.every((node) => node > 0)
    return rising && positive ? [] : [`${mode.id}: ${nodes.join(', ')}`]
  })

const lawName = (law: Law) => law.law

/** What must not change from one condition of a part to another: names, order, ends, which law. */
function shape(element: Element): unknown {
  if (element.type === 'law') return [element.type, element.id, element.a, element.b, lawName(element.law)]
  if (element.type === 'gate')
    return [element.type, element.id, element.a, element.b, lawName(element.on), lawName(element.off), element.signal]
  return 'a' in element ? [element.type, element.id, element.a, element.b] : [element.type, element.id]
}

const signalShape = (signal: Signal): unknown =>
  signal.type === 'threshold' ? [signal.type, signal.id, signal.a, signal.b] : [signal.type, signal.id]

const shapeOf = ({ nodes, elements, signals }: Bench): string =>
  JSON.stringify([nodes, elements.map(shape), signals.map(signalShape)])

export const samePrimitives: Rule = (kind) =>
  faulted(kind)
    .filter((fitted) => shapeOf(make(kind, fitted)) !== shapeOf(make(kind, { choices: fitted.choices })))
    .map((fitted) => JSON.stringify(fitted))

/** Every number of a part's primitives, in order. */
function numbers(value: unknown): number[] {
  if (typeof value === 'number') return [value]
  if (typeof value === 'boolean') return [Number(value)]
  return typeof value === 'object' && value !== null ? Object.values(value).flatMap(numbers) : []
}

const lawsOf = (element: Element): Law[] =>
  element.type === 'law' ? [element.law] : element.type === 'gate' ? [element.on, element.off] : []

export const soundNumbers: Rule = (kind) =>
  [...conditions(kind), ...faulted(kind)].flatMap((fitted) => {
    const bench = make(kind, fitted)
    const finite = numbers([bench.elements, bench.signals]).every(Number.isFinite)
    const negative = bench.elements.filter((element) => lawsOf(element).some((law) => numbers(law).some((value) => value < 0)))
    const where = JSON.stringify(fitted)
    return [...(finite ? [] : [`not finite: ${where}`]), ...negative.map(({ id }) => `negative in ${id}: ${where}`)]
  })

export const compiles: Rule = (kind) =>
  [...conditions(kind), ...faulted(kind)].flatMap((fitted) => {
    try {
      compile(make(kind, fitted))
      return []
    } catch (error) {
      return [`${String(error)}: ${JSON.stringify(fitted)}`]
    }
  })

const looksOf = (kind: Kind, fitted: Fitted) => (kind.looks ?? []).map((look) => look.quantity(viewOf(kind, 'X1', fitted)))

/** A mode that no condition shows would take belief for nothing. Bridges are made by whoever knows the neighbours. */
export const everyModeActs: Rule = (kind) => {
  const picture = (fitted: Fitted) =>
    JSON.stringify([make(kind, fitted), looksOf(kind, fitted), kind.overload?.(viewOf(kind, 'X1', fitted))])
  const acting = new Set(
    faulted(kind)
      .filter((fitted) => picture(fitted) !== picture({ ...fitted, fault: undefined }))
      .map(({ fault }) => fault[0]),
  )
  return kind.modes.filter((mode) => !mode.bridges && !acting.has(mode.id)).map((mode) => mode.id)
}

/** Numbers of the primitives, without what only a look sees of a fault. */
const workings = ({ elements, signals }: Bench): number[] =>
  numbers([elements, signals.filter((signal) => signal.type !== 'imposed')])

const close = (p: number[], q: number[]): boolean =>
  p.every((x, i) => Math.abs(x - q[i]) <= 1e-6 * Math.max(Math.abs(x), Math.abs(q[i]), 1e-9))

/** A joint's added resistance and a leak's conductance are gone at zero, a leak's resistance at infinity. */
export const nothingIsHealthy: Rule = (kind) =>
  conditions(kind).flatMap((condition) => {
    const healthy = workings(make(kind, condition))
    const at = (mode: string, size: number) => close(workings(make(kind, { ...condition, fault: [mode, size] })), healthy)
    return kind.modes
      .filter((mode) => severityOf(kind, mode)?.scale === 'log')
      .filter((mode) => !at(mode.id, 1e-30) && !at(mode.id, 1e30))
      .map((mode) => `${mode.id} ${JSON.stringify(condition)}`)
  })

const missingFromLook = (kind: Kind, look: Look, fitted: Fitted): string[] =>
  missingFrom(kind, look.name, look.quantity(viewOf(kind, 'X1', fitted)), fitted)

function missingFrom(kind: Kind, name: string, quantity: LookQuantity, fitted: Fitted): string[] {
  const { nodes, elements, signals } = make(kind, fitted)
  if ('signal' in quantity)
    return missing(
      [`X1:${quantity.signal}`],
      signals.map(({ id }) => id),
      'no signal',
    )
  const finite = Number.isFinite(quantity.scale) ? [] : [`${name}: scale ${quantity.scale}`]
  if ('through' in quantity.probe)
    return [
      ...finite,
      ...missing(
        [`X1:${quantity.probe.through}`],
        elements.map(({ id }) => id),
        'no element',
      ),
    ]
  const own = [...nodes.map(({ id }) => id.slice(3)), 'air', 'frame']
  return [...finite, ...missing(Object.keys(quantity.probe.across), own, 'no node')]
}

export const looksSound: Rule = (kind) =>
  (kind.looks ?? []).flatMap((look) => {
    const flat = look.levels.flat()
    return [
      ...(look.words.length === look.levels.length + 1 ? [] : [`${look.name}: ${look.words.length} words`]),
      ...((look.becomes ?? look.words).length === look.words.length ? [] : [`${look.name}: not every word is told`]),
      ...(flat.every((level, i) => i === 0 || level > flat[i - 1]) ? [] : [`${look.name}: levels do not rise`]),
      ...[...conditions(kind), ...faulted(kind)].flatMap((fitted) => missingFromLook(kind, look, fitted)),
    ]
  })

/** What a hazard is known by is there whatever the matter with the part. */
export const hazardsSound: Rule = (kind) =>
  [...conditions(kind), ...faulted(kind)].flatMap((fitted) =>
    (kind.hazards ?? []).flatMap(({ title, present }) =>
      (present?.(viewOf(kind, 'X1', fitted)) ?? []).flatMap(({ quantity, over }) => [
        ...(Number.isFinite(over) ? [] : [`${title}: level ${over}`]),
        ...(typeof quantity === 'number' ? [] : missingFrom(kind, title, quantity, fitted)),
      ]),
    ),
  )

/** Words are for signals of its own; what acts by a quantity is a threshold, the same one whatever is the matter. */
export const wordsSound: Rule = (kind) =>
  [...conditions(kind), ...faulted(kind)].flatMap((fitted) => {
    const { signals } = make(kind, fitted)
    return Object.entries(kind.says?.(viewOf(kind, 'X1', fitted)) ?? {}).flatMap(([name, { acts }]) => {
      const signal = signals.find(({ id }) => id === `X1:${name}`)
      if (!signal) return [`no signal '${name}'`]
      return acts && signal.type !== 'threshold' ? [`'${name}' acts and is a ${signal.type}`] : []
    })
  })

export const ownNames: Rule = (kind) => {
  const overload = kind.overload?.(viewOf(kind, 'X1'))
  const { nodes, elements } = make(kind)
  return [
    ...missing([...(kind.isolated ?? []).flatMap(({ red, black }) => [red, black])], portsOf(kind), 'no port'),
    ...missing((kind.jumper?.across ?? []).flat(), portsOf(kind), 'no port'),
    ...missing(kind.load ? [kind.load.feed, kind.load.ground] : [], portsOf(kind), 'no port'),
    ...missing(
      overload ? [`X1:${overload.element}`] : [],
      elements.map(({ id }) => id),
      'no element',
    ),
    ...missing(
      overload ? [overload.mode] : [],
      kind.modes.map(({ id }) => id),
      'no mode',
    ),
    ...nodes.filter(({ id }) => portsOf(kind).some((port) => id === `X1~${port}`)).map(({ id }) => `${id} is a port's name`),
  ]
}
