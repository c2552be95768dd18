export { type Chances, modeOf, repairOf, VirtualMachine } from './virtual-machine.js'
export type { Shown } from './virtual-meter.js'
export { type DrawnJob, drawJob, type JobOrder } from './draw-job.js'
export { lookEntry, readingEntry } from './job-entries.js'
