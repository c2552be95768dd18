import type { Issue } from '@halfsplit/core'
import { checkSystem } from '@halfsplit/system'
import { EXIT, type ExitCode } from '../exit-codes.js'
import { countWords, issuesText, readText } from '../files.js'
import type { Io } from '../io.js'
import { Stop } from '../stop.js'

interface Checked {
  file: string
  text: string
  issues: readonly Issue[]
  parts?: number
  states?: number
  /** Why the file could not be read. */
  unreadable?: string
}

/** All mistakes of every file, each with its place; states of a machine that never comes to rest are among them. */
export function checkCommand(io: Io, files: readonly string[], { json }: { json?: boolean }): ExitCode {
  const checked = files.map(check)
  if (json) io.out(`${JSON.stringify(checkDocument(checked), null, 2)}\n`)
  else for (const one of checked) io.out(`${checkedText(one)}\n`)
  for (const { unreadable } of checked) if (unreadable) io.err(`halfsplit: ${unreadable}\n`)
  if (checked.some((one) => one.issues.some(({ severity }) => severity === 'error'))) return EXIT.mistakes
  return checked.some((one) => one.unreadable) ? EXIT.file : EXIT.ok
}

function check(file: string): Checked {
  try {
    const text = readText(file)
    const { system, issues } = checkSystem(text, file)
    return { file, text, issues, parts: system?.parts.size, states: system?.states.size }
  } catch (error) {
    if (!(error instanceof Stop)) throw error
    return { file, text: '', issues: [], unreadable: error.message }
  }
}

function checkedText({ file, text, issues, parts, states, unreadable }: Checked): string {
  if (unreadable) return `${file}: not read`
  const summary = `${file}: ${countWords(issues)}${parts === undefined ? '' : `; ${parts} parts, ${states} states`}`
  return issues.length > 0 ? `${issuesText(issues, text)}\n\n${summary}` : summary
}

/** The JSON form: docs/reference/json.md, `halfsplit-check/1`. */
function checkDocument(checked: readonly Checked[]) {
  const all = checked.flatMap((one) => one.issues)
  return {
    format: 'halfsplit-check/1',
    files: checked.map(({ file, issues, parts = null, states = null, unreadable = null }) => ({
      file,
      parts,
      states,
      unreadable,
      issues,
    })),
    errors: all.filter(({ severity }) => severity === 'error').length,
    warnings: all.filter(({ severity }) => severity === 'warning').length,
  }
}
