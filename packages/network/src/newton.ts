import { addCurved, assembleLinear, type Balance, balanceAt, emptySystem } from './balance.js'
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
/** Relative change at which Newton stops, and the share of a step below which it no longer backtracks. */
const STEP_TOLERANCE = 1e-11
const SMALLEST_SHARE = 1e-3
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
): OperatingPoint | NoConvergence {
  const linear = assembleLinear(circuit, state)
  const system = circuit.linear ? linear : emptySystem(circuit)
  const pivot = new Float64Array(circuit.nodeOf.length)
  const flows = circuit.borders.length
  let x: Float64Array = initial(circuit, start)
  let flow: Float64Array = new Float64Array(flows)
  let [base, baseFlow] = [x, flow]
  let merit = Number.POSITIVE_INFINITY
  let worst = 0
  let share = 0
  for (let iteration = 1; iteration <= most; iteration += 1) {
    if (!circuit.linear) {
      const balance = balanceAt(circuit, state, x, flow, linear)
      if (share > SMALLEST_SHARE && isWorse(balance, merit, share)) {
        share /= 2
        x = between(base, x, 0.5)
        flow = between(baseFlow, flow, 0.5)
        continue
      }
      merit = balance.sum
      worst = balance.worst
      system.w.set(linear.w)
      system.excess.set(linear.excess)
      system.rhs.set(linear.rhs)
      addCurved(circuit, state, x, system)
    }
    eliminate(circuit.pattern, system.w, system.excess, pivot)
    const jacobian = bordered(circuit, system.w, pivot)
    const next = Float64Array.from(x)
    const nextFlow = new Float64Array(flows)
    solveBordered(circuit, jacobian, system.rhs, next, nextFlow)
    const change = largestChange(circuit, x, next)
    if (!Number.isFinite(change)) return { node: unheld(circuit, pivot, worst), residual: merit, iterations: iteration }
    if (circuit.linear || change <= STEP_TOLERANCE) return { across: next, borderFlow: nextFlow, jacobian, iterations: iteration }
    const useful = usefulShare(circuit, state, x, next, merit)
    // No balance guides a blind step, nor the first one where sources float: that one brings them to their values.
    const unguided = useful.blind || (iteration === 1 && flows > 0)
    ;[base, baseFlow, share] = [x, flow, unguided ? 0 : useful.share]
    ;[x, flow] = [between(x, next, useful.share), between(flow, nextFlow, useful.share)]
  }
  return { node: circuit.names[worst], residual: merit, iterations: most }
}

function initial(circuit: Circuit, start?: Float64Array) {
  const x = Float64Array.from(start ?? circuit.rest)
  for (const { node } of circuit.held) x[node] = circuit.heldValue[node]
  x[0] = 0
  return x
}

const isWorse = ({ sum, noise }: Balance, merit: number, share: number): boolean =>
  !(sum <= merit * (1 - 1e-4 * share) || sum <= SMALL_BALANCE + noise)

const between = (from: Float64Array, to: Float64Array, share: number) =>
  share === 1 ? to : to.map((value, i) => from[i] + share * (value - from[i]))

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
