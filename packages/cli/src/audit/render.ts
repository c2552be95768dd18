import type { Audit, FaultShare, Figures, Finding, RepairConclusion } from '@halfsplit/procedure'
import type { System } from '@halfsplit/system'
import type { Paint } from '../io.js'
import { columns, labelled, listed, wrap } from '../words/layout.js'
import { partWords } from '../words/names.js'
import { chanceWords } from './chance.js'
import { findingWords } from './finding-words.js'

/** What the computed plan for the same complaint takes, to set beside a sheet: whole jobs, until mended [min, the shop's money]. */
export interface PlanCost {
  meanMinutes: number
  worstMinutes: number
  meanMoney: number
}

/** An audit as it is printed. */
export function auditLines(system: System, audit: Audit, print: Paint, plan?: PlanCost): string[] {
  const { procedure, findings, conclusions, figures } = audit
  const complaint = system.complaints.find(({ id }) => id === procedure.complaint)
  const whose = complaint
    ? `"${complaint.words}": ${figures.faults.length} faults show it`
    : `all ${figures.faults.length} faults`
  return [
    print.bold(procedure.title),
    ...wrap(`Held against ${system.title}. ${whose}.`, WIDTH),
    '',
    print.bold(findings.length === 0 ? 'No mistake found in this sheet' : 'Mistakes in this sheet'),
    ...findings.flatMap((one, i) => findingLines(system, one, i + 1, print)),
    ...(conclusions.some(({ weight }) => weight > 0)
      ? ['', print.bold('Repairs it ends in'), ...conclusionLines(conclusions)]
      : []),
    '',
    print.bold('What comes of it'),
    ...figureLines(figures, plan),
    '',
    ...wrap(LEFT_OUT, WIDTH),
  ]
}

const WIDTH = 100
const LEFT_OUT =
  'Single faults only; nobody misreads a display. ' +
  'Shares are of machines that come in with the complaint, by how often each fault comes.'

function findingLines(system: System, finding: Finding, number: number, print: Paint): string[] {
  const { title, why, mend } = findingWords(system, finding)
  const { file, line } = finding.step.position
  const indent = '    '
  return [
    `${String(number).padStart(2)}. ${print.bold(`${finding.step.id}: ${title}`)} ${print.dim(`(${file.replace(/^.*[/\\]/, '')}:${line})`)}`,
    ...wrap(why, WIDTH, indent),
    ...wrap(`Mend it: ${mend}`, WIDTH, indent),
  ]
}

const MOST_INSTEAD = 3

/** Every repair the sheet ends in, how many come to it, and how often it is the right one. */
function conclusionLines(conclusions: readonly RepairConclusion[]): string[] {
  const all = conclusions.reduce((sum, { weight }) => sum + weight, 0)
  const rows = conclusions
    .filter(({ weight }) => weight > 0)
    .map(({ step, passed, repair, weight, cured, causeLeft, instead }) => {
      const named = instead.slice(0, MOST_INSTEAD).map((one) => one.repair ?? 'nothing')
      const more = instead.length > MOST_INSTEAD ? [`${instead.length - MOST_INSTEAD} more`] : []
      const left = causeLeft > 0 ? [`the cause stays, ${chanceWords(causeLeft / weight)}`] : []
      const else_ = [...left, ...(named.length > 0 ? [`else ${listed([...named, ...more])}`] : [])]
      return [
        `${step.id}, ${passed ? 'yes' : 'no'}`,
        repair,
        chanceWords(weight / all),
        chanceWords(cured / weight),
        else_.join('; '),
      ]
    })
  return columns([['as expected?', 'repair', 'of its repairs', 'right', ''], ...rows])
}

function figureLines(figures: Figures, plan: PlanCost | undefined): string[] {
  const { cured, causeLeft, goodPart, nothingFound, noConclusion } = figures
  const whole = (value: number) => String(Math.round(value))
  const minutes = (value: number) => `${whole(value)} min`
  return labelled([
    ['right repair', chanceWords(cured)],
    ...(causeLeft > 0 ? [['cause left in', chanceWords(causeLeft)] as const] : []),
    ['good part', `${chanceWords(goodPart)}: repaired or replaced though another repair was needed`],
    ['called sound', `${chanceWords(nothingFound)}${nothingFound > 0 ? ', most of them faults that come and go' : ''}`],
    ['no conclusion', chanceWords(noConclusion)],
    ['never found', neverWords(figures)],
    ['sound machine', figures.sound.map(({ conclusion, share }) => `${conclusion}: ${chanceWords(share)}`).join('; ')],
    [
      'time',
      `${minutes(figures.meanMinutes)} of tests on average, ${minutes(figures.worstMinutes)} at worst; ` +
        `${minutes(figures.meanJobMinutes)} on average with the repair it ends in`,
    ],
    [
      'money',
      `${whole(figures.meanMoney)} on average with that repair, ${whole(figures.worstMoney)} at worst; ` +
        `${whole(figures.goodPartMoney)} of the average goes into good parts; ` +
        `${whole(figures.meanJobMoney)} once those not mended have come back`,
    ],
    ...(plan
      ? [
          [
            'computed plan',
            `${minutes(plan.meanMinutes)} on average until it is mended and proved, ${minutes(plan.worstMinutes)} at worst; money ${whole(plan.meanMoney)}`,
          ] as const,
        ]
      : []),
  ])
}

const MOST_FAULTS = 6

function neverWords({ faults, neverFound }: Figures): string {
  if (neverFound.length === 0) return `none of ${faults.length} faults`
  const share = neverFound.reduce((sum, { weight }) => sum + weight, 0)
  const named = neverFound.slice(0, MOST_FAULTS).map(faultWords)
  const more = neverFound.length > MOST_FAULTS ? [`${neverFound.length - MOST_FAULTS} more`] : []
  return `${neverFound.length} of ${faults.length} faults, ${chanceWords(share)} of the machines: ${[...named, ...more].join('; ')}`
}

const faultWords = ({ fault: { part, mode, other } }: FaultShare): string =>
  `${partWords(part)} ${mode.title}${other ? ` ${other}` : ''}`
