/** Words that carry no sense of their own. */
const EMPTY = new Set(
  'a an and are as at be by for from in is it its itself of on one or than that the to too what with'.split(' '),
)

/** Words of a text, lower case, without the endings -s and -ly, each once. */
function words(text: string): string[] {
  const all = text.toLowerCase().match(/[a-z0-9+]+/g) ?? []
  return [
    ...new Set(all.filter((word) => !EMPTY.has(word)).map((word) => (word.length > 3 ? word.replace(/(ly|s)$/, '') : word))),
  ]
}

/** How rare a word is among the meanings of a list: common words tell nothing apart. */
function rarity(list: readonly string[][], word: string): number {
  return Math.log((1 + list.length) / (1 + list.filter((meaning) => meaning.includes(word)).length))
}

/** Cosine of two texts whose words weigh by their rarity (tf-idf, general text). */
function likeness(a: readonly string[], b: readonly string[], weigh: (word: string) => number): number {
  const norm = (text: readonly string[]) => Math.hypot(...text.map(weigh))
  const shared = a.filter((word) => b.includes(word)).reduce((sum, word) => sum + weigh(word) ** 2, 0)
  return shared === 0 ? 0 : shared / (norm(a) * norm(b))
}

/** From this likeness on two entries differ in a word or two only, as left and right do. */
const TWINS = 0.5

/** Between twins this much more likeness decides; with less the text has neither of the words that tell them apart. */
const SURELY = 1.05

/** A text that is this like another entry, and so much more like it than like the one asked for, means that other one. */
const LIKE = 0.6
const MORE = 1.5

/**
 * Whether a text in someone else's wording means the entry of a list: `same` where it is more like that entry than like any
 * other; `other`
 * where it is more like a twin of it (a swapped sense, "low" for "high") or clearly like another entry; `unclear` where the
 * wordings are
 * too far apart to tell.
 */
export function sameSense(text: string, entry: string, list: readonly string[]): 'same' | 'other' | 'unclear' {
  const split = list.map(words)
  const weigh = (word: string) => rarity(split, word)
  const [asked, meant] = [words(text), words(entry)]
  const own = likeness(asked, meant, weigh)
  const others = list.filter((other) => other !== entry).map(words)
  const nearest = others.map((other) => ({ other, like: likeness(asked, other, weigh) })).sort((a, b) => b.like - a.like)[0]
  if (own > 0 && (!nearest || own > nearest.like)) return 'same'
  if (!nearest || nearest.like === 0) return 'unclear'
  if (likeness(meant, nearest.other, weigh) >= TWINS && nearest.like > SURELY * own) return 'other'
  return nearest.like >= LIKE && nearest.like > MORE * own ? 'other' : 'unclear'
}
