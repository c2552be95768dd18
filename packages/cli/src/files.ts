import { readFileSync, renameSync, statSync, writeFileSync } from 'node:fs'
import { type Issue, printIssue } from '@halfsplit/core'
import type { LocateInJob } from '@halfsplit/diagnosis'
import { type Job, parseJob, serialiseJob } from '@halfsplit/job'
import { parseSystem, type System } from '@halfsplit/system'
import { isNode, LineCounter, parseDocument } from 'yaml'
import { EXIT } from './exit-codes.js'
import { Stop } from './stop.js'

const REASONS: Record<string, string> = {
  ENOENT: 'there is no such file',
  EACCES: 'no permission',
  EISDIR: 'this is a folder',
  ENOTDIR: 'a part of the path is no folder',
}

const reason = (error: unknown): string => {
  const code = (error as NodeJS.ErrnoException).code ?? ''
  return REASONS[code] ?? `the system says ${code || String(error)}`
}

/** Larger files are no descriptions; they are not even read. */
const LARGEST_READ = 50e6

/** @throws Stop with the exit code for files */
export function readText(file: string): string {
  try {
    if (statSync(file).size > LARGEST_READ) throw new Stop(EXIT.file, `cannot read ${file}: it is larger than 50 MB`)
    return readFileSync(file, 'utf8')
  } catch (error) {
    if (error instanceof Stop) throw error
    throw new Stop(EXIT.file, `cannot read ${file}: ${reason(error)}`)
  }
}

/** Issues as text, each with its source line. */
export function issuesText(issues: readonly Issue[], text: string): string {
  const lines = text.split(/\r?\n/)
  return issues.map((one) => printIssue(one, one.position && lines[one.position.line - 1]?.slice(0, 200))).join('\n\n')
}

/** Reads a description; its mistakes end the command. @throws Stop */
export function loadSystem(file: string): { system: System; warnings: string } {
  const text = readText(file)
  const { system, issues } = parseSystem(text, file)
  if (system) return { system, warnings: issues.length > 0 ? issuesText(issues, text) : '' }
  throw new Stop(EXIT.mistakes, `${issuesText(issues, text)}\n\n${countWords(issues)}`, issues)
}

/** "2 errors, 1 warning" */
export function countWords(issues: readonly Issue[]): string {
  const count = (severity: Issue['severity']) => issues.filter((one) => one.severity === severity).length
  const word = (n: number, name: string) => (n > 0 ? [`${n} ${name}${n === 1 ? '' : 's'}`] : [])
  return [...word(count('error'), 'error'), ...word(count('warning'), 'warning')].join(', ') || 'no mistakes'
}

/** Reads a job, and where its values stand. @throws Stop */
export function loadJob(file: string): { job: Job; locate: LocateInJob; text: string } {
  const text = readText(file)
  const { job, issues } = parseJob(text, file)
  if (!job) throw new Stop(EXIT.mistakes, `${issuesText(issues, text)}\n\n${countWords(issues)}`, issues)
  return { job, locate: locator(text, file), text }
}

function locator(text: string, file: string): LocateInJob {
  const counter = new LineCounter()
  const document = parseDocument(text, { lineCounter: counter })
  return (path) => {
    const node = document.getIn(path, true)
    if (!isNode(node) || !node.range) return undefined
    const { line, col } = counter.linePos(node.range[0])
    return { file, line, column: col, length: 1 }
  }
}

/** Writes a file of results. @throws Stop */
export function writeResult(file: string, text: string): void {
  try {
    writeFileSync(file, text)
  } catch (error) {
    throw new Stop(EXIT.file, `cannot write ${file}: ${reason(error)}`)
  }
}

/** Keeps a job: written beside and moved into place, so that a cut of power leaves the old or the new, never half. @throws Stop */
export function keepJob(file: string, job: Job): void {
  const beside = `${file}.part`
  try {
    writeFileSync(beside, serialiseJob(job))
    renameSync(beside, file)
  } catch (error) {
    throw new Stop(EXIT.file, `cannot write ${file}: ${reason(error)}`)
  }
}
