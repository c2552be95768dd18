import { addCurved, assembleLinear, type Balance, balanceAt, type Workspace, workspace } from './balance.js'
import { bordered, type Jacobian, solveBordered } from './border.js'
import type { Circuit } from './circuit.js'
import { eliminate } from './elimination.js'
import { usefulShare } from './limits.js'

/** Across quantities by node (index 0 the reference), with the eliminated Jacobian that belongs to them. */
export interface OperatingPoint {
  across: Float64Array
  /** Flow of each bordered element (source current delivered, machine current taken). */
  borderFlow: Float64Array
  jacobian: Jacobian
  iterations: number
}

export interface NoConvergence {
  node: string
  /** What is left of the balance, all nodes together, each against the ordinary flow of its domain. */
  residual: number
  iterations: number
}

const MOST_ITERATIONS = 200
const BRIEF_ITERATIONS = 12
/** Relative change at which Newton stops, and the share of a step below which it no longer backtracks. */
const STEP_TOLERANCE = 1e-11
const SMALLEST_SHARE = 1e-3
/**
 * A seat that all but closes can make the iteration creep: after so many steps, steps this short and a balance this good of air or oil are
 * the end (a tenth of a microgram of air a second).
 */
const PATIENCE = 60
const CREEP_TOLERANCE = 1e-9
const CREEP_BALANCE = 1e-7
/** Balance, against ordinary flows, below which it never backtracks. */
const SMALL_BALANCE = 1e-12

/**
 * Operating point for one set of signal states by Newton's method, backtracking while the balance gets worse.
 * Linear networks take one solve. Modified nodal analysis after C.-W. Ho, A. E. Ruehli, P. A. Brennan, IEEE Trans. Circuits
 * and Systems CAS-22 (1975) 504-509 (from memory); sources and machines are bordered.
 */
export function newton(
  circuit: Circuit,
  state: Uint8Array,
  start?: Float64Array,
  most = MOST_ITERATIONS,
  work: Workspace = workspace(circuit),
  tolerance = STEP_TOLERANCE,
): OperatingPoint | NoConvergence {
  assembleLinear(circuit, state, work.linear)
  // Where the step began, where it stands, where it goes.
  let [base, x, next] = work.across
  let [baseFlow, flow, nextFlow] = work.flow
  initial(circuit, x, start)
  flow.fill(0)
  let merit = Number.POSITIVE_INFINITY
  let worst = 0
  let share = 0
  const follows = circuit.curved.some(({ gains }) => gains.length > 0)
  for (let iteration = 1; iteration <= most; iteration += 1) {
    if (!circuit.linear) {
      // A step knows nothing of what numbers follow elsewhere: it is judged with these as they were where it began.
      const taken = share > SMALLEST_SHARE ? balanceAt(circuit, state, x, flow, work, follows ? base : x) : undefined
      if (taken && isWorse(taken, merit, share)) {
        share /= 2
        draw(x, base, 0.5)
        draw(flow, baseFlow, 0.5)
        continue
      }
      const balance = taken && !follows ? taken : balanceAt(circuit, state, x, flow, work)
      merit = balance.sum
      worst = balance.worst
    }
    const jacobian = stepFrom(circuit, state, x, work, next, nextFlow)
    const change = largestChange(circuit, x, next)
    if (!Number.isFinite(change)) return { node: unheld(circuit, work.pivot, worst), residual: merit, iterations: iteration }
    if (circuit.linear || change <= tolerance) return { across: next, borderFlow: nextFlow, jacobian, iterations: iteration }
    if (iteration > PATIENCE && change <= CREEP_TOLERANCE && creeps(circuit, worst, merit)) {
      return { across: next, borderFlow: nextFlow, jacobian, iterations: iteration }
    }
    const useful = usefulShare(circuit, state, x, next, merit)
    draw(next, x, useful.share)
    draw(nextFlow, flow, useful.share)
    // No balance guides a blind step, nor the first one where sources float: that one brings them to their values.
    share = useful.blind || (iteration === 1 && circuit.borders.length > 0) ? 0 : useful.share
    ;[base, x, next] = [x, next, base]
    ;[baseFlow, flow, nextFlow] = [flow, nextFlow, baseFlow]
  }
  return { node: circuit.names[worst], residual: merit, iterations: most }
}

