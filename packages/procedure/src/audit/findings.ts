import type { Step } from '../written/model.js'
import type { SoundShows } from './shown-by-sound.js'

/** A sound machine does not show what the step expects. */
export interface Contradiction {
  kind: 'contradicts the description'
  step: Step
  /** Share of sound machines that fail it. */
  fails: number
  /** What the description computes instead. */
  shows: SoundShows
}

/** Limits of a resistance that moves with temperature, and the sheet does not say at which they hold. */
export interface NoTemperature {
  kind: 'limits without a temperature'
  step: Step
  /** The state in which most good parts fail the limits, if any do. */
  worst?: {
    state: string
    /** Of the part [K]. */
    temperature: number
    /** Share of good parts that fail the limits there. */
    fails: number
    /** What good parts read there [ohm]. */
    low: number
    high: number
    /** What a middling good part reads there [ohm], and the same brought to 20 degC by the law of copper. */
    reading: number
    at20: number
    /** Verdict on that reading once the temperature is known, to the sheet's own limits at 20 degC. */
    verdict: 'good' | 'bad' | 'cannot tell'
  }
}

/** Whatever the step shows, as much is known of the repair as before. */
export interface ProvesNothing {
  kind: 'proves nothing'
  step: Step
  /** Information about the repair [bit]. */
  bits: number
  why: 'nobody comes here' | 'already settled' | 'all show the same' | 'cannot tell'
}

/** A part is condemned where another repair would read the same. */
export interface Condemned {
  kind: 'good part condemned'
  step: Step
  /** By which answer of the step. */
  passed: boolean
  repair: string
  /** Of those that come to this conclusion: the share that this repair does not cure, and for which the part is good. */
  wrong: number
  /** What is needed instead (undefined: nothing), each with its share of those that come here. */
  instead: readonly { repair: string | undefined; share: number }[]
}

/** Something that can hurt in a step's setup and is not warned of. */
export interface NoWarning {
  kind: 'no warning'
  step: Step
  hazards: readonly string[]
}

export type Finding = Contradiction | NoTemperature | ProvesNothing | Condemned | NoWarning
