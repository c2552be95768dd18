import { type Dimension, type Position, parseQuantity, type Quantity } from '@halfsplit/core'
import type { IssueList } from './issues.js'
import { codePoint } from './raw-text.js'
import { type Branch, type Entry, shapeOf, shorten, type Tree } from './tree.js'

/** The keys of one group in the file, read by name; whatever is wrong with them is reported where it stands. */
export class Fields {
  private readonly byKey = new Map<string, Entry>()

  private constructor(
    private readonly issues: IssueList,
    /** What the group describes, as in "part 'K7'". */
    readonly what: string,
    readonly branch: Branch,
  ) {
    for (const entry of branch.entries) {
      const first = this.byKey.get(entry.key)
      if (first) {
        issues.add('DUPLICATE_KEY', `"${shorten(entry.key)}" is given twice in ${what}`, entry.keyAt, {
          related: [{ position: first.keyAt, message: 'first given here' }],
          fix: 'keep one of the two',
        })
      } else this.byKey.set(entry.key, entry)
    }
  }

  /** The group's keys, or undefined (and an issue) if the value is not a group. `allowed` are all keys it may have. */
  static of(issues: IssueList, tree: Tree, what: string, allowed: readonly string[], example: string): Fields | undefined {
    if (tree.type !== 'map') {
      issues.add('WRONG_SHAPE', `${what} must be a group of keys`, tree.at, {
        expected: `keys and values, as in "${example}"`,
        received: shapeOf(tree),
      })
      return undefined
    }
    const fields = new Fields(issues, what, tree)
    for (const entry of fields.byKey.values()) {
      if (!allowed.includes(entry.key)) fields.unknownKey(entry, allowed)
    }
    return fields
  }

  private unknownKey({ key, keyAt }: Entry, allowed: readonly string[]): void {
    this.issues.add('UNKNOWN_KEY', `${this.what} has no "${shorten(key, 30)}"`, keyAt, {
      expected: `one of ${allowed.join(', ')}`,
      received: named(key),
      nearest: this.issues.nearest(key, allowed),
      ...(/^\d/.test(key) ? { fix: 'a comma ends the value here; write decimals with a point' } : {}),
    })
  }

  get at(): Position {
    return this.branch.at
  }

  get(key: string): Entry | undefined {
    return this.byKey.get(key)
  }

  text(key: string): string | undefined {
    const entry = this.byKey.get(key)
    return entry && textOf(this.issues, entry.value, `"${key}" of ${this.what}`)
  }

  /** A list of texts; one text alone counts as a list of one. */
  texts(key: string): string[] {
    const value = this.byKey.get(key)?.value
    if (!value) return []
    const items = value.type === 'list' ? value.items : [value]
    return items.map((item) => sentenceOf(this.issues, item, `"${key}" of ${this.what}`)).filter((text) => text !== undefined)
  }

  /** A plain number, not negative: minutes, money, factors. */
  number(key: string, fallback: number): number {
    const entry = this.byKey.get(key)
    if (!entry) return fallback
    const text = textOf(this.issues, entry.value, `"${key}" of ${this.what}`)
    if (text === undefined) return fallback
    const value = /^[+-]?(\d+\.?\d*|\.\d+)$/.test(text) ? Number(text) : Number.NaN
    const expected = 'a plain number without unit, zero or more'
    const position = entry.value.at
    if (Number.isNaN(value)) {
      this.issues.add('NUMBER_UNREADABLE', `"${key}" of ${this.what} is no number`, position, {
        expected,
        received: shorten(text),
      })
    } else if (value < 0) {
      this.issues.add('QUANTITY_NEGATIVE', `"${key}" of ${this.what} is below zero`, position, { expected, received: text })
    } else if (value > 1e9) {
      this.issues.add('QUANTITY_ABSURD', `"${key}" of ${this.what} is absurdly large`, position, {
        expected,
        received: shorten(text),
      })
    } else return value
    return fallback
  }

  yes(key: string): boolean {
    const text = this.text(key)
    if (text === undefined || text === 'true' || text === 'false') return text === 'true'
    this.issues.add('UNKNOWN_WORD', `"${key}" of ${this.what} is true or false`, (this.byKey.get(key) as Entry).value.at, {
      expected: 'true or false',
      received: named(text),
    })
    return false
  }

  quantity(key: string, dimension: Dimension): Quantity | undefined {
    const entry = this.byKey.get(key)
    return entry && quantityOf(this.issues, entry.value, `"${key}" of ${this.what}`, dimension)
  }
}

/** The text of a value, or undefined and an issue if it is a group or list, or empty. */
export function textOf(issues: IssueList, tree: Tree, what: string): string | undefined {
  if (tree.type === 'text' && tree.text.trim() !== '') return tree.text.trim()
  issues.add('WRONG_SHAPE', `${what} must be a text`, tree.at, { expected: 'a text', received: shapeOf(tree) })
  return undefined
}

/** As `textOf`; "- Key on: relay pulls" is meant as a sentence though YAML takes it for a key with a value. */
function sentenceOf(issues: IssueList, tree: Tree, what: string): string | undefined {
  const only = tree.type === 'map' && tree.entries.length === 1 ? tree.entries[0] : undefined
  if (only?.value.type === 'text') return `${only.key}: ${only.value.text}`.trim()
  return textOf(issues, tree, what)
}

/** A quantity of the dimension asked for, or undefined and an issue with what was expected, received, and a fix. */
export function quantityOf(issues: IssueList, tree: Tree, what: string, dimension: Dimension): Quantity | undefined {
  const text = textOf(issues, tree, what)
  if (text === undefined) return undefined
  const parsed = parseQuantity(text, dimension)
  if (parsed.ok) return parsed.value
  const { code, message, expected, received, fix } = parsed
  issues.add(code, `${what}: ${message}`, tree.at, { expected, received, ...(fix ? { fix } : {}) })
  return undefined
}

/** A received name in quotes, its letters outside the ordinary alphabet spelt out: a Greek capital looks like a Latin one. */
export function named(name: string): string {
  const strange = [...new Set(Array.from(name).filter((letter) => letter.charCodeAt(0) > 0x24f))].slice(0, 3)
  const note = strange.map((letter) => `${letter} is ${codePoint(letter)}`).join(', ')
  return note ? `"${shorten(name)}" (${note})` : `"${shorten(name)}"`
}

/** Entries of a named section; an issue if it is not a group. An empty section has none. */
export function section(issues: IssueList, entry: Entry | undefined, example: string): Entry[] {
  if (!entry || (entry.value.type === 'text' && entry.value.text === '')) return []
  if (entry.value.type === 'map') return entry.value.entries
  issues.add('WRONG_SHAPE', `"${entry.key}" must be a group of names`, entry.value.at, {
    expected: `names and what they are, as in "${example}"`,
    received: shapeOf(entry.value),
  })
  return []
}
