import type { EvidenceRecord } from '@halfsplit/inference'
import { contributions } from '../explain.js'
import type { Standing } from '../view.js'
import { type Clearing, clearing } from './clearing.js'
import { complaintGroups, type Place, readingPlaces } from './place.js'
import { Subsets } from './subsets.js'

/** What one record says of one suspect. */
export interface Speech {
  /** Undefined for the complaint. */
  place?: Place
  record: EvidenceRecord
  /** Change of the suspect's odds, all other records given: above zero for, below against [bit]. */
  bits: number
  /** The verdict hangs on it. */
  decisive: boolean
}

/** The case for and against one suspect. */
export interface SuspectCase {
  repair: string
  probability: number
  /** Strongest first. */
  for: readonly Speech[]
  against: readonly Speech[]
  clearing: Clearing
}

/** A record that moves the odds by less says nothing [bit]. */
const LEAST_BITS = 1 / 3
const BITS_PER_DECIBAN = Math.log2(10) / 10

/** Decibans as bits: one bit doubles the odds. */
export const bitsOf = (decibans: number): number => decibans * BITS_PER_DECIBAN

/**
 * The cases of several suspects, worked out together: what readings they share is weighed once.
 * @param subsets of this standing, to be used again for the next question
 */
export function suspectCases(standing: Standing, repairs: readonly string[], subsets = new Subsets(standing)): SuspectCase[] {
  const said = speechesOf(standing)
  const places = readingPlaces(standing)
  return repairs.map((repair) => {
    const speeches = said.map(({ decibans, ...one }) => ({ ...one, bits: bitsOf(decibans.get(repair) ?? 0) }))
    return {
      repair,
      probability: standing.repairs.find((one) => one.repair === repair)?.probability ?? 0,
      for: speeches.filter(({ bits }) => bits >= LEAST_BITS).sort((p, q) => q.bits - p.bits),
      against: speeches.filter(({ bits }) => bits <= -LEAST_BITS).sort((p, q) => p.bits - q.bits),
      clearing: clearing(subsets, places, repair),
    }
  })
}

/** Contributions with the places of their records: contributions come group by group. */
function speechesOf(standing: Standing) {
  const first = complaintGroups(standing)
  const places = standing.evidence.flatMap(({ records }, group) => records.map((_, record) => ({ group, record })))
  return contributions(standing).map(({ record, decibans, decisive }, i) => ({
    ...(places[i].group < first ? {} : { place: places[i] }),
    record,
    decibans,
    decisive,
  }))
}
