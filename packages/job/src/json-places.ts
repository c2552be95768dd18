/** Where each value of a JSON text stands, and where a text stops being JSON. */

/** From `start` to before `end`, counted in UTF-16 units from 0. */
export interface Range {
  readonly start: number
  readonly end: number
}

export type Path = readonly PropertyKey[]

/** Ranges by `placeKey`; or the place and kind of the first mistake. */
export type JsonPlaces =
  | { readonly ok: true; readonly ranges: ReadonlyMap<string, Range> }
  | { readonly ok: false; readonly offset: number; readonly expected: string }

const BLANK = /[ \t\r\n]*/y
// oxlint-disable-next-line no-control-regex -- JSON forbids control characters in strings
const STRING = /"(?:[^"\\\u0000-\u001f]|\\(?:["\\/bfnrt]|u[0-9a-fA-F]{4}))*"/y
const NUMBER = /-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?/y
const WORD = /true|false|null/y

/** No job is nested deeper; a text that is would only exhaust the stack. */
const DEEPEST = 50

export function placeKey(path: Path): string {
  return JSON.stringify(path.map(String))
}

class Mistake extends Error {
  constructor(
    readonly offset: number,
    readonly expected: string,
  ) {
    super(expected)
  }
}

class Scanner {
  offset = 0
  readonly ranges = new Map<string, Range>()

  constructor(private readonly text: string) {}

  take(pattern: RegExp): string | null {
    pattern.lastIndex = this.offset
    const match = pattern.exec(this.text)
    if (match === null) return null
    this.offset += match[0].length
    return match[0]
  }

  skip(): void {
    this.take(BLANK)
  }

  has(mark: string): boolean {
    this.skip()
    if (this.text[this.offset] !== mark) return false
    this.offset++
    return true
  }

  need(mark: string, expected: string): void {
    if (!this.has(mark)) throw new Mistake(this.offset, expected)
  }

  value(path: Path): void {
    if (path.length > DEEPEST) throw new Mistake(this.offset, 'less nesting')
    this.skip()
    const start = this.offset
    if (this.has('{')) this.members(path)
    else if (this.has('[')) this.items(path)
    else if ((this.take(STRING) ?? this.take(NUMBER) ?? this.take(WORD)) === null) throw new Mistake(this.offset, 'a value')
    this.ranges.set(placeKey(path), { start, end: this.offset })
  }

  private members(path: Path): void {
    if (this.has('}')) return
    do {
      this.skip()
      const key = this.take(STRING)
      if (key === null) throw new Mistake(this.offset, 'a key in double quotes')
      this.need(':', '":"')
      this.value([...path, JSON.parse(key) as string])
    } while (this.has(','))
    this.need('}', '"," or "}"')
  }

  private items(path: Path): void {
    if (this.has(']')) return
    let index = 0
    do this.value([...path, index++])
    while (this.has(','))
    this.need(']', '"," or "]"')
  }
}

/** Scans a text as JSON (RFC 8259). */
export function jsonPlaces(text: string): JsonPlaces {
  const scanner = new Scanner(text)
  try {
    scanner.value([])
    scanner.skip()
    if (scanner.offset < text.length) throw new Mistake(scanner.offset, 'the end of the file')
    return { ok: true, ranges: scanner.ranges }
  } catch (error) {
    if (error instanceof Mistake) return { ok: false, offset: error.offset, expected: error.expected }
    throw error
  }
}
