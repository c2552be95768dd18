import type { Position } from '@halfsplit/core'
import { type Alias, Composer, type Document, isAlias, isMap, isScalar, isSeq, LineCounter, Parser } from 'yaml'
import type { IssueList } from './issues.js'
import type { Entry, Tree } from './tree.js'

/** Depth of the syntax tree: about twice the nesting of the text. Deeper text overflows the stack of what composes it. */
const DEEPEST = 120
const MOST_ALIASES = 100
const MOST_VALUES = 200_000

/**
 * Reads YAML into a tree of texts with places. All scalars stay text: no number is rounded, `on` and `no` are words.
 * Syntax errors are reported at their place; then the result is undefined, for what is left has not the shape the author meant.
 */
export function readTree(text: string, file: string, issues: IssueList): Tree | undefined {
  const lines = new LineCounter()
  const place = placer(text, file, lines)
  const tokens = [...new Parser(lines.addNewLine).parse(text)]
  if (depthOf(tokens) > DEEPEST) {
    const fix = 'a description needs at most six levels; look for brackets that are never closed'
    issues.add('NESTING_TOO_DEEP', 'keys are nested too deep', place(0, 1), { fix })
    return undefined
  }
  const composer = new Composer({ lineCounter: lines, prettyErrors: false, schema: 'failsafe', uniqueKeys: false })
  const documents = [...composer.compose(tokens, true, text.length)]
  if (documents.length > 1) {
    const [from] = documents[1].range
    issues.add('YAML_SYNTAX', 'a second document begins here', place(from, from + 1), { fix: 'describe one system a file' })
  }
  for (const error of [...documents[0].errors, ...documents[0].warnings]) {
    reportSyntax(error.code, error.message, place(error.pos[0], error.pos[1]), text, issues)
  }
  if (issues.hasErrors) return undefined
  const tree = new TreeMaker(documents[0] as Document, place, issues).make()
  return issues.hasErrors ? undefined : tree
}

type Place = (from: number, to: number) => Position

function placer(text: string, file: string, lines: LineCounter): Place {
  return (from, to) => {
    const { line, col } = lines.linePos(from)
    const lineEnd = text.indexOf('\n', from)
    const end = Math.min(to, lineEnd === -1 ? text.length : lineEnd)
    return {
      file,
      line: Math.max(1, line),
      column: Math.max(1, col),
      length: Math.max(1, text.slice(from, end).trimEnd().length),
    }
  }
}

/** Greatest depth of the syntax tree, found without recursion. */
function depthOf(tokens: readonly object[]): number {
  const todo = tokens.map((token) => ({ token, depth: 1 }))
  let deepest = 0
  for (let next = todo.pop(); next; next = todo.pop()) {
    const { token, depth } = next
    deepest = Math.max(deepest, depth)
    if (deepest > DEEPEST) break
    const { key, value, items } = token as { key?: object; value?: object; items?: object[] }
    for (const child of [key, value, ...(items ?? [])]) {
      if (child !== null && typeof child === 'object') todo.push({ token: child, depth: depth + 1 })
    }
  }
  return deepest
}

function reportSyntax(code: string, message: string, at: Position, text: string, issues: IssueList): void {
  const line = text.split('\n', at.line)[at.line - 1] ?? ''
  if (code === 'TAB_AS_INDENT') {
    issues.add('TAB_INDENT', 'the line is indented with a tab', at, { fix: 'indent with spaces, two a level' })
  } else if (/[:,{[]\s*>=/.test(line)) {
    const fix = 'write "at least 2.4 V" in words, or put the quantity in quotes'
    issues.add('YAML_SYNTAX', 'a value cannot begin with ">="', { ...at, ...startOf(line) }, { fix })
  } else if (code !== 'UNEXPECTED_TOKEN' || !message.startsWith('Not a YAML token')) {
    const said = message.charAt(0).toLowerCase() + message.slice(1).replace(/\.$/, '')
    issues.add('YAML_SYNTAX', 'the text is not well-formed', at, { received: said, fix: syntaxFix(code) })
  }
}

const startOf = (line: string) => ({ column: line.indexOf('>=') + 1, length: 2 })

function syntaxFix(code: string): string {
  if (code === 'BLOCK_AS_IMPLICIT_KEY') return 'put a text with ": " in it in quotes, or begin a new line with more indentation'
  if (code === 'MISSING_CHAR') return 'close the quote or bracket'
  if (code === 'TAG_RESOLVE_FAILED') return 'leave out the "!" and what belongs to it; units say what a value is'
  if (code === 'BAD_SCALAR_START') return 'put the value in quotes'
  return 'look at indentation, brackets and quotes on this line and the one above'
}

/** Turns composed nodes into a tree; aliases are followed, within limits, so that a small file cannot become a huge one. */
class TreeMaker {
  private readonly anchors = new Map<string, unknown>()
  private aliases = 0
  private values = 0
  private stopped = false

  constructor(
    private readonly document: Document,
    private readonly place: Place,
    private readonly issues: IssueList,
  ) {}

  make(): Tree | undefined {
    const tree = this.tree(this.document.contents, 0, this.place(0, 1))
    return this.stopped ? undefined : tree
  }

  private tree(node: unknown, depth: number, parent: Position): Tree {
    const at = this.at(node) ?? parent
    const nothing: Tree = { type: 'text', text: '', at }
    this.values += 1
    if (this.stopped || depth > DEEPEST || this.values > MOST_VALUES) return this.stop(at) ?? nothing
    if (isAlias(node)) return this.followed(node, depth, at) ?? nothing
    const anchor = (node as { anchor?: string } | null)?.anchor
    if (anchor) this.anchors.set(anchor, node)
    if (isScalar<string | null>(node)) return { type: 'text', text: node.value ?? '', at }
    if (isSeq(node)) return { type: 'list', items: node.items.map((item) => this.tree(item, depth + 1, at)), at }
    if (isMap(node)) return { type: 'map', entries: node.items.map((pair) => this.entry(pair, depth, at)), at }
    return nothing
  }

  private entry(pair: { key: unknown; value?: unknown }, depth: number, parent: Position): Entry {
    const keyAt = this.at(pair.key) ?? parent
    if (!isScalar<string | null>(pair.key)) {
      this.issues.add('YAML_SYNTAX', 'a key must be a word', keyAt, { fix: 'write the key as plain text before the colon' })
    }
    const key = isScalar<string | null>(pair.key) ? (pair.key.value ?? '') : ''
    return { key, keyAt, value: this.tree(pair.value, depth + 1, keyAt) }
  }

  private followed(alias: Alias, depth: number, at: Position): Tree | undefined {
    this.aliases += 1
    if (this.aliases > MOST_ALIASES) return this.stop(at)
    if (this.anchors.has(alias.source)) return this.tree(this.anchors.get(alias.source), depth + 1, at)
    const nearest = [...this.anchors.keys()].slice(0, 3)
    this.issues.add('YAML_SYNTAX', `no anchor "&${alias.source}" comes before this`, at, { nearest, fix: 'write the value out' })
    return undefined
  }

  private stop(at: Position): undefined {
    if (!this.stopped) {
      const fix = 'write the values out, or make an assembly of what repeats'
      this.issues.add('ALIASES_TOO_MANY', 'repeated values make the description too large', at, {
        expected: `at most ${MOST_ALIASES} aliases and ${MOST_VALUES} values`,
        fix,
      })
    }
    this.stopped = true
    return undefined
  }

  private at(node: unknown): Position | undefined {
    const range = (node as { range?: [number, number, number] } | null)?.range
    return range ? this.place(range[0], range[1]) : undefined
  }
}
