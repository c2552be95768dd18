import { type Job, JOB_FORMAT } from '@halfsplit/job'
import type { Complaint, System } from '@halfsplit/system'
import { unknownName } from '../stop.js'
import { columns } from '../words/layout.js'

/** A new job on a described machine, with a complaint of its list or in the owner's own words. */
export function newJob(system: System, complaint?: Complaint, words?: string): Job {
  const looks = complaint?.shows.map(({ state, part, look, word }) => ({ state, observable: `${part}.${look}`, word }))
  return {
    format: JOB_FORMAT,
    machine: system.title,
    description: { name: system.name, hash: system.hash },
    complaint: { words: words ?? complaint?.words ?? '', ...(looks ? { looks } : {}) },
    entries: [],
  }
}

/** The complaint with this id. @throws Stop with the nearest ones */
export function complaintNamed(system: System, id: string): Complaint {
  const found = system.complaints.find((one) => one.id === id)
  if (found) return found
  throw unknownName(
    'complaint',
    id,
    system.complaints.map((one) => one.id),
  )
}

/** Asks for the complaint: first in the owner's words, then which of the described ones is nearest. */
export class Intake {
  private words: string | undefined
  job: Job | undefined

  constructor(private readonly system: System) {}

  show(): string[] {
    const { complaints, title } = this.system
    if (complaints.length === 0) return [`${title}. What does the owner say?`]
    const rows = complaints.map((one, i) => [`${i + 1}`, one.words])
    return [`${title}. What does the owner say? A number, or his own words.`, ...columns(rows)]
  }

  prompt(): string {
    return this.words === undefined ? 'complaint > ' : 'nearest, or Enter for none > '
  }

  answer(line: string): string[] {
    const text = line.trim()
    const { complaints } = this.system
    const chosen = complaints[Number(text) - 1] ?? complaints.find(({ id }) => id === text)
    if (chosen) this.job = newJob(this.system, chosen, this.words)
    else if (this.words !== undefined) {
      if (text !== '') return [`There is no complaint "${text}"; a number from 1 to ${complaints.length}, or Enter for none.`]
      this.job = newJob(this.system, undefined, this.words)
    } else if (text === '' || complaints.length === 0) this.job = newJob(this.system, undefined, text)
    else {
      this.words = text
      return ['Kept in his words. Which of the list is nearest?']
    }
    return []
  }
}
