/**
 * A failure of ours or of the machine, never a mistake of the user in a description (that is an `Issue`).
 * `code` is one of the UPPER_SNAKE codes of `ISSUE_CODES`; `cause` is the error underneath, if any.
 */
export class HalfsplitError extends Error {
  readonly code: string

  constructor(code: string, message: string, options?: { cause?: unknown }) {
    super(message, options)
    this.name = 'HalfsplitError'
    this.code = code
  }
}
