import { normalQuantile } from './normal.js'

/** A repeatable stream of draws. Two streams of one seed give the same draws on every machine. */
export interface Random {
  /** Uniform in the open interval (0, 1), 52 bits. */
  uniform: () => number
  /** Standard normal [1]. */
  normal: () => number
  /** Whole number from 0 to n-1; n >= 1. */
  integer: (n: number) => number
  /** Index drawn with the given weights (not negative, not all zero; need not sum to one). */
  pick: (weights: readonly number[]) => number
  /** A stream of its own for `label`: the same whatever was drawn here before, so that one more draw upsets no other part. */
  fork: (label: string) => Random
}

/** 32-bit hash of a text: FNV-1a with the finisher of MurmurHash3 (both public domain). */
function hash(text: string): number {
  let h = 0x811c9dc5
  for (let i = 0; i < text.length; i++) h = Math.imul(h ^ text.charCodeAt(i), 0x01000193)
  h = Math.imul(h ^ (h >>> 16), 0x85ebca6b)
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35)
  return (h ^ (h >>> 16)) >>> 0
}

/** Small fast counting generator, 128 bits of state (sfc32 of the PractRand test suite, public domain). */
function words(seed: string): () => number {
  let a = hash(`${seed}/a`)
  let b = hash(`${seed}/b`)
  let c = hash(`${seed}/c`)
  let counter = 1
  const next = () => {
    const sum = (((a + b) | 0) + counter) | 0
    counter = (counter + 1) | 0
    a = b ^ (b >>> 9)
    b = (c + (c << 3)) | 0
    c = (((c << 21) | (c >>> 11)) + sum) | 0
    return sum >>> 0
  }
  for (let i = 0; i < 16; i++) next()
  return next
}

function pick(weights: readonly number[], share: number): number {
  let rest = share * weights.reduce((sum, weight) => sum + weight, 0)
  for (let i = 0; i < weights.length; i++) {
    rest -= weights[i]
    if (rest < 0 && weights[i] > 0) return i
  }
  return weights.findLastIndex((weight) => weight > 0)
}

/**
 * A seeded stream of random numbers; nothing else in the project draws any.
 * @param seed number or text; equal text and number (1 and "1") are one seed
 * Source of the generator: sfc32 (public domain).  Checked in random.test.ts.
 */
export function createRandom(seed: number | string): Random {
  const word = words(String(seed))
  const uniform = () => ((word() >>> 6) * 2 ** 26 + (word() >>> 6) + 0.5) / 2 ** 52
  return {
    uniform,
    normal: () => normalQuantile(uniform()),
    integer: (n) => Math.floor(uniform() * n),
    pick: (weights) => pick(weights, uniform()),
    fork: (label) => createRandom(`${seed}/${label}`),
  }
}
