import type { Standing } from '../view.js'

/** Where a record stands in the evidence of a standing. */
export interface Place {
  group: number
  record: number
}

/** Groups of the evidence that come from the complaint: they stand first. */
export const complaintGroups = ({ evidence, groups }: Pick<Standing, 'evidence' | 'groups'>): number =>
  evidence.length - groups.length

/** Places of the readings and looks of the log, the complaint left out. */
export function readingPlaces(standing: Pick<Standing, 'evidence' | 'groups'>): Place[] {
  const first = complaintGroups(standing)
  return standing.evidence.flatMap(({ records }, group) => (group < first ? [] : records.map((_, record) => ({ group, record }))))
}
