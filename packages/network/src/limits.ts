import { activeLaw } from './balance.js'
import type { Branch, Circuit } from './circuit.js'
import { LAMINAR_RATIO, reliefHair } from './laws.js'
import type { Law } from './types.js'

/** Where just inside its band a valve is looked at first, coming from full open and from shut. */
const NEARLY_OPEN = 0.98
const NEARLY_SHUT = 0.02

const moves = ({ law }: Law): boolean => law === 'regulator' || law === 'check' || law === 'relief'

/** Just short of equal pressures, where an orifice is at its steepest: half way into its laminar part. */
const NEARLY_EQUAL = (1 + LAMINAR_RATIO) / 2

/** The branches that go from shut to open, and there from flat to flat, within a band of pressure. */
export const bandedBranches = (branches: readonly Branch[]): Branch[] =>
  branches.filter(({ law, off }) => moves(law) || moves(off))

/** Those and the orifices: what a step of Newton's method must not leap over. */
export const limitedBranches = (branches: readonly Branch[]): Branch[] =>
  branches.filter(({ law, off }) => [law, off].some((one) => moves(one) || one.law === 'orifice'))

/** How far open a valve is: 0 or less is shut, 1 or more flat again. */
function opening(law: Law, xa: number, xb: number): number {
  if (law.law === 'regulator') return (law.set - xb) / law.band
  if (law.law === 'relief') return (xa - xb - law.set) / reliefHair(law)
  return (xa - xb) / ((1 - LAMINAR_RATIO) * Math.max(xa, xb))
}

/** Balance, against ordinary flows, below which a shut valve is taken to be drawn by nothing but insulation. */
const NEARLY_BALANCED = 1e-6

/**
 * Share of a step of Newton's method up to where its slopes still say something. A valve that moves by itself is flat when open
 * (choked) and when shut, so a step across its whole band was taken by slopes that know nothing of it: it stops just inside.
 * `blind` when insulation alone draws it open: the balance is as good as met already, and is no guide either.
 */
export function usefulShare(circuit: Circuit, state: Uint8Array, x: Float64Array, next: Float64Array, balance: number) {
  let share = 1
  let blind = false
  for (const branch of circuit.limited) {
    const law = activeLaw(branch, state)
    if (law.law === 'orifice') {
      share = Math.min(share, shareToEqual(law, x[branch.a], x[branch.b], next[branch.a], next[branch.b]))
      continue
    }
    if (!moves(law)) continue
    const from = opening(law, x[branch.a], x[branch.b])
    const to = opening(law, next[branch.a], next[branch.b])
    const opens = from < 0 && to > 1
    const shuts = from > 1 && to < 0 && law.law === 'regulator'
    if (!opens && !shuts) continue
    share = Math.min(share, ((opens ? NEARLY_SHUT : NEARLY_OPEN) - from) / (to - from))
    blind ||= opens && balance < NEARLY_BALANCED
  }
  return { share, blind }
}

/**
 * Share of a step up to which an orifice does not turn from choked one way to choked the other: there its outlet has no slope at all, and
 * a closed end beyond it would never find back. It stops just short of equal pressures.
 */
function shareToEqual({ b }: Extract<Law, { law: 'orifice' }>, xa: number, xb: number, ya: number, yb: number): number {
  const [up, down, newUp, newDown] = xa > xb ? [xa, xb, ya, yb] : [xb, xa, yb, ya]
  if (newUp > b * newDown || !(up > down)) return 1
  const share = (NEARLY_EQUAL * up - down) / (NEARLY_EQUAL * (up - newUp) + newDown - down)
  return share > 0 && share < 1 ? share : 1
}
