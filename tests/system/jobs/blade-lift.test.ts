import { holdJobs } from './hold-jobs.js'

holdJobs('blade-lift')
