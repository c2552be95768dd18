import { solve as backSolve } from '../elimination.js'
import type { Domain } from '../types.js'
import { type Frame, type Stand, copyFrame, emptyStand, overwrite } from './frame.js'
import type { Solver, Stuck } from './solve.js'
import { A, B, C, EMBEDDED, GAMMA, STAGES } from './tableau.js'

/**
 * What an instrument of the shop resolves: the unit in which errors, and whether a machine stands where it stood, are told. 1 mV, 1 kPa
 * of air, 1 bar of oil, 1 mK (logged, not read off), 10 rpm; 1 mA in an inductance.
 */
export const RESOLUTION: Record<Domain, number> = { electrical: 1e-3, gas: 1e3, liquid: 1e5, thermal: 1e-3, rotation: 1 }
export const CURRENT_RESOLUTION = 1e-3
/** Share of a quantity's own size below which no error is asked for: rounding makes the rest. */
const ROUNDING = 1e-9

/** A step tried: frames at its stages (the first is where it began, the last where it ends), and its error against the tolerance of 1. */
export interface Tried {
  frames: Frame[]
  stand: Stand
  error: number
}

/** Tries steps; the frames and stands it hands out are its own and are overwritten by the next try. */
export class Stepper {
  private readonly frames: Frame[]
  private readonly rates: Float64Array[][]
  private readonly left: Float64Array[]
  private readonly stage: Stand
  private readonly all: number[]
  private live: number[]

  constructor(
    private readonly solver: Solver,
    first: Frame,
    private readonly tolerance: number,
  ) {
    const { islands } = solver.sea
    this.frames = C.map(() => copyFrame(first))
    this.stage = emptyStand(islands)
    this.left = islands.map((island) => new Float64Array(island.stores.length))
    this.rates = C.map(() => islands.map((island) => new Float64Array(island.stores.length)))
    this.all = [...islands.keys()].filter((n) => islands[n].live)
    this.live = this.all
  }

  /** From now on leaves out what sleeps. */
  leaveOut(asleep: readonly boolean[]): void {
    this.live = this.all.filter((n) => !asleep[n])
  }

  /** Steps `h` seconds from a stand whose whole is seen in `from`. `time`: since the leg began. */
  try(from: Frame, stand: Stand, bits: Uint8Array, time: number, h: number): Tried | Stuck {
    const { frames, live, solver } = this
    const share = h * GAMMA
    overwrite(frames[0], from)
    for (const n of live) this.rates[0][n].set(stand.rate[n])
    for (let i = 1; i < STAGES; i += 1) {
      overwrite(frames[i], frames[i - 1])
      solver.drift(frames[i], time + C[i] * h)
      for (const n of live) {
        const left = this.left[n]
        const held = stand.held[n]
        for (let s = 0; s < left.length; s += 1) {
          let sum = 0
          for (let j = 0; j < i; j += 1) sum += A[i][j] * this.rates[j][n][s]
          left[s] = held[s] + h * sum
        }
        const stores = { left, share, held: this.stage.held[n], rate: this.rates[i][n] }
        const stuck = solver.solve(n, frames[i], bits, time + C[i] * h, stores)
        if (stuck) return stuck
      }
    }
    for (const n of live) this.stage.rate[n].set(this.rates[STAGES - 1][n])
    return { frames, stand: this.stage, error: this.error(h) }
  }

  /**
   * Largest error of the step against the tolerance. What the embedded result says of the stores is put through
   * the equations once, so that a store that is at rest beside a slow one does not rule the step.
   */
  private error(h: number): number {
    const { solver } = this
    let worst = 0
    for (const n of this.live) {
      const { circuit, stores, global } = solver.sea.islands[n]
      const jacobian = solver.jacobians[n]
      if (stores.length === 0 || !jacobian) continue
      const flows = new Float64Array(circuit.nodeOf.length)
      stores.forEach(({ element, a, b, companion }, s) => {
        let sum = 0
        for (let j = 0; j < STAGES; j += 1) sum += (B[j] - EMBEDDED[j]) * this.rates[j][n][s]
        let flow = sum / GAMMA
        if (element.type === 'inertance') {
          const current = this.stage.held[n][s]
          const least = this.tolerance * CURRENT_RESOLUTION + ROUNDING * Math.abs(current)
          worst = Math.max(worst, Math.abs(h * sum) / least)
          flow = companion.law === 'linear' ? (companion.g * element.inertance * sum) / GAMMA : 0
        }
        if (circuit.unknown[a] >= 0) flows[circuit.unknown[a]] += flow
        if (circuit.unknown[b] >= 0) flows[circuit.unknown[b]] -= flow
      })
      backSolve(circuit.pattern, jacobian.w, jacobian.pivot, flows)
      const { whole } = solver.sea
      const { across } = this.frames[STAGES - 1]
      for (const { a, b } of stores) {
        for (const node of [a, b]) {
          const u = circuit.unknown[node]
          if (u < 0) continue
          const i = global[node]
          const least = this.tolerance * RESOLUTION[whole.domains[i]] + ROUNDING * Math.abs(across[i])
          worst = Math.max(worst, Math.abs(flows[u]) / least)
        }
      }
    }
    return worst
  }
}
