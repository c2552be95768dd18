/** The entries of a job's log, as a schema: what was read, seen, not done, done, repaired and met on the way. */

import * as z from 'zod'

const name = z.string().min(1)
/** When, as written by whoever took the entry; the log's order is what counts. */
const at = z.string().optional()

/** What is done to the machine for one setup and taken back after it. */
export const INTERVENTIONS = ['unplug', 'jumper', 'isolate', 'supply', 'load', 'operate', 'shop-air', 'remove', 'swap'] as const

/** What is done to the machine and may cure a fault for now, disturb a contact, or provoke what comes and goes. */
export const ACTIONS = [
  'unplug',
  'plug-in',
  're-seat',
  'jumper',
  'tap',
  'wiggle',
  'warm',
  'cool',
  'wet',
  'clean',
  'adjust',
  'reset',
  'swap',
] as const

const intervention = z.strictObject({ do: z.enum(INTERVENTIONS), target: name })

/** The state the machine is in, by its name in the description, with at most two interventions (two isolate both ends). */
const setup = z.strictObject({ state: name, interventions: z.array(intervention).max(2).optional() })

/** What the display showed, in the unit it showed. `decimals`: places after the point, so that 11.90 stays apart from 11.9. */
const shown = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('value'), value: z.number(), unit: name, decimals: z.int().min(0).max(9).optional() }),
  z.strictObject({ kind: z.literal('over-range'), side: z.enum(['high', 'low']).optional(), unit: name }),
  z.strictObject({ kind: z.literal('interval'), low: z.number(), high: z.number(), unit: name }),
  z.strictObject({ kind: z.literal('unsteady'), unit: name }),
])

const reading = z.strictObject({ kind: z.literal('reading'), setup, probe: name, shown, meter: name.optional(), at })
const look = z.strictObject({ kind: z.literal('look'), setup, observable: name, word: name, at })
const couldNot = z.strictObject({ kind: z.literal('could-not'), test: name, why: z.string().optional(), at })
const action = z.strictObject({ kind: z.literal('action'), do: z.enum(ACTIONS), target: name, at })
const repair = z.strictObject({ kind: z.literal('repair'), repair: name, parts: z.array(name).min(1), at })
const found = z.strictObject({ kind: z.literal('found'), part: name.optional(), text: name, at })
const undo = z.strictObject({ kind: z.literal('undo'), entry: z.int().min(1), at })

export const entrySchema = z.discriminatedUnion('kind', [reading, look, couldNot, action, repair, found, undo])

const forms = [...entrySchema.options, ...shown.options]

/** Every key and every kind that an entry may have, for the nearest names of a wrong one. */
export const ENTRY_KEYS: readonly string[] = [...forms, setup, intervention].flatMap((form) => Object.keys(form.shape))
export const ENTRY_KINDS: readonly string[] = forms.map((form) => form.shape.kind.value)

export type Intervention = z.infer<typeof intervention>
export type Setup = z.infer<typeof setup>
export type Shown = z.infer<typeof shown>
export type Reading = z.infer<typeof reading>
/** An observable of a part, `PART.observable`, and the word of its list that was seen. */
export type Look = z.infer<typeof look>
/** A test of the bench, by its id, that could not be done. */
export type CouldNot = z.infer<typeof couldNot>
export type Action = z.infer<typeof action>
export type Repair = z.infer<typeof repair>
/** A defect met on the way that does not explain the complaint: noted, and the job goes on. `text` in the technician's words. */
export type Found = z.infer<typeof found>
/** Takes back the entry with this number (the first entry of the log is 1); an undo may itself be taken back. */
export type Undo = z.infer<typeof undo>
export type Entry = z.infer<typeof entrySchema>
