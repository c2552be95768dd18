#!/usr/bin/env node
import { runProgram } from './program.js'
import { terminal } from './terminal.js'

// The exit code is set, not forced, so that a pipe gets all that was printed.
process.exitCode = await runProgram(terminal(), process.argv.slice(2))
