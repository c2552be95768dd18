import { normalCdf } from '@halfsplit/core'
import { belief, mix, type Predictive, predictive } from '@halfsplit/inference'
import { bandsOf } from '../bands.js'
import type { Bench } from '../bench.js'
import type { SizedFault } from '../faults.js'
import type { Setup } from '../setup.js'
import type { TestProbe } from '../probe.js'

/** What a sound machine shows at a test: a word, or the central 99 % of a reading [SI]. */
export type Good = { word: number } | { low: number; high: number }

const WITHIN = 0.99
/** Nothing known beyond the description. */
const NOTHING_READ = belief([{ hypothesis: 0, weight: 1 }], [1], [], () => []).states[0]

/** What a machine with these faults would show, everything else as described. */
function shown({ store }: Bench, faults: readonly SizedFault[], setup: Setup, probe: TestProbe): Predictive {
  const branches = store.get(faults, setup, [probe])
  return branches.length > 0 ? predictive(NOTHING_READ, branches)[0] : mix([])
}

/** What a sound machine, or one with these faults, shows; undefined where it shows nothing sure. */
export function goodAt(bench: Bench, setup: Setup, probe: TestProbe, faults: readonly SizedFault[] = []): Good | undefined {
  const sound = shown(bench, faults, setup, probe)
  if (probe.kind === 'look') {
    const word = sound.words.indexOf(Math.max(...sound.words))
    return word >= 0 ? { word } : undefined
  }
  const [band, second] = bandsOf(sound, WITHIN)
  return band && !second ? { low: band.low, high: band.high } : undefined
}

/** Chance that a fault, while it is there, makes the test show something a sound machine would not. */
export function exposedBy(bench: Bench, faults: readonly SizedFault[], setup: Setup, probe: TestProbe, good: Good): number {
  const bad = outside(shown(bench, faults, setup, probe), good)
  const alarm = outside(shown(bench, [], setup, probe), good)
  return Math.max(0, Math.min(1, (bad - alarm) / Math.max(1 - alarm, 1e-9)))
}

/** Probability that what is shown is not as good. */
function outside({ normals, uniforms, words }: Predictive, good: Good): number {
  if ('word' in good) return 1 - (words[good.word] ?? 0)
  const { low, high } = good
  const within =
    normals.reduce((sum, { weight, mean, sd }) => sum + weight * between(low, high, mean, sd), 0) +
    uniforms.reduce(
      (sum, u) => sum + u.weight * (Math.max(0, Math.min(high, u.high) - Math.max(low, u.low)) / (u.high - u.low)),
      0,
    )
  return 1 - within
}

const between = (low: number, high: number, mean: number, sd: number): number =>
  sd > 0 ? normalCdf((high - mean) / sd) - normalCdf((low - mean) / sd) : Number(mean >= low && mean <= high)
