/** Attributes of an element; undefined ones are left out. */
export type Attributes = Readonly<Record<string, string | number | undefined>>

const ESCAPES: Record<string, string> = { '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;' }

const escaped = (text: string): string => text.replace(/[&<>"]/g, (sign) => ESCAPES[sign])

/** A number with at most one decimal: a tenth of a pixel is not seen. */
export const px = (x: number): string => String(Math.round(x * 10) / 10 || 0)

const written = (value: string | number): string => (typeof value === 'number' ? px(value) : escaped(value))

/** One element with what is inside it, each of its parts on a line of its own. */
export function element(name: string, attributes: Attributes, inside: readonly string[] = []): string {
  const words = Object.entries(attributes).flatMap(([key, value]) => (value === undefined ? [] : [` ${key}="${written(value)}"`]))
  const open = `<${name}${words.join('')}`
  return inside.length > 0 ? `${open}>\n${inside.join('\n')}\n</${name}>` : `${open}/>`
}

/** Text on the drawing; a value never parts from its unit. */
export function text(x: number, y: number, words: string, attributes: Attributes = {}): string {
  const keys = Object.entries({ x, y, ...attributes }).flatMap(([key, value]) =>
    value === undefined ? [] : [` ${key}="${written(value)}"`],
  )
  return `<text${keys.join('')}>${escaped(words.replace(/(\d) (?=\S)/g, '$1\u00a0').replace(/(^|[\s(])-(?=\d)/g, '$1\u2212'))}</text>`
}
