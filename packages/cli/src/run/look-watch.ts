import type { Look } from '@halfsplit/kinds'
import type { Instant } from '@halfsplit/network'
import { type Course, conditionsAt, labelView, type Part, readLook, type System, type Watched, wordOf } from '@halfsplit/system'

/** A look that comes to read another word. */
export interface LookChange {
  time: number
  part: Part
  look: Look
  /** Number of the word it reads from now on. */
  word: number
}

/** What changes within this [s] does so at once, and only where it ends is told. */
export const JUMP = 1e-6

/** A look that takes longer than this [min] is no event: one listens for ten minutes to hear whether a compressor rests. */
const AT_A_GLANCE = 1
/** A look of more words than this is a scale: that a needle gets from one stretch to the next is no event. */
const MOST_WORDS = 3

/** Follows the looks of a machine: those an operator has at a glance, and those that are watched. */
export class LookWatch {
  private readonly looks: { part: Part; look: Look }[]

  constructor(
    private readonly system: System,
    private readonly course: Course,
    watch: readonly Watched[],
  ) {
    const watched = (part: Part, look: Look) =>
      watch.some((one) => one.watch === 'look' && one.part === part.name && one.look === look)
    this.looks = [...system.parts.values()].flatMap((part) =>
      (part.kind.looks ?? []).filter((look) => watched(part, look) || this.isEvent(part, look)).map((look) => ({ part, look })),
    )
  }

  private isEvent(part: Part, look: Look): boolean {
    const seen = look.by === 'operator' && look.minutes <= AT_A_GLANCE && look.words.length <= MOST_WORDS
    return seen && !this.isTold(part, look)
  }

  /** A look at a signal that has words of its own would tell the same again. */
  private isTold(part: Part, look: Look): boolean {
    const view = labelView(part, this.course.start.settings)
    const quantity = look.quantity(view)
    return 'signal' in quantity && part.kind.says?.(view)[quantity.signal] !== undefined
  }

  /** What each look reads at a sample. */
  wordsAt(seen: Instant): LookChange[] {
    const values = this.values(seen)
    return this.looks.map(({ part, look }, n) => ({ time: seen.time, part, look, word: wordOf(look, values[n]) }))
  }

  /** Stretches between samples in which a look comes to read another word. */
  restless(samples: readonly Instant[]): (readonly [number, number])[] {
    const words = samples.map((seen) => this.values(seen).map((value, n) => wordOf(this.looks[n].look, value)))
    return samples
      .slice(1)
      .map((seen, i) => [samples[i].time, seen.time] as const)
      .filter((_, i) => words[i].some((word, n) => word !== words[i + 1][n]))
  }

  /** Every change of a word, timed by a straight line between the samples on both sides. */
  changes(samples: readonly Instant[]): LookChange[] {
    const values = samples.map((seen) => this.values(seen))
    return this.looks.flatMap(({ part, look }, n) =>
      samples.slice(1).flatMap((seen, i) => {
        const [from, to] = [values[i][n], values[i + 1][n]]
        const stretch = [samples[i].time, seen.time] as const
        const jumps = stretch[1] - stretch[0] <= 1.5 * JUMP
        return crossed(look, from, to)
          .slice(jumps ? -1 : 0)
          .map(({ word, share }) => ({
            time: stretch[0] + (jumps ? 0 : share * (stretch[1] - stretch[0])),
            part,
            look,
            word,
          }))
      }),
    )
  }

  /** Quantity of each look. */
  private values(seen: Instant): number[] {
    const condition = conditionsAt(this.course, seen.time)
    return this.looks.map(({ part, look }) => readLook(this.system, part, look, seen, condition))
  }
}

/** Words entered on the way from one value to another, and how far on the way. */
function crossed(look: Look, from: number, to: number): { word: number; share: number }[] {
  const [first, last] = [wordOf(look, from), wordOf(look, to)]
  const step = Math.sign(last - first)
  const found: { word: number; share: number }[] = []
  for (let word = first; word !== last; word += step) {
    const [low, high] = look.levels[step > 0 ? word : word - 1]
    found.push({ word: word + step, share: ((low + high) / 2 - from) / (to - from) })
  }
  return found
}
