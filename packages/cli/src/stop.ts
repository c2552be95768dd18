import type { Issue } from '@halfsplit/core'
import { nearestNames } from '@halfsplit/core'
import { EXIT, type ExitCode } from './exit-codes.js'

/** A known end of a command: what is said on stderr, and the exit code. Never shown with a stack. */
export class Stop extends Error {
  constructor(
    readonly exitCode: ExitCode,
    message: string,
    /** Mistakes in a file, for the JSON form; already in `message` as text. */
    readonly issues: readonly Issue[] = [],
  ) {
    super(message)
    this.name = 'Stop'
  }
}

/** A name that is not one of those there are: the nearest ones, then all if they are few. */
export function unknownName(what: string, word: string, names: Iterable<string>): Stop {
  const all = [...names]
  const near = nearestNames(word, all)
  const nearest = near.length > 0 ? `\n  nearest: ${near.map((name) => `"${name}"`).join(', ')}` : ''
  const list = all.length <= 20 ? `\n  there are: ${all.join(', ')}` : ''
  return new Stop(EXIT.usage, `no ${what} is called "${word}"${nearest}${list}`)
}
