import { holdJobs } from './hold-jobs.js'

holdJobs('cab-heater')
