/**
 * One 32-bit lane of a content hash: FNV-1a with a shift between its steps, from an offset and with a prime of its own (public domain).
 * For caches and records, not against forgery.
 */
export function mixText(text: string, prime: number, offset: number): number {
  let hash = offset
  for (let i = 0; i < text.length; i += 1) {
    hash = Math.imul(hash ^ text.charCodeAt(i), prime)
    hash ^= hash >>> 15
  }
  return hash
}

/** Eight hexadecimal digits of 32 bits. */
export const hex32 = (bits: number): string => (bits >>> 0).toString(16).padStart(8, '0')
