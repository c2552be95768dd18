/** Every exit code of the command, with its meaning; docs/reference/cli.md holds the same table. */
export const EXIT = {
  ok: 0,
  /** The input has mistakes, or cases of a reference failed. */
  mistakes: 1,
  /** Wrong use of the command: unknown command, option, state or name. */
  usage: 2,
  /** Nothing can be computed: the machine comes to no rest in this state. */
  noRest: 3,
  /** A file cannot be read or written. */
  file: 4,
  /** Our own mistake. */
  internal: 70,
} as const

export type ExitCode = (typeof EXIT)[keyof typeof EXIT]

export const EXIT_MEANINGS: Record<keyof typeof EXIT, string> = {
  ok: 'done',
  mistakes: 'the input has mistakes, or reference cases failed',
  usage: 'wrong use: unknown command, option, state or name',
  noRest: 'cannot be computed: the machine comes to no rest in this state',
  file: 'a file cannot be read or written',
  internal: 'a mistake of the program itself',
}
