/** Probability at each step of the ladder, with its words. No false digits: the nearest step in log odds. */
const LADDER: readonly [number, string][] = [
  [19 / 20, '19 in 20'],
  [9 / 10, '9 in 10'],
  [5 / 6, '5 in 6'],
  [3 / 4, '3 in 4'],
  [2 / 3, '2 in 3'],
  [1 / 2, 'even'],
  ...[3, 4, 5, 6, 7, 10, 16, 20, 30, 60, 100].map((n): [number, string] => [1 / n, `1 in ${n}`]),
]
const logOdds = (p: number): number => Math.log(p / (1 - p))

/** Beyond the ends of the ladder by more than one of its own steps. */
const BEYOND_TOP = 0.975
const BELOW_FOOT = 1 / 140

/** Odds in words: "19 in 20", "even", "1 in 3"; "over 19 in 20" and "under 1 in 100" beyond the ladder. */
export function oddsWords(probability: number): string {
  if (!(probability >= BELOW_FOOT)) return 'under 1 in 100'
  if (probability > BEYOND_TOP) return 'over 19 in 20'
  const at = logOdds(probability)
  let [best] = LADDER
  for (const step of LADDER) if (Math.abs(logOdds(step[0]) - at) < Math.abs(logOdds(best[0]) - at)) best = step
  return best[1]
}

/** A share of a whole in words, for what a test settles: "about half". */
export function shareWords(share: number): string {
  const steps: readonly [number, string][] = [
    [0.92, 'nearly all'],
    [0.75, 'about three quarters'],
    [0.66, 'about two thirds'],
    [0.5, 'about half'],
    [0.33, 'about a third'],
    [0.25, 'about a quarter'],
    [0.15, 'about a sixth'],
    [0.1, 'about a tenth'],
    [0.04, 'a little'],
    [0, 'next to nothing'],
  ]
  return steps.reduce((best, step) => (Math.abs(step[0] - share) < Math.abs(best[0] - share) ? step : best))[1]
}
