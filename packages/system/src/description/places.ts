import type { Place } from '../model.js'
import { Fields, section } from './fields.js'
import type { IssueList } from './issues.js'
import { type Entry, shorten } from './tree.js'

/** Reads the places parts sit at, with the minutes it takes to get there. */
export function readPlaces(issues: IssueList, entry: Entry | undefined): Map<string, Place> {
  const places = new Map<string, Place>()
  const example = 'engine bay: { minutes: 4, remove: side cover }'
  for (const { key, keyAt, value } of section(issues, entry, example)) {
    const fields = Fields.of(issues, value, `place '${shorten(key, 30)}'`, ['about', 'minutes', 'remove'], example)
    if (places.has(key)) {
      issues.add('DUPLICATE_NAME', `the place "${shorten(key, 30)}" is given twice`, keyAt, {
        fix: 'give one of them another name',
      })
    }
    if (!fields) continue
    places.set(key, {
      name: key,
      about: fields.text('about') ?? '',
      minutes: fields.number('minutes', 0),
      remove: fields.text('remove'),
    })
  }
  return places
}
