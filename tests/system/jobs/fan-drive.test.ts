import { holdJobs } from './hold-jobs.js'

holdJobs('fan-drive')
