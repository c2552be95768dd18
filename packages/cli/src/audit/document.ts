import type { Audit, Finding } from '@halfsplit/procedure'
import type { System } from '@halfsplit/system'
import { findingWords } from './finding-words.js'
import type { PlanCost } from './render.js'

/** The JSON form of an audit: docs/reference/json.md, `halfsplit-audit/1`. */
export function auditDocument(system: System, { procedure, findings, conclusions, figures }: Audit, plan?: PlanCost) {
  const { faults, neverFound, sound, ...shares } = figures
  return {
    format: 'halfsplit-audit/1',
    machine: { name: system.name, title: system.title, hash: system.hash },
    procedure: { title: procedure.title, complaint: procedure.complaint ?? null, steps: procedure.steps.map(({ id }) => id) },
    findings: findings.map((one) => findingDocument(system, one)),
    conclusions: conclusions.map(({ step, passed, instead, ...one }) => ({
      step: step.id,
      passed,
      ...one,
      instead: instead.map(({ repair = null, weight }) => ({ repair, weight })),
    })),
    figures: { ...shares, faults: faults.length },
    neverFound: neverFound.map(({ fault, weight }) => ({ fault: fault.id, repair: fault.repair, weight })),
    soundMachine: sound.map((one) => ({ ...one })),
    plan: plan ?? null,
  }
}

function findingDocument(system: System, finding: Finding) {
  const { title, why, mend } = findingWords(system, finding)
  return { kind: finding.kind, step: finding.step.id, line: finding.step.position.line, title, why, mend }
}
