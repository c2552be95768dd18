import type { IssueList } from '@halfsplit/system'
import type { Next, Step } from './model.js'

/** Steps that follow a step. */
export const stepsAfter = ({ pass, fail }: Step): string[] =>
  [pass, fail].flatMap((next: Next) => (next.kind === 'step' ? [next.step] : []))

/** A sheet that leads back to a step never ends; one that never leads to a step has it for nothing. */
export function checkWays(issues: IssueList, steps: readonly Step[]): void {
  const byId = new Map(steps.map((step) => [step.id, step]))
  const done = new Set<string>()
  const visit = (step: Step, way: readonly string[]): void => {
    const back = way.indexOf(step.id)
    if (back >= 0) {
      issues.add('CYCLIC_STEPS', `the procedure leads back to step '${step.id}'`, step.position, {
        received: [...way.slice(back), step.id].join(', then '),
        fix: 'end one of them with a conclusion, or lead on to another step',
      })
      return
    }
    if (done.has(step.id)) return
    for (const id of stepsAfter(step)) visit(byId.get(id) as Step, [...way, step.id])
    done.add(step.id)
  }
  if (steps.length > 0) visit(steps[0], [])
  for (const { id, position } of steps) {
    if (done.has(id) || issues.hasErrors) continue
    issues.warn('STEP_UNREACHED', `no way leads to step '${id}'`, position, { fix: 'lead a step to it, or delete it' })
  }
}
