/** A job: machine, description, complaint and the ordered log of what was done. */

import * as z from 'zod'
import { ENTRY_KEYS, entrySchema } from './entry.js'

const name = z.string().min(1)

/** The version of the file's form; a later form gets a later number and a way to read this one. */
export const JOB_FORMAT = 'halfsplit-job/1'

const complaintLook = z.strictObject({ state: name, observable: name, word: name })

const complaint = z.strictObject({
  /** In the owner's words. */
  words: z.string(),
  /** What of it can be seen: an observable of a part in a state of the machine. */
  looks: z.array(complaintLook).optional(),
  /** Days since it last worked well. */
  sinceDays: z.number().positive().optional(),
  howOften: z.enum(['always', 'often', 'sometimes', 'rarely']).optional(),
  /** Whether somebody worked on the machine since it last worked well. */
  workedOnSince: z.boolean().optional(),
})

/** An earlier job on the same machine that this one is a comeback of: what was read and done then, and how old it is. */
const earlier = z.strictObject({
  /** Days from the end of that job to the beginning of this one. */
  ageDays: z.number().min(0),
  complaint,
  entries: z.array(entrySchema),
})

/** The description by its name, and the hash of its text when the job was begun. */
const description = z.strictObject({ name, hash: name.optional() })

export const jobSchema = z.strictObject({
  format: z.literal(JOB_FORMAT),
  machine: z.string(),
  description,
  complaint,
  /** The meter used where an entry names none. */
  meter: name.optional(),
  comebackOf: earlier.optional(),
  entries: z.array(entrySchema),
})

/** Every key a job may have, for the nearest names of a wrong one. */
export const JOB_KEYS: readonly string[] = [
  ...[jobSchema, earlier, description, complaint, complaintLook].flatMap((form) => Object.keys(form.shape)),
  ...ENTRY_KEYS,
]

export type Complaint = z.infer<typeof complaint>
export type ComplaintLook = z.infer<typeof complaintLook>
export type EarlierJob = z.infer<typeof earlier>
export type Job = z.infer<typeof jobSchema>

/**
 * The job as text: JSON with two blanks of indent, keys always in the same order, line break at the end. `parseJob` of it gives the
 * same job.  Checked in job.prop.test.ts.
 */
export function serialiseJob(job: Job): string {
  return `${JSON.stringify(jobSchema.parse(job), null, 2)}\n`
}
