import { holdJobs } from './hold-jobs.js'

holdJobs('air-supply')
