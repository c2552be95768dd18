/**
 * Logic as a straight line of word operations: every bit of a word is a world of its own, so that one pass evaluates up to 32 input
 * vectors, candidates or states. A machine's signals use one bit, in bytes; gate networks use all of an Int32Array.
 */

/** What a block does with its inputs. SR and RS remember; TP is off at rest, and a clock gives it its time. */
export type BlockType = 'AND' | 'NAND' | 'OR' | 'NOR' | 'XOR' | 'XNOR' | 'NOT' | 'BUFF' | 'SR' | 'RS' | 'TP'

/** One block with its names turned into places among the words. */
export interface Block {
  type: BlockType
  of: readonly number[]
  /** Where its output goes. */
  target: number
}

/** Blocks in an order in which each comes after what it reads, as far as there is one. */
export interface LogicProgram {
  readonly length: number
  /** By block: what it does, and all ones where it is turned round at the end. */
  readonly code: readonly number[]
  readonly invert: readonly number[]
  readonly target: readonly number[]
  /** The inputs of block k are `operand[start[k]]` up to before `operand[start[k + 1]]`. */
  readonly start: readonly number[]
  readonly operand: readonly number[]
  /** Places written by blocks that read each other in a ring, or lie behind one; empty for most. */
  readonly ring: readonly number[]
}

/** Words to calculate on: one a place. In bytes only the lowest bit counts. */
export type Words = Int32Array | Uint8Array

const AND = 0
const OR = 1
const XOR = 2
const SR = 3
const RS = 4
const OFF = 5

const CODES: Record<BlockType, { code: number; invert: number }> = {
  AND: { code: AND, invert: 0 },
  NAND: { code: AND, invert: -1 },
  OR: { code: OR, invert: 0 },
  NOR: { code: OR, invert: -1 },
  XOR: { code: XOR, invert: 0 },
  XNOR: { code: XOR, invert: -1 },
  NOT: { code: OR, invert: -1 },
  BUFF: { code: OR, invert: 0 },
  SR: { code: SR, invert: 0 },
  RS: { code: RS, invert: 0 },
  TP: { code: OFF, invert: 0 },
}

/** @param places number of words that the blocks read and write */
export function assemble(blocks: readonly Block[], places: number): LogicProgram {
  if (blocks.length === 0) return EMPTY
  const { order, ring } = inOrder(blocks, places)
  const length = order.length
  const code: number[] = []
  const invert: number[] = []
  const target: number[] = []
  const start = [0]
  const operand: number[] = []
  for (const { type, of, target: place } of order) {
    code.push(CODES[type].code)
    invert.push(CODES[type].invert)
    target.push(place)
    for (const input of of) operand.push(input)
    start.push(operand.length)
  }
  return { length, code, invert, target, start, operand, ring }
}

const NONE: readonly number[] = []

const EMPTY: LogicProgram = { length: 0, code: [], invert: [], target: [], start: [0], operand: [], ring: NONE }

/** The order they were given in if it will do, which is the case for most machines. */
function inOrder(blocks: readonly Block[], places: number): { order: readonly Block[]; ring: readonly number[] } {
  // One more than the block that writes each place.
  const writer = new Int32Array(places)
  for (let k = 0; k < blocks.length; k += 1) writer[blocks[k].target] = k + 1
  for (let k = 0; k < blocks.length; k += 1) {
    for (const place of blocks[k].of) if (writer[place] > k) return sorted(blocks, writer)
  }
  return { order: blocks, ring: NONE }
}

/** Kahn's topological sort (A. B. Kahn, Comm. ACM 5 (1962) 558, from memory); what is left over keeps its order, at the end. */
function sorted(blocks: readonly Block[], writer: Int32Array): { order: Block[]; ring: number[] } {
  const readers = blocks.map((): number[] => [])
  const waiting = blocks.map(({ of }, k) => {
    const written = of.filter((place) => writer[place] > 0).map((place) => writer[place] - 1)
    for (const by of written) readers[by].push(k)
    return written.length
  })
  const ready = blocks.map((_, k) => k).filter((k) => waiting[k] === 0)
  for (let n = 0; n < ready.length; n += 1) {
    for (const k of readers[ready[n]]) {
      waiting[k] -= 1
      if (waiting[k] === 0) ready.push(k)
    }
  }
  const left = blocks.filter((_, k) => waiting[k] > 0)
  return { order: [...ready.map((k) => blocks[k]), ...left], ring: left.map(({ target }) => target) }
}

/** What block k makes of its inputs, a bit a world; in bytes only the lowest bit means anything. */
export function blockValue(program: LogicProgram, k: number, words: Words): number {
  const { start, operand } = program
  const from = start[k]
  const to = start[k + 1]
  let value: number
  switch (program.code[k]) {
    case AND:
      value = -1
      for (let n = from; n < to; n += 1) value &= words[operand[n]]
      break
    case OR:
      value = 0
      for (let n = from; n < to; n += 1) value |= words[operand[n]]
      break
    case XOR:
      value = 0
      for (let n = from; n < to; n += 1) value ^= words[operand[n]]
      break
    case SR:
      value = words[operand[from]] | (~words[operand[from + 1]] & words[program.target[k]])
      break
    case RS:
      value = ~words[operand[from + 1]] & (words[operand[from]] | words[program.target[k]])
      break
    default:
      value = 0
  }
  return value ^ program.invert[k]
}
