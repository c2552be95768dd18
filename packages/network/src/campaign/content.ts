import { hex32, mixText } from '@halfsplit/core'

/**
 * Text of plain data that is the same for the same content: keys in order, those without a value left out, numbers to the last bit.
 */
export function canonical(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(canonical).join()}]`
  if (typeof value !== 'object' || value === null) return typeof value === 'number' ? String(value) : JSON.stringify(value)
  const entries = Object.entries(value).filter(([, item]) => item !== undefined)
  entries.sort(([p], [q]) => (p < q ? -1 : 1))
  return `{${entries.map(([key, item]) => `${JSON.stringify(key)}:${canonical(item)}`).join()}}`
}

/** Offsets and primes of four 32-bit lanes: those of FNV-1a and of the finisher of MurmurHash3 (both public domain). */
const OFFSETS = [0x811c9dc5, 0x9e3779b9, 0x85ebca6b, 0xc2b2ae35]
const PRIMES = [0x01000193, 0x85ebca6b, 0xc2b2ae35, 0x27d4eb2f]

/** Content hash of plain data, 32 hexadecimal digits. For caches, not against forgery. */
export function contentHash(value: unknown): string {
  const text = canonical(value)
  return PRIMES.map((prime, lane) => hash32(text, prime, OFFSETS[lane])).join('')
}

function hash32(text: string, prime: number, offset: number): string {
  let hash = mixText(text, prime, offset)
  hash = Math.imul(hash ^ (hash >>> 16), 0x85ebca6b)
  return hex32(hash ^ (hash >>> 13))
}
