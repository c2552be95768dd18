import type { Workspace } from './balance.js'
import type { Circuit } from './circuit.js'
import { type NoConvergence, newton, type OperatingPoint } from './newton.js'

/** Iterations granted to a start that may lie on the wrong side of a valve, and to lines that fill from empty. */
const FEW_ITERATIONS = 15
const FILLING_ITERATIONS = 45
/** Standard atmosphere [Pa]. */
const OPEN_AIR = 101325

/**
 * Operating point for one set of signal states, from the starts that serve best in turn: where the caller says, briefly where air
 * stands behind valves that move by themselves; there from empty lines, which climb to their ends where another start is long;
 * then with patience from the same place, from rest, and with all air up to the highest source.
 */
export function operatingPoint(
  circuit: Circuit,
  state: Uint8Array,
  start?: Float64Array,
  work?: Workspace,
  tolerance?: number,
): OperatingPoint | NoConvergence {
  let last: NoConvergence | undefined
  for (const { from, most } of tries(circuit, start)) {
    const point = newton(circuit, state, from(), most, work, tolerance)
    if ('across' in point) return point
    last = point
  }
  return last as NoConvergence
}

interface Try {
  from: () => Float64Array | undefined
  most?: number
}

function tries(circuit: Circuit, start: Float64Array | undefined): Try[] {
  const brief = [
    { from: () => start, most: FEW_ITERATIONS },
    { from: () => emptied(circuit, start), most: FILLING_ITERATIONS },
  ]
  return [
    ...(circuit.banded.length > 0 ? brief : []),
    { from: () => start },
    ...(start ? [{ from: () => undefined }] : []),
    { from: () => filled(circuit) },
  ]
}

/** The start with every fluid line at the pressure of open air. */
function emptied({ rest, domains }: Circuit, start?: Float64Array): Float64Array {
  return Float64Array.from(start ?? rest, (value, i) => (domains[i] === 'gas' || domains[i] === 'liquid' ? OPEN_AIR : value))
}

function filled({ domains, held, heldValue, rest }: Circuit): Float64Array {
  const highest = held.reduce((most, { node }) => (domains[node] === 'gas' ? Math.max(most, heldValue[node]) : most), 0)
  return rest.map((value, i) => (domains[i] === 'gas' ? Math.max(value, highest) : value))
}
