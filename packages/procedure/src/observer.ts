import { ASSUMPTIONS, type Random } from '@halfsplit/core'
import type { Look } from '@halfsplit/kinds'

/** Between two words an observer's own level lies about the middle, one sd a quarter of the gap. An assumption. */
const WAVERING = 0.25

/** The word an observer says for a quantity: his levels waver, and now and then he says another word altogether. */
export function say(look: Look, quantity: number, random: Random, slip: number = ASSUMPTIONS.lookError): string {
  const wavering = random.normal()
  let word = 0
  for (const [low, high] of look.levels) {
    if (quantity < (low + high) / 2 + WAVERING * (high - low) * wavering) break
    word += 1
  }
  if (random.uniform() >= slip || look.words.length < 2) return look.words[word]
  return look.words[(word + 1 + random.integer(look.words.length - 1)) % look.words.length]
}
