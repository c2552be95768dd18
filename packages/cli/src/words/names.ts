import type { Part } from '@halfsplit/system'

/** A name of a kind's own as it is said: `tail_light` is "tail light". */
export function spoken(name: string): string {
  return name.replace(/_/g, ' ')
}

/** Wires are often named by a number, which says nothing alone. */
export const isNumber = (name: string): boolean => /^\d/.test(name)

/** A part by its name; one named by a number, with its kind before it: "wire 706". */
export function partWords({ name, kind }: Part): string {
  return isNumber(name) ? `${kind.name} ${name}` : name
}
