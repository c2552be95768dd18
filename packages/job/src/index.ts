export {
  type Action,
  ACTIONS,
  type CouldNot,
  type Entry,
  type Found,
  type Intervention,
  INTERVENTIONS,
  type Look,
  type Reading,
  type Repair,
  type Setup,
  type Shown,
  type Undo,
} from './entry.js'
export { type Complaint, type ComplaintLook, type EarlierJob, type Job, JOB_FORMAT, serialiseJob } from './job.js'
export { effectiveEntries, foundOnTheWay, type NumberedEntry, type Segment, segments } from './log.js'
export { JOB_ISSUE_CODES, type ParsedJob, parseJob } from './parse-job.js'
