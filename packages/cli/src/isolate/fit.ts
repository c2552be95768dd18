import { type Misfit, type TestProbe, bandsOf, type Fit } from '@halfsplit/diagnosis'
import { listed } from '../words/layout.js'
import { oddsWords } from '../words/odds.js'
import { bandWords } from '../words/values.js'
import type { Case } from './case.js'
import { BAND_SHARE } from './expected.js'
import { recordWords, takenAt } from './record-words.js'

/** Records this likely to be slips are named as not fitting. */
const ODD = 0.3
const MOST_NAMED = 3
const LEAST_WORD = 0.1

/** What does not fit, and what to do about it; nothing where all fits. */
export function fitLines(open: Case): string[] {
  const fit = open.fit()
  if (fit.verdict === 'fits') return []
  const odd = oddRecords(fit)
  const what = odd.map((one) => `Does not fit: ${recordWords(open, one.place)}${expectedWords(open, one)}.`)
  if (fit.verdict === 'take again')
    return [...what, `  ${oddsWords(odd[0].slip)} that it is a slip of leads, eye or pen. Take this one again.`]
  const which =
    odd.length > 1
      ? `${listed(odd.map(({ place }) => recordWords(open, place).split('.')[0]))} do not fit together`
      : 'What was read fits no fault of this drawing well'
  return [
    ...what,
    `  ${which}: ${oddsWords(open.standing.notDescribed)} that it is something this description does not contain.`,
    '  Look for what was added or changed on the machine, or take the readings above again.',
  ]
}

/** The records that do not fit, worst first; at least one. */
export function oddRecords({ records }: Fit): Misfit[] {
  const odd = records.filter(({ slip, again }) => slip >= ODD && again !== 'settled')
  return (odd.length > 0 ? odd : records).slice(0, odd.length > 0 ? MOST_NAMED : 1)
}

/** What the others expect there: "; the others expect 12.4 to 12.6 V". */
function expectedWords(open: Case, { place, expected }: Misfit): string {
  const probe = takenAt(open, place)?.probe
  const words = probe && expectedAt(probe, expected)
  return words ? `; the others expect ${words}` : ''
}

function expectedAt(probe: TestProbe, expected: Misfit['expected']): string {
  if (probe.kind !== 'look')
    return listed(
      bandsOf(expected, BAND_SHARE).map((band) => bandWords(probe.meter, band)),
      'or',
    )
  const likely = probe.look.words.filter((_, i) => (expected.words[i] ?? 0) >= LEAST_WORD)
  return listed(likely, 'or')
}
