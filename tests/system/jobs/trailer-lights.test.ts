import { holdJobs } from './hold-jobs.js'

holdJobs('trailer-lights')
