/** When a logged contact really changed: long runs count, bounce and glitches do not. */

/** Between two samples a contact left its first state (`trip`) or came back to it (`reset`); times [s]. */
export interface ContactEvent {
  readonly kind: 'trip' | 'reset'
  readonly after: number
  readonly before: number
}

interface Run {
  readonly closed: boolean
  readonly first: number
  readonly last: number
}

/**
 * Events of a contact's log. Runs of one state that last at least `minStable` from their first to their last sample are
 * stable; between two successive stable runs of different state lies one event, after the last sample of the old run and
 * before the next sample.
 * @param times rising [s]   @param closed the contact at each   @param minStable [s]
 * @returns the events in order of time   Checked in contact-events.test.ts.
 */
export function contactEvents(times: readonly number[], closed: readonly boolean[], minStable: number): ContactEvent[] {
  const stable = runsOf(closed).filter(({ first, last }) => times[last] - times[first] >= minStable)
  return stable.slice(1).flatMap((run, i) => {
    const old = stable[i]
    if (old.closed === run.closed) return []
    const kind = old.closed === stable[0].closed ? ('trip' as const) : ('reset' as const)
    return [{ kind, after: times[old.last], before: times[old.last + 1] }]
  })
}

function runsOf(closed: readonly boolean[]): Run[] {
  const starts = closed.flatMap((state, i) => (i === 0 || state !== closed[i - 1] ? [i] : []))
  return starts.map((first, i) => ({ closed: closed[first], first, last: (starts[i + 1] ?? closed.length) - 1 }))
}