/**
 * The same without backtracking, for a start so near that no balance need be worked out: the stage of a time step. It gives up after a
 * few steps, and the patient way is to be tried.
 */
export function briefNewton(
  circuit: Circuit,
  state: Uint8Array,
  start: Float64Array,
  work: Workspace,
  tolerance: number,
): OperatingPoint | undefined {
  assembleLinear(circuit, state, work.linear)
  let [x, next] = work.across
  const [, , flow] = work.flow
  initial(circuit, x, start)
  for (let iteration = 1; iteration <= BRIEF_ITERATIONS; iteration += 1) {
    const jacobian = stepFrom(circuit, state, x, work, next, flow)
    const change = largestChange(circuit, x, next)
    if (!Number.isFinite(change)) return undefined
    if (circuit.linear || change <= tolerance) return { across: next, borderFlow: flow, jacobian, iterations: iteration }
    draw(next, x, usefulShare(circuit, state, x, next, Number.POSITIVE_INFINITY).share)
    ;[x, next] = [next, x]
  }
  return undefined
}

/** One step of Newton's method from x: where it goes, with the eliminated Jacobian of x. */
function stepFrom(
  circuit: Circuit,
  state: Uint8Array,
  x: Float64Array,
  work: Workspace,
  next: Float64Array,
  nextFlow: Float64Array,
): Jacobian {
  const { linear, pivot } = work
  const system = circuit.linear ? linear : work.system
  if (!circuit.linear) {
    system.w.set(linear.w)
    system.excess.set(linear.excess)
    system.rhs.set(linear.rhs)
    addCurved(circuit, state, x, system)
  }
  eliminate(circuit.pattern, system.w, system.excess, pivot)
  const jacobian = bordered(circuit, system.w, pivot)
  next.set(x)
  solveBordered(circuit, jacobian, system.rhs, next, nextFlow)
  return jacobian
}

const creeps = ({ domains }: Circuit, worst: number, merit: number): boolean =>
  merit <= CREEP_BALANCE && (domains[worst] === 'gas' || domains[worst] === 'liquid')

function initial({ rest, held, heldValue }: Circuit, x: Float64Array, start?: Float64Array): void {
  x.set(start ?? rest)
  for (const { node } of held) x[node] = heldValue[node]
  x[0] = 0
}

const isWorse = ({ sum, noise }: Balance, merit: number, share: number): boolean =>
  !(sum <= merit * (1 - 1e-4 * share) || sum <= SMALL_BALANCE + noise)

/** Draws a step in: to a share of its way from where it began. */
function draw(to: Float64Array, from: Float64Array, share: number): void {
  if (share === 1) return
  for (let i = 0; i < to.length; i += 1) to[i] = from[i] + share * (to[i] - from[i])
}

function largestChange({ scale, nodeOf }: Circuit, x: Float64Array, next: Float64Array): number {
  let most = 0
  for (let u = 0; u < nodeOf.length; u += 1) {
    const i = nodeOf[u]
    const change = Math.abs(next[i] - x[i]) / (scale[i] + Math.abs(next[i]))
    if (!(change <= most)) most = change
  }
  return most
}

/** The first node that nothing holds, not even insulation, if that is why the numbers failed. */
function unheld(circuit: Circuit, pivot: Float64Array, worst: number): string {
  const u = circuit.pattern.order.find((k) => !(pivot[k] > 0))
  return circuit.names[u === undefined ? worst : circuit.nodeOf[u]]
}
