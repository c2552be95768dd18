import { type Circuit, compile } from '../circuit.js'
import { NetworkError } from '../errors.js'
import { settle, type Unsettled } from '../settle.js'
import { stateArray } from '../signals.js'
import type { DiscreteState, Network } from '../types.js'
import { Editor } from './edits.js'
import { faulted, type NetworkFault } from './fault.js'
import { Follower } from './follow.js'
import { MOST_ADDED, PathSolver } from './solver.js'

/** How a network under one fault comes to rest. */
export type Outcome =
  | {
      status: 'settled'
      /** Across quantities by node, "0" first, then as the network lists them. Overwritten by the next fault: copy what must last. */
      across: Float64Array
      /** On or off by signal, in the network's order. Overwritten like `across`. */
      bits: Uint8Array
    }
  | Unsettled
  /** The faulted network contradicts itself (a short across an ideal source): what `settle` throws. */
  | { status: 'refused'; parts: string[]; error: NetworkError }

export interface CampaignOptions {
  /** What the machine remembers from the state before; all off when left out. */
  previous?: DiscreteState
  /** Signals forced for all faults. */
  forced?: DiscreteState
}

/** How many faults ended how, and how many took which way. */
export interface CampaignCounts {
  settled: number
  chatters: number
  cycles: number
  race: number
  'no convergence': number
  refused: number
  /** Followed by eliminating the paths that change; by a full `settle`. */
  byPath: number
  bySettle: number
}

/** Sets of signal states whose eliminations are kept: those the sound network passes through on its way to rest. */
const MOST_BASES = 8

/**
 * Many faults of one network, each as `settle` would find it, at the price of the ways from what changes to the root of the
 * elimination tree and one substitution. What can't be followed so (another ideal source, no convergence in a few steps, a
 * threshold at its very level) goes through `settle` and is counted.
 * @throws NetworkError where the sound network makes no sense
 */
export class Campaign {
  readonly circuit: Circuit
  readonly counts: CampaignCounts = {
    settled: 0,
    chatters: 0,
    cycles: 0,
    race: 0,
    'no convergence': 0,
    refused: 0,
    byPath: 0,
    bySettle: 0,
  }
  private readonly editor: Editor
  private readonly solver: PathSolver | undefined
  private readonly follower: Follower | undefined

  constructor(
    network: Network | Circuit,
    private readonly options: CampaignOptions = {},
  ) {
    const circuit = 'branches' in network ? network : compile(network)
    this.circuit = circuit
    this.editor = new Editor(circuit)
    const { previous = {}, forced = {} } = options
    const visited = new Map<string, Float64Array>()
    settle(circuit, { previous, forced, visit: (states, across) => void visited.set(states, Float64Array.from(across)) })
    if (circuit.borders.length > 0) return
    const solver = new PathSolver(circuit)
    const bases = [...visited].slice(0, MOST_BASES)
    const kept = bases.filter(([states, across]) => solver.addBase(Uint8Array.from(states, Number), across))
    if (kept.length === 0) return
    const first = stateArray(circuit.signals, { ...previous, ...forced })
    const fixed = new Set(Object.keys(forced).map((id) => circuit.signalIndex.get(id) as number))
    this.solver = solver
    this.follower = new Follower(circuit, solver, first, fixed)
  }

  /** The network under one fault. @throws RangeError for a position the network does not have */
  solve(fault: NetworkFault): Outcome {
    const outcome = this.byPath(fault)
    if (outcome) this.counts.byPath += 1
    else this.counts.bySettle += 1
    const sure = outcome ?? this.bySettle(fault)
    this.counts[sure.status] += 1
    return sure
  }

  private byPath(fault: NetworkFault): Outcome | undefined {
    const { solver, follower } = this
    if (!solver || !follower) return undefined
    const edits = this.editor.edits(fault)
    if (!edits || edits.added.length > MOST_ADDED) return undefined
    solver.begin(edits)
    const end = follower.run(edits)
    if (end.status === 'lost') return undefined
    return end.status === 'settled' ? { status: 'settled', across: solver.across, bits: follower.bits } : end
  }

  private bySettle(fault: NetworkFault): Outcome {
    const { previous, forced } = this.options
    try {
      const settled = settle(faulted(this.circuit.network, fault), { previous, forced })
      return settled.status === 'settled' ? { status: 'settled', across: settled.point.across, bits: settled.bits } : settled
    } catch (error) {
      if (!(error instanceof NetworkError)) throw error
      return { status: 'refused', parts: error.elements, error }
    }
  }
}

/**
 * Solves every fault and hands each outcome to `visit` in turn, in the order given.
 * Checked in campaign.test.ts, campaign.prop.test.ts and campaign.ref.test.ts.
 */
export function campaign(
  network: Network | Circuit,
  faults: Iterable<NetworkFault>,
  options: CampaignOptions & { visit?: (outcome: Outcome, fault: NetworkFault, index: number) => void } = {},
): CampaignCounts {
  const run = new Campaign(network, options)
  let index = 0
  for (const fault of faults) {
    const outcome = run.solve(fault)
    options.visit?.(outcome, fault, index)
    index += 1
  }
  return run.counts
}
