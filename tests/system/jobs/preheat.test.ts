import { holdJobs } from './hold-jobs.js'

holdJobs('preheat')
