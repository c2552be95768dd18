import { type Position } from '@halfsplit/core'
import type { Kind } from '@halfsplit/kinds'
import type { Part, Place } from '../model.js'
import { named } from './fields.js'
import type { IssueList } from './issues.js'
import { type Entry, shorten, type Tree } from './tree.js'

/** A point as the author names it: `K7.common`, `X12.1/a`, `frame`. `scope` goes before it inside an assembly. */
export interface Reference {
  text: string
  scope: string
  at: Position
}

/** Points that meet. */
export interface Link {
  ends: Reference[]
}

/** A part as read, before it is known which nodes its ports are at. */
export type DraftPart = Omit<Part, 'frame'> & {
  frame?: Reference
  /** From the sections of wires and hoses, where each end is asked for. */
  run: boolean
}

/** What parts inside an assembly take over from the place where it is used. */
export interface Inherited {
  place?: string
  harness?: string
  exposure: number
  frame?: Reference
  sealed: boolean
}

export interface Scope extends Inherited {
  /** `LEFT.` inside the assembly used as LEFT. */
  prefix: string
  /** Assemblies being expanded, outermost first. */
  within: readonly string[]
}

export const MOST_PARTS = 5000

/** Everything a description says about parts and what meets what, while it is being read. */
export class Draft {
  readonly parts = new Map<string, DraftPart>()
  readonly links: Link[] = []
  /** Ports of assemblies, and the inner point each stands for. */
  readonly aliases = new Map<string, Reference>()
  /** Every name in use and where it was given; also of parts that could not be read. */
  readonly names = new Map<string, Position>()
  /** Names that were given but could not be made sense of: no second complaint about what refers to them. */
  readonly unread = new Set<string>()
  private expanded = 0
  private overflowed = false

  constructor(
    readonly issues: IssueList,
    readonly kinds: ReadonlyMap<string, Kind>,
    readonly places: ReadonlyMap<string, Place>,
    readonly assemblies: ReadonlyMap<string, Entry>,
  ) {}

  /** Takes a name; false (and an issue) if it cannot be one or is taken. */
  declare(name: string, { key, keyAt }: Entry, what: 'part' | 'wire' | 'hose' | 'connector' | 'pin'): boolean {
    if (what !== 'pin' && !checkName(this.issues, key, keyAt, what)) return false
    const first = this.names.get(name)
    if (first) {
      this.issues.add(
        what === 'wire' ? 'DUPLICATE_WIRE' : 'DUPLICATE_NAME',
        `the name "${shorten(name)}" is given twice`,
        keyAt,
        {
          related: [{ position: first, message: 'first given here' }],
          fix: what === 'wire' ? 'give the second wire another number' : 'give one of them another name',
        },
      )
      return false
    }
    this.names.set(name, keyAt)
    return true
  }

  /** Assemblies of assemblies grow fast: false (and an issue) once there are too many to be a machine. */
  mayExpand({ keyAt }: Entry): boolean {
    this.expanded += 1
    if (this.expanded <= MOST_PARTS) return true
    this.tooManyParts(keyAt)
    return false
  }

  tooManyParts(at: Position): void {
    if (this.overflowed) return
    this.overflowed = true
    this.issues.add('PARTS_TOO_MANY', `there are more than ${MOST_PARTS} parts`, at, { fix: 'describe one system a file' })
  }

  kind(name: string, at: Position): Kind | undefined {
    const kind = this.kinds.get(name)
    if (!kind) {
      this.issues.add('UNKNOWN_KIND', `no kind of part is called "${shorten(name, 30)}"`, at, {
        expected: 'a kind of part or an assembly of this description',
        received: named(name),
        nearest: this.issues.nearest(name, [...this.kinds.keys(), ...this.assemblies.keys()]),
      })
    }
    return kind
  }
}

const NAME = /^[\p{L}\p{N}][\p{L}\p{N}_-]{0,39}$/u
const RESERVED = ['frame', 'air']

/** Names stand before a point in `K7.coil_a` and in job records, so they have no signs of their own. */
export function checkName(issues: IssueList, name: string, at: Position, what: string): boolean {
  if (NAME.test(name) && !RESERVED.includes(name)) return true
  issues.add('NAME_UNUSABLE', `"${shorten(name, 30)}" cannot name a ${what}`, at, {
    expected: 'up to 40 letters, digits, "-" and "_", beginning with a letter or digit',
    received: RESERVED.includes(name) ? `"${name}", which has a meaning of its own` : named(name),
  })
  return false
}

/** A point named by a text value; undefined (and an issue) for anything else. */
export function referenceOf(issues: IssueList, tree: Tree, scope: string, what: string): Reference | undefined {
  if (tree.type === 'text' && tree.text.trim() !== '') return { text: tree.text.trim(), scope, at: tree.at }
  issues.add('WRONG_SHAPE', `${what} must be a point`, tree.at, { expected: 'a point, as in "K7.common" or "X12.1/a"' })
  return undefined
}

/** `PART.name`, or `PART` alone where there is one name only. */
export function splitName(draft: Draft, text: string, namesOf: (part: Pick<Part, 'kind'>) => string[]) {
  const whole = draft.parts.get(text)
  const names = whole ? namesOf(whole) : []
  if (whole) return { owner: text, part: whole, name: names.length === 1 ? names[0] : undefined }
  const dot = text.lastIndexOf('.')
  const owner = dot < 0 ? text : text.slice(0, dot)
  return { owner, part: draft.parts.get(owner), name: text.slice(dot + 1) }
}
