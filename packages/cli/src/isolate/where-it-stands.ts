import type { Paint } from '../io.js'
import type { Case } from './case.js'
import { decisionLines } from './decide.js'
import { comebackLines, foundLines, noFaultLines } from './ends.js'
import { fitLines } from './fit.js'
import { proofLines } from './prove.js'
import { suspectLines, verdictLines } from './render.js'

/**
 * Where a job stands: what it comes back from, suspects, what does not fit, the verdict with its break-even, then the proof of a repair or an
 * honest end, and what else was found. A blank line between parts.
 */
export function standingLines(open: Case, print: Paint): string[] {
  const ended = noFaultLines(open, print)
  const parts = [
    comebackLines(open),
    suspectLines(open, print),
    fitLines(open),
    ended.length > 0 ? ended : [...verdictLines(open, print), ...decisionLines(open)],
    proofLines(open, print),
    foundLines(open),
  ]
  return parts.filter((lines) => lines.length > 0).flatMap((lines) => [...lines, ''])
}
