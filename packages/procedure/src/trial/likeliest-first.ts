import { complaintChecks } from './complaint-checks.js'
import type { End } from './outcome.js'
import { followedBy, MOST_REPAIRS } from './repairs.js'
import type { Workplace } from './workplace.js'

/** Likeliest part first: without a test, the repair most often needed for this complaint is made and proved, then the next. */
export function likeliestFirst(place: Workplace): End {
  const standing = place.bench.standing([], place.given.heard)
  const checks = complaintChecks(place.bench, place.given)
  for (const { repair } of standing.repairs.slice(0, MOST_REPAIRS)) {
    place.repair([repair, ...followedBy(place.bench, standing, repair)])
    if (place.proves(checks)) return 'proved'
  }
  return 'given up'
}
