import { expect, test } from 'vitest'
import { effectiveEntries, foundOnTheWay, type Entry, segments } from './index.js'

const look = (word: string): Entry => ({ kind: 'look', setup: { state: 'key on' }, observable: 'H1.light', word })
const undo = (entry: number): Entry => ({ kind: 'undo', entry })
const wordsOf = (entries: Entry[]) =>
  effectiveEntries({ entries }).map(({ number, entry }) => `${number} ${entry.kind === 'look' ? entry.word : entry.kind}`)

test('an undo takes back the entry it names and does not count itself', () => {
  expect(wordsOf([look('dark'), look('lit'), undo(1)])).toEqual(['2 lit'])
})

test('an undo that is taken back takes nothing back', () => {
  expect(wordsOf([look('dark'), undo(1), undo(2)])).toEqual(['1 dark'])
})

test('an entry may be taken back, restored and taken back again', () => {
  expect(wordsOf([look('dark'), undo(1), undo(2), undo(1)])).toEqual([])
})

test('actions and repairs cut the log; undone ones do not', () => {
  const entries: Entry[] = [
    look('dark'),
    { kind: 'action', do: 're-seat', target: 'X3' },
    { kind: 'could-not', test: 'ohms of K1' },
    { kind: 'repair', repair: 'replace H1', parts: ['H1'] },
    { kind: 'action', do: 'tap', target: 'K1' },
    undo(5),
    look('lit'),
  ]
  const cut = segments(effectiveEntries({ entries }).map(({ entry }) => entry))
  expect(cut.map(({ after, entries: list }) => [after?.kind ?? null, list.map(({ kind }) => kind)])).toEqual([
    [null, ['look']],
    ['action', ['could-not']],
    ['repair', ['look']],
  ])
})

test('an empty log is one empty segment', () => {
  expect(segments([])).toEqual([{ after: null, entries: [] }])
})

test('a defect met on the way is noted, can be taken back, and cuts no segment', () => {
  const seen: Entry = { kind: 'found', part: 'W4', text: 'insulation chafed, not through' }
  const read: Entry = { kind: 'look', setup: { state: 'on' }, observable: 'H1.light', word: 'dark' }
  expect(foundOnTheWay({ entries: [read, seen, read] })).toEqual([{ number: 2, entry: seen }])
  expect(foundOnTheWay({ entries: [seen, undo(1)] })).toEqual([])
  expect(segments([read, seen, read])).toEqual([{ after: null, entries: [read, read] }])
})
