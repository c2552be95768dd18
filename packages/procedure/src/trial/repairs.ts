import { type Bench, type RepairBelief, repairsMade, risks, type Standing } from '@halfsplit/diagnosis'
import { repairOf } from '../virtual-machine.js'

/** Repairs after which a technician gives up, or his customer does. */
export const MOST_REPAIRS = 10

/** What the fault behind a repair has blown by now, as the bench computes it: it is replaced along with the repair. */
export function followedBy(bench: Bench, standing: Standing, repair: string): string[] {
  const cell = likeliestCell(standing, repair)
  if (cell === undefined) return []
  const { faults } = standing.sized[cell]
  const own = new Set(faults.map(({ fault }) => fault.part.name))
  const used = [
    ...(standing.complaint?.shows ?? []).map(({ state }) => state),
    ...standing.groups.map(({ setup }) => setup.state),
  ]
  const blown = [...new Set(used)].flatMap((state) => bench.machine.arrivePlain(faults, state).blown)
  return [...new Set(blown.filter(({ part }) => !own.has(part)).map((fault) => repairOf(bench.system, fault)))]
}

function likeliestCell({ hypotheses, sized, belief }: Standing, repair: string): number | undefined {
  let best: number | undefined
  sized.forEach(({ hypothesis }, cell) => {
    if (!hypotheses[hypothesis].faults.some((fault) => fault.repair === repair)) return
    if (best === undefined || belief.cellProbability[cell] > belief.cellProbability[best]) best = cell
  })
  return best
}

/** Repairs still needed after those made, likeliest first: what each hypothesis has left, given all that was read since. */
export function stillNeeded(bench: Bench, standing: Standing): RepairBelief[] {
  if (repairsMade(standing).length === 0) return [...standing.repairs]
  const needed = new Map<string, RepairBelief>()
  for (const { kind, faults, probability } of risks(bench, standing)) {
    if (kind === 'build error' || kind === 'neighbour disturbed') continue
    const id = faults.map(({ fault }) => fault.id).join(' & ')
    for (const repair of new Set(faults.map(({ fault }) => fault.repair))) {
      const entry = needed.get(repair) ?? { repair, probability: 0, hypotheses: [] }
      needed.set(repair, {
        ...entry,
        probability: entry.probability + probability,
        hypotheses: [...entry.hypotheses, { id, probability }],
      })
    }
  }
  return [...needed.values()].sort((p, q) => q.probability - p.probability || (p.repair < q.repair ? -1 : 1))
}
