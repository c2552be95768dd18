import { type Dimension, formatValue } from '@halfsplit/core'
import { jobSetup, probeKey, type Setup, type TestProbe } from '@halfsplit/diagnosis'
import type { Entry, Shown as JobShown } from '@halfsplit/job'
import type { Shown } from './virtual-meter.js'

/** What was shown at a probe, as an entry of a job's log. */
export function readingEntry(setup: Setup, probe: Exclude<TestProbe, { kind: 'look' }>, shown: Shown): Entry {
  const entry = { setup: jobSetup(setup), probe: probeKey(probe), meter: probe.meter.name }
  return { kind: 'reading', ...entry, shown: jobShown(shown, usualUnit(probe.meter.quantity)) }
}

/** What was seen, as an entry of a job's log. */
export const lookEntry = (setup: Setup, { part, look }: Extract<TestProbe, { kind: 'look' }>, word: string): Entry => ({
  kind: 'look',
  setup: jobSetup(setup),
  observable: `${part.name}.${look.name}`,
  word,
})

/** Unit of a display that shows no number. */
const usualUnit = (dimension: Dimension): string => formatValue(0, dimension, { resolution: 1 }).split(' ')[1]

/** The display is kept as it stood: its number, its places and its unit. */
function jobShown(shown: Shown, unit: string): JobShown {
  if (shown === 'unsteady') return { kind: 'unsteady', unit }
  if (shown.over) return { kind: 'over-range', side: 'high', unit }
  const [number, own] = shown.text.split(' ')
  return { kind: 'value', value: Number(number), unit: own, decimals: number.split('.')[1]?.length ?? 0 }
}
