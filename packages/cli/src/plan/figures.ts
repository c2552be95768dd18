import type { Plan } from '@halfsplit/procedure'
import type { System } from '@halfsplit/system'
import { labelled, listed } from '../words/layout.js'
import { repairTitle } from '../words/suspects.js'

const percent = (share: number): string => `${(100 * share).toFixed(share > 0 && share < 0.0995 ? 1 : 0)} %`
const whole = (value: number): string => String(Math.round(value))

/** What the plan comes to, and what it can't do, with what the figures stand on. */
export function figureLines(system: System, plan: Plan): string[] {
  const { figures, detected, isolated, detectable, isolable } = plan
  const gap = figures.meanMoney - figures.bound
  return labelled([
    [
      'Minutes',
      `${whole(figures.meanMinutes)} on average until it is mended and proved, at most ${whole(figures.q90Minutes)} in 9 jobs of 10, ${whole(figures.worstMinutes)} at worst (1 job in 1000 takes longer)`,
    ],
    [
      'Money',
      `${whole(figures.meanMoney)} on average, ${whole(figures.worstMoney)} at worst: minutes, parts, comebacks, in the shop's money`,
    ],
    [
      'Bound',
      `no plan with these tests costs less than ${whole(figures.bound)} on average; this one lies within ${whole(gap)} of the best`,
    ],
    [
      'Right',
      `${percent(figures.firstRepairRight)} cured by the first repair; ${figures.goodPartsPer100.toFixed(1)} good parts replaced in 100 jobs; ${percent(figures.wrongEnd)} come back`,
    ],
    ['Detected', `${percent(detected.byRate)} of the faults by rate, ${percent(detected.byCount)} by count`],
    [
      'Isolated',
      `of these to 1, 2, 3 repairs: ${fractions(isolated, 'byRate')} by rate, ${fractions(isolated, 'byCount')} by count`,
    ],
    [
      'At most',
      `with every test at hand: ${percent(detectable.byRate)} detected by rate; isolated ${fractions(isolable, 'byRate')} by rate, ${fractions(isolable, 'byCount')} by count`,
    ],
    ['Not seen', unseenWords(plan)],
    ['Not apart', alikeWords(system, plan)],
    [
      'Left out',
      `${percent(plan.leftOut)} of the belief is lighter suspects, ${percent(plan.notDescribed)} something not in this description; ${percent(figures.rest)} of the jobs leave the steps and are counted with repairs in order`,
    ],
    [
      'Made of',
      `${plan.faults} faults, one of which is there, and ${plan.tests} tests that tell them apart; fractions as in docs/reference/cli.md`,
    ],
  ])
}

const fractions = (shares: Plan['isolated'], by: 'byRate' | 'byCount'): string =>
  listed(shares.map((share) => percent(share[by])))

function unseenWords({ unseen }: Plan): string {
  if (unseen.length === 0) return 'no fault that all tests at hand would miss'
  return `with these tools no test tells from a sound machine: ${listed(unseen.map(({ fault, share }) => `${fault} (${percent(share)} of the jobs)`))}`
}

function alikeWords(system: System, { alike }: Plan): string {
  if (alike.length === 0) return 'no two repairs that all tests at hand leave together'
  const pairs = alike.map(({ repairs: [one, other] }) => `${one} or ${other}`)
  return `with these tools nobody can tell, in some size of the faults: ${pairs.join('; ')}. For the first pair: ${alike[0].repairs.map((repair) => repairTitle(system, repair)).join(', or ')}`
}
