import { ASSUMPTIONS } from '@halfsplit/core'
import { type Branch, type CellState, predictive } from '@halfsplit/inference'
import type { Bench } from '../bench.js'
import { type FaultMode, type SizedFault, sized, sizedKey, stretches } from '../faults.js'
import { type Course, courses } from '../life.js'
import type { Standing } from '../view.js'

/** Something that could still be wrong after the repairs made. */
export interface Risk {
  kind:
    | 'cause still there'
    | 'new part bad'
    | 'second fault'
    | 'cured for now'
    /** Left crossed, reversed, off or of the wrong type by the repair. */
    | 'build error'
    /** A contact that was moved on the way. */
    | 'neighbour disturbed'
  /** The faults that would then be in the machine. */
  faults: readonly SizedFault[]
  probability: number
  /** Chance that it shows itself at any one look: 1 unless it comes and goes. */
  shows: number
}

/** Sized hypotheses and risks believed less than this are left out. */
const LEAST = 1e-6
/** Present at every look: whether it comes and goes is weighed apart. */
const ALWAYS = 1 - 1e-9

/**
 * All that could still be wrong now, heaviest first: what each hypothesis leaves after the actions of the log, given everything read
 * before and after them; then what the repairs and the unplugging themselves may have spoilt (assumptions `buildError`,
 * `disturbedSpoils`), shared among the modes of the parts touched by their rates.
 */
export function risks(bench: Bench, standing: Standing): Risk[] {
  const found = new Map<string, Risk>()
  const add = (risk: Risk) => {
    const key = `${risk.kind} ${risk.faults.map(sizedKey).sort().join(' ')}`
    const known = found.get(key)
    found.set(key, known ? { ...known, probability: known.probability + risk.probability } : risk)
  }
  standing.sized.forEach((_, cell) => {
    if (standing.belief.cellProbability[cell] >= LEAST) for (const risk of left(bench, standing, cell)) add(risk)
  })
  for (const risk of spoilt(bench, standing)) add(risk)
  return fewSizes([...found.values()])
    .filter(({ probability }) => probability >= LEAST)
    .sort((p, q) => q.probability - p.probability || (sizedKey(p.faults[0]) < sizedKey(q.faults[0]) ? -1 : 1))
}

/** The same faults in at most two sizes, the smaller and the larger half of their belief, each as its likeliest size. */
function fewSizes(all: readonly Risk[]): Risk[] {
  const alike = new Map<string, Risk[]>()
  for (const risk of all) {
    const key = `${risk.kind} ${risk.faults.map(({ fault }) => fault.id).join(' ')}`
    alike.set(key, [...(alike.get(key) ?? []), risk])
  }
  return [...alike.values()].flatMap(halves)
}

function halves(alike: readonly Risk[]): Risk[] {
  if (alike.length < 3) return [...alike]
  const sorted = [...alike].sort((p, q) => (p.faults[0].severity ?? 0) - (q.faults[0].severity ?? 0))
  const half = sumOf(sorted) / 2
  let sum = 0
  const lower = sorted.filter(({ probability }) => {
    sum += probability
    return sum <= half
  })
  return [lower, sorted.slice(lower.length)].filter((some) => some.length > 0).map(asOne)
}

const asOne = (some: readonly Risk[]): Risk => ({
  ...some.reduce((p, q) => (q.probability > p.probability ? q : p)),
  probability: sumOf(some),
})

const sumOf = (some: readonly Risk[]): number => some.reduce((sum, { probability }) => sum + probability, 0)

/** What one sized hypothesis leaves, by the ways it may have fared. */
function left(bench: Bench, standing: Standing, cell: number): Risk[] {
  const { actions, sized: cells, belief } = standing
  const { faults } = cells[cell]
  if (faults.length === 0) return []
  const ways = courses(faults, actions, actions.length, bench.machine.space, ALWAYS)
  const shares = sharesOf(belief.states[cell], ways)
  const repaired = new Set(repairsMade(standing))
  return ways.flatMap((way, w) => {
    const probability = belief.cellProbability[cell] * shares[w]
    const hidden = faults.filter((fault) => !way.faults.includes(fault) && !repaired.has(fault.fault.repair))
    const there = [...way.faults, ...hidden]
    if (there.length === 0 || !(probability > 0)) return []
    const kind = kindOf(way, hidden, repaired, there.length < faults.length)
    return [{ kind, faults: there, probability, shows: hidden.length > 0 ? 0 : showsOf(way.faults, standing) }]
  })
}

function kindOf(way: Course, hidden: readonly SizedFault[], repaired: ReadonlySet<string>, some: boolean): Risk['kind'] {
  if (hidden.length > 0) return 'cured for now'
  if (way.faults.some(({ fault }) => repaired.has(fault.repair))) return 'new part bad'
  return some ? 'second fault' : 'cause still there'
}

/** How probable each way is, given everything read: asked as a look would be that says which way it went. */
function sharesOf(state: CellState, ways: readonly Course[]): readonly number[] {
  const branches: Branch[] = ways.map(({ conditions }, w) => ({
    conditions,
    predictions: [{ kind: 'words', probabilities: ways.map((_, i) => (i === w ? 1 : 0)) }],
  }))
  return predictive(state, branches, 0)[0]?.words ?? []
}

const showsOf = (faults: readonly SizedFault[], { complaint }: Standing): number =>
  faults.every(({ fault }) => fault.mode.intermittent) ? (complaint?.howOften ?? ASSUMPTIONS.intermittentPresent) : 1

/** Repairs made in the log, as `replace K7`. */
export const repairsMade = ({ actions }: Pick<Standing, 'actions'>): string[] =>
  actions.flatMap((action) => (action.kind === 'repaired' ? action.repairs : []))

function spoilt(bench: Bench, standing: Standing): Risk[] {
  const repairs = repairsMade(standing)
  const worked = [...new Set(repairs.map((repair) => repair.slice(repair.indexOf(' ') + 1)))]
  const moved = standing.actions.flatMap((action) => (action.kind === 'disturbed' ? action.parts : []))
  const touched = [...new Set([...worked, ...moved])]
  return [
    ...worked.flatMap((name) =>
      shared(
        'build error',
        ASSUMPTIONS.buildError,
        ofPart(bench, name, ({ mode }) => mode.byHand),
      ),
    ),
    ...touched.flatMap((name) => shared('neighbour disturbed', ASSUMPTIONS.disturbedSpoils, ofPart(bench, name, isContact))),
  ]
}

/** Modes of a contact that a hand can leave behind: not pushed home, spread, pulled out. */
const isContact = ({ mode }: FaultMode): boolean => !mode.byHand && /contact|socket/.test(mode.id)

const ofPart = ({ faults }: Bench, name: string, wanted: (fault: FaultMode) => boolean | undefined): FaultMode[] =>
  faults.filter((fault) => (fault.part.name === name || fault.part.connector?.name === name) && wanted(fault))

function shared(kind: Risk['kind'], chance: number, faults: readonly FaultMode[]): Risk[] {
  const total = faults.reduce((sum, { rate }) => sum + rate, 0)
  return faults.map((fault) => {
    const stretch = stretches(fault.severity)
    return {
      kind,
      faults: [sized(fault, stretch[stretch.length >> 1])],
      probability: total > 0 ? (chance * fault.rate) / total : 0,
      shows: fault.mode.intermittent ? ASSUMPTIONS.intermittentPresent : 1,
    }
  })
}
