import { hex32, mixText } from '@halfsplit/core'

/** FNV-1a's prime and offset, 32 bits; the second hash runs over the text with another offset and prime. */
const PRIMES = [0x01000193, 0x85ebca6b] as const
const OFFSETS = [0x811c9dc5, 0x9e3779b9] as const

/**
 * Content hash of a description, 16 hexadecimal digits: the same for the same text whatever its line ends, trailing spaces or
 * byte-order mark. For caches and records, not against forgery.
 */
export function contentHash(text: string): string {
  const plain = text
    .replace(/^\ufeff/, '')
    .split(/\r\n|\r|\n/)
    .map((line) => line.trimEnd())
    .join('\n')
    .trimEnd()
  return PRIMES.map((prime, i) => hex32(mixText(plain, prime, OFFSETS[i]))).join('')
}
