import { readFileSync } from 'node:fs'

/** Documents of the page by format, and parts of documents by name: type by path. */
const page = readFileSync(new URL('../../docs/reference/json.md', import.meta.url), 'utf8')
const sections = new Map(
  page.split(/^##+ /m).map((section) => {
    const [title] = section.split('\n', 1)
    const rows = [...section.matchAll(/^\| `([^`]+)` \| ([^|]+) \| (.+) \|$/gm)]
    return [title.trim(), new Map(rows.map(([, path, type, meaning]) => [path, { type: type.trim(), meaning }]))]
  }),
)

const linkOf = (meaning: string): string | undefined => /\]\(#([a-z-]+)\)/.exec(meaning)?.[1]

/** What is the matter with a value against the page: fields it does not name, types it does not allow, fields that are not there. */
export function differences(value: unknown, section: string): string[] {
  const fields = sections.get(section)
  if (!fields) return [`there is no section ${section}`]
  const found: string[] = []
  const walk = (one: unknown, path: string): void => {
    if (Array.isArray(one)) {
      for (const item of one) if (typeof item === 'object') walk(item, `${path}[]`)
      return
    }
    if (typeof one !== 'object' || one === null) return
    for (const [key, inner] of Object.entries(one)) {
      const at = path === '' ? key : `${path}.${key}`
      const field = fields.get(at)
      if (!field) found.push(`${section}: ${at} is not on the page`)
      else if (!allows(field.type, inner)) found.push(`${section}: ${at} is ${JSON.stringify(inner)}, not ${field.type}`)
      else if (field.type === 'object' && sections.has(String(inner === null ? '' : (inner as { format?: string }).format)))
        found.push(...differences(inner, (inner as { format: string }).format))
      else if (linkOf(field.meaning) && sections.has(linkOf(field.meaning) as string))
        for (const item of [inner].flat())
          found.push(...(item === null ? [] : differences(item, linkOf(field.meaning) as string)))
      else if (at !== 'related' && !(at === 'job')) walk(inner, at)
    }
    for (const [at, { type }] of fields) {
      const key = path === '' ? at : at.startsWith(`${path}.`) ? at.slice(path.length + 1) : undefined
      if (key && /^\w+$/.test(key) && !(key in one) && !type.includes('optional')) found.push(`${section}: ${at} is missing`)
    }
  }
  walk(value, '')
  return found
}

const TYPES: Record<string, (value: unknown) => boolean> = {
  text: (value) => typeof value === 'string',
  number: (value) => typeof value === 'number',
  boolean: (value) => typeof value === 'boolean',
  list: Array.isArray,
  object: (value) => typeof value === 'object' && value !== null && !Array.isArray(value),
  null: (value) => value === null,
}

const allows = (type: string, value: unknown): boolean =>
  type
    .replace(', optional', '')
    .split(' or ')
    .some((one) => TYPES[one](value))
