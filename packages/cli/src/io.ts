/** What a command may do to the outside: results on `out`, messages on `err`, lines from the technician. */
export interface Io {
  readonly out: (text: string) => void
  readonly err: (text: string) => void
  /** Bold and dim are allowed on `out`. */
  colour: boolean
  /** Somebody sits at a terminal and can be asked. */
  interactive: boolean
  /** Lines typed, without their line break; ends when the input ends. */
  readonly lines: (prompt: () => string) => AsyncIterable<string>
  /** Time for new entries, as written into the job. */
  readonly now: () => string
  /** Says on `err` that an answer takes a moment; call what it returns once there is one. */
  readonly working: () => () => void
  /** Where somebody looks on: shows how far a long piece of work has come (0 to 1), gone again at 1. */
  readonly progress?: (share: number) => void
}

/** Does something that takes a moment, and says so. */
export function whileWorking<T>(io: Io, task: () => T): T {
  const ready = io.working()
  try {
    return task()
  } finally {
    ready()
  }
}

/** NO_COLOR (https://no-color.org), FORCE_COLOR and a dumb terminal are respected. */
export function mayColour(env: Readonly<Record<string, string | undefined>>, isTerminal: boolean): boolean {
  if (env.NO_COLOR) return false
  if (env.FORCE_COLOR !== undefined && env.FORCE_COLOR !== '0') return true
  return isTerminal && env.TERM !== 'dumb'
}

/** Weight of print, never a colour that carries meaning. */
export interface Paint {
  readonly bold: (text: string) => string
  readonly dim: (text: string) => string
}

export const paint = (colour: boolean): Paint =>
  colour
    ? { bold: (text) => `\u001b[1m${text}\u001b[22m`, dim: (text) => `\u001b[2m${text}\u001b[22m` }
    : { bold: (text) => text, dim: (text) => text }
