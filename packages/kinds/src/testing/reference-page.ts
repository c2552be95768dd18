import { modeIncidence } from '../incidence.js'
import type { Kind, Mode } from '../kind.js'

const HEAD = `# Kinds of part

What a description may use. Ports are written \`PART.port\`; a pin's are \`X12.3/a\` and \`X12.3/b\`. A default is the trade's or an
assumption, and holds until the description says otherwise. An incidence is of failures against one exposed wire run; modes marked
*by hand* count only after someone worked on the machine, *consequence* only follows from an overload.

This page is written by the tests of the package \`kinds\` from the kinds themselves (\`npx vitest run packages/kinds -u\`).
`

const table = (heads: readonly string[], rows: readonly (readonly string[])[]): string =>
  rows.length === 0 ? '' : [heads, heads.map(() => '---'), ...rows].map((row) => `| ${row.join(' | ')} |`).join('\n') + '\n'

const round = (value: number): string => String(Number(value.toPrecision(2)))

function remarks(mode: Mode): string {
  const words = [
    mode.severity && 'has a size',
    mode.intermittent && 'comes and goes',
    mode.byHand && 'by hand',
    mode.bridges && `to the next ${mode.bridges === 'pin' ? 'pin' : 'wire of its harness'}`,
    mode.when && `with ${mode.when.choice} \`${mode.when.word}\``,
    mode.share === 0 && 'consequence',
  ]
  return words.filter((word) => typeof word === 'string').join(', ')
}

function section(kind: Kind): string {
  const ports = kind.ports.map((port) => [`\`${port.name}\``, port.domain, port.about])
  const ratings = Object.entries(kind.ratings).map(([name, { default: text, about, spread }]) => [
    `\`${name}\``,
    `\`${text}\`${spread === 'factor' ? ' (a factor of 2 at one sd)' : ''}`,
    about,
  ])
  const choices = Object.entries({ ...kind.choices, ...kind.settings }).map(([name, of]) => [
    `\`${name}\``,
    name in (kind.choices ?? {}) ? 'choice' : 'setting',
    'words' in of ? of.words.map((word) => (word === of.default ? `**${word}**` : word)).join(', ') : `\`${of.default}\``,
    of.about,
  ])
  const looks = (kind.looks ?? []).map((look) => [`\`${look.name}\``, look.words.join(', '), look.by, look.about])
  const modes = kind.modes.map((mode) => [
    `\`${mode.id}\``,
    mode.title,
    round(modeIncidence(kind, mode.id)),
    kind.repairs[mode.repair].title,
    remarks(mode),
  ])
  return [
    `## ${kind.name}\n`,
    `${kind.about} Letter ${kind.letter}; incidence ${round(kind.incidence)}.\n`,
    table(['port', 'domain', 'what'], ports),
    table(['rating', 'default', 'what'], ratings),
    table(['name', 'kind', 'words, or default', 'what'], choices),
    table(['look', 'words', 'by', 'what'], looks),
    table(['failure mode', 'as said', 'incidence', 'repair', 'remarks'], modes),
  ]
    .filter((text) => text !== '')
    .join('\n')
}

/** The reference page of the kinds, in the order of their names. */
export const referencePage = (kinds: Iterable<Kind>): string =>
  [HEAD, ...[...kinds].sort((p, q) => (p.name < q.name ? -1 : 1)).map(section)].join('\n')
