import type { RepairDecision } from '@halfsplit/diagnosis'
import { capital } from '../words/layout.js'
import { oddsWords } from '../words/odds.js'
import { minutesWords } from '../words/states.js'
import type { Case } from './case.js'

/** Beliefs beyond these ends hang on nothing: the advice is the same at any belief one could have. */
const ALWAYS = 0.02
const NEVER = 0.98

/** A suspect under this is not thought of being bought. */
const LEAST_BELIEF = 0.1

/** Repair now or test on, with the belief at which both cost the same; nothing where nothing is suspected. */
export function decisionLines(open: Case): string[] {
  const [top] = open.standing.repairs
  if (!top || top.probability < LEAST_BELIEF) return []
  const decision = open.decision()
  if (!decision) return []
  return [`  ${breakEvenWords(decision)}`]
}

function breakEvenWords({ repair, belief, cost, tests, plan, breakEven, advice }: RepairDecision): string {
  const price = cost.price > 0 ? ` and ${round(cost.price)} for the part` : ''
  const what = `${repair} takes ${minutesWords(cost.minutes)}${price}`
  if (!Number.isFinite(tests)) return `No test left tells whether it is ${repair}: ${what}.`
  const ways = plan
    ? `${what}; to the end about ${round(plan.repairNow)} if it is made now, ${round(plan.testOn)} with a test first`
    : `${what}; tests that would tell, about ${round(tests)}`
  if (breakEven <= ALWAYS) return `Repair at any odds: ${ways}.`
  const at = breakEven >= NEVER ? 'over 19 in 20' : `about ${oddsWords(breakEven)}`
  return `Break-even: ${at}; now ${oddsWords(belief)}: ${advice}. ${capital(ways)}.`
}

/** Money without false digits. */
export const round = (money: number): string => String(Number(money.toPrecision(2)))
