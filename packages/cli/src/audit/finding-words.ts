import { formatValue } from '@halfsplit/core'
import type { Condemned, Contradiction, Finding, NoTemperature, NoWarning, ProvesNothing } from '@halfsplit/procedure'
import type { System } from '@halfsplit/system'
import { capital, listed } from '../words/layout.js'
import { repairTitle } from '../words/suspects.js'
import { probeWords } from '../words/test-words.js'
import { chanceWords } from './chance.js'
import { expectWords, showsWords } from './step-words.js'

/** A finding in words: what it is, why, what to do. */
export interface FindingWords {
  title: string
  why: string
  mend: string
}

/** What is wrong with a step, and what would mend it. */
export function findingWords(system: System, finding: Finding): FindingWords {
  switch (finding.kind) {
    case 'contradicts the description':
      return contradiction(finding)
    case 'limits without a temperature':
      return noTemperature(finding)
    case 'proves nothing':
      return provesNothing(finding)
    case 'good part condemned':
      return condemned(system, finding)
    case 'no warning':
      return noWarning(finding)
  }
}

const ohms = (value: number): string => formatValue(value, 'resistance', { digits: 3 })

function contradiction({ step, fails, shows }: Contradiction): FindingWords {
  return {
    title: 'a sound machine shows something else',
    why:
      `It expects ${expectWords(step)} (${probeWords(step.test.probe)}). By the description a sound machine shows ` +
      `${showsWords(shows, step)} in ${step.test.setup.state}; of sound machines ${chanceWords(fails)} fail the step.`,
    mend: 'expect what the description computes, or correct the description if the machine is built otherwise.',
  }
}

function noTemperature({ step, worst }: NoTemperature): FindingWords {
  const degrees = worst && formatValue(worst.temperature, 'temperature', { digits: 2 })
  const seen = worst
    ? ` In ${worst.state}, at ${degrees}, good parts read ${showsWords({ ...worst, kind: 'range' }, step)}: ` +
      `${chanceWords(worst.fails)} of them fail. ${ohms(worst.reading)} there are ${ohms(worst.at20)} at 20 degC, which is ${worst.verdict}.`
    : ''
  return {
    title: 'limits without a temperature',
    why: `It expects ${expectWords(step)} and does not say at which temperature.${seen}`,
    mend: 'say at which temperature the limits hold, measure it with the resistance, and correct by 0.39 % a kelvin.',
  }
}

const WHY: Record<ProvesNothing['why'], string> = {
  'nobody comes here': 'No machine with this complaint comes to this step.',
  'already settled': 'By then it is settled what is wrong.',
  'all show the same': 'Nearly all machines that come here show the same, whatever is wrong with them.',
  'cannot tell': 'Whatever it shows, the same repairs stay as likely as they were.',
}

function provesNothing({ why }: ProvesNothing): FindingWords {
  return {
    title: 'proves nothing',
    why: WHY[why],
    mend: 'leave it out, or take a reading there that differs between the faults still possible.',
  }
}

const MOST_NAMED = 4

function condemned(system: System, { passed, repair, wrong, instead }: Condemned): FindingWords {
  const named = instead.slice(0, MOST_NAMED).map((one) => `${one.repair ?? 'nothing'} (${chanceWords(one.share)})`)
  const more = instead.length > MOST_NAMED ? [`${instead.length - MOST_NAMED} more`] : []
  return {
    title: `condemns a good part with "${repair}"`,
    why:
      `${capital(repairTitle(system, repair))} ${passed ? 'if it shows what is expected' : 'if it does not'}: ` +
      `${chanceWords(wrong)} of these repairs are made on a good part. ` +
      `It shows the same when what is needed is ${listed([...named, ...more])}.`,
    mend: `before "${repair}" add a step that tells these apart.`,
  }
}

const noWarning = ({ step, hazards }: NoWarning): FindingWords => ({
  title: 'no warning',
  why: `In ${step.test.setup.state}: ${hazards.join('; ')}. Neither the step nor the head of the sheet says so.`,
  mend: 'warn before the step.',
})
