import { oddsWords } from '../words/odds.js'

/** A share of machines in words: "about 1 in 4", "over 19 in 20"; "none" and "all" are meant as such. */
export function chanceWords(share: number): string {
  if (share <= 0) return 'none'
  if (share >= 1) return 'all'
  const odds = oddsWords(share)
  if (odds === 'even') return 'about 1 in 2'
  return /^(over|under)/.test(odds) ? odds : `about ${odds}`
}
