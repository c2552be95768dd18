import { type Circuit, compile } from '../circuit.js'
import { NetworkError } from '../errors.js'
import { settle, type Unsettled } from '../settle.js'
import { stateArray } from '../signals.js'
import type { DiscreteState, Network } from '../types.js'
import { contentHash } from './content.js'
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
  /**
   * Outcomes kept by the content of network, options and fault, as a `Map` keeps them: what stands there is not solved again. Naming the
   * content takes some 5 us a fault, so it pays for large networks and for full solves.
   */
  store?: OutcomeStore
}

export interface OutcomeStore {
  get: (key: string) => Outcome | undefined
  set: (key: string, outcome: Outcome) => unknown
}

/** How many faults ended how, and how many took which way. */
export interface CampaignCounts {
  settled: number
  chatters: number
  cycles: number
  race: number
  'no convergence': number
  refused: number
  /** Followed by eliminating the paths that change; by a full `settle`; found in the store. */
  byPath: number
  bySettle: number
  stored: number
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
    stored: 0,
  }
  private readonly name: string
  private prepared: Prepared | undefined

  constructor(
    network: Network | Circuit,
    private readonly options: CampaignOptions = {},
  ) {
    this.circuit = 'branches' in network ? network : compile(network)
    const { previous = {}, forced = {}, store } = options
    this.name = store ? contentHash([this.circuit.network, previous, forced]) : ''
  }

  /** The network under one fault. @throws RangeError for a position the network does not have */
  solve(fault: NetworkFault): Outcome {
    const { store } = this.options
    if (!store) return this.count(this.find(fault))
    const { changes, added = [], signals = [] } = fault
    const key = contentHash([this.name, changes, added, signals])
    const known = store.get(key)
    if (known) {
      this.counts.stored += 1
      return this.count(known)
    }
    const outcome = this.find(fault)
    store.set(key, kept(outcome))
    return this.count(outcome)
  }

  private count(outcome: Outcome): Outcome {
    this.counts[outcome.status] += 1
    return outcome
  }

  private find(fault: NetworkFault): Outcome {
    const outcome = this.byPath(fault)
    if (outcome) this.counts.byPath += 1
    else this.counts.bySettle += 1
    return outcome ?? this.bySettle(fault)
  }

  private byPath(fault: NetworkFault): Outcome | undefined {
    this.prepared ??= prepare(this.circuit, this.options)
    const { editor, solver, follower } = this.prepared
    if (!follower) return undefined
    const edits = editor.edits(fault)
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

/** What lasts of an outcome whose arrays the next fault writes over. */
const kept = (outcome: Outcome): Outcome =>
  outcome.status === 'settled'
    ? { ...outcome, across: Float64Array.from(outcome.across), bits: Uint8Array.from(outcome.bits) }
    : outcome

interface Prepared {
  editor: Editor
  solver: PathSolver
  /** Missing where no fault can be followed by paths. */
  follower?: Follower
}

/** Eliminates the sound circuit for the signal states it passes through on its way to rest. */
function prepare(circuit: Circuit, { previous = {}, forced = {} }: CampaignOptions): Prepared {
  const editor = new Editor(circuit)
  const solver = new PathSolver(circuit)
  const visited = new Map<string, Float64Array>()
  settle(circuit, { previous, forced, visit: (states, across) => void visited.set(states, Float64Array.from(across)) })
  const bases = [...visited]
    .slice(0, MOST_BASES)
    .filter(([bits, across]) => solver.addBase(Uint8Array.from(bits, Number), across))
  if (bases.length === 0) return { editor, solver }
  const first = stateArray(circuit.signals, { ...previous, ...forced })
  const fixed = new Set(Object.keys(forced).map((id) => circuit.signalIndex.get(id) as number))
  return { editor, solver, follower: new Follower(circuit, solver, first, fixed) }
}

/**
 * Solves every fault and hands each outcome to `visit` in turn, in the order given.
 * Checked in campaign.test.ts, campaign.prop.test.ts and campaign.exact.test.ts.
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
