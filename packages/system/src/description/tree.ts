import type { Position } from '@halfsplit/core'

/** A file as text values, maps and lists, each with its place. Every value is kept as written: "10" stays text, "on" a word. */
export type Tree = Leaf | Branch | Row

export interface Leaf {
  type: 'text'
  text: string
  at: Position
}

export interface Branch {
  type: 'map'
  /** In the order of the file; a key may come twice. */
  entries: Entry[]
  at: Position
}

export interface Row {
  type: 'list'
  items: Tree[]
  at: Position
}

export interface Entry {
  key: string
  keyAt: Position
  value: Tree
}

/** What a value is, in words. */
export function shapeOf(tree: Tree): string {
  if (tree.type === 'map') return 'a group of keys'
  if (tree.type === 'list') return 'a list'
  return tree.text === '' ? 'nothing' : `"${shorten(tree.text)}"`
}

export const shorten = (text: string, most = 60): string => (text.length > most ? `${text.slice(0, most)}...` : text)
