import type { Position } from '@halfsplit/core'
import type { Watched } from '../model.js'
import { watchableNames, watchedOf } from '../watched.js'
import type { Draft } from './draft.js'
import { named } from './fields.js'
import { shorten } from './tree.js'

/** What a name stands for that can be watched; one that stands for nothing is a mistake, unless its part could not be read. */
export function watchedNamed(draft: Draft, text: string, at: Position): Watched | undefined {
  const { issues } = draft
  const watched = watchedOf(draft.parts, text)
  if (watched || draft.unread.has(text.slice(0, text.lastIndexOf('.')))) return watched
  issues.add('UNKNOWN_WATCHED', `nothing to watch is called "${shorten(text, 30)}"`, at, {
    expected: 'a point or look, as in "CL1.air", "SV1.coil_a to SV1.coil_b", "into SV1.coil_a" or "H1.light"',
    received: named(text),
    nearest: issues.nearest(text, watchableNames(draft.parts.values())),
  })
  return undefined
}
