import { GAP } from '../insulation.js'
import type { Kind, PartView } from '../kind.js'
import { beyondJoint } from '../severity.js'

const STEPS = ['1', '2', '3', '4'] as const

/** Whether the contact to a step is closed. */
function closed(part: PartView, step: string): boolean {
  if (step === '1' && part.fault('stuck_closed')) return true
  if (part.fault(`step_${step}_open`) ?? part.fault('intermittent')) return false
  return part.setting('position') === step
}

/** Minutes and prices of the repairs are assumptions of the invented depot. */
export const stepSwitch: Kind = {
  name: 'step-switch',
  title: 'step switch',
  letter: 'S',
  symbol: 'switch, multi-position',
  about: 'Turning or sliding switch: off, or its feed on one of up to four steps. Steps not joined to anything are not there.',
  // Of "switch", without: out of adjustment, since no lever has to reach it.
  incidence: 1.5 * 0.8,
  ports: [
    { name: 'feed', domain: 'electrical', about: 'supply' },
    ...STEPS.map((step) => ({ name: `step${step}`, domain: 'electrical', about: `live at step ${step}` }) as const),
  ],
  ratings: { contact: { dimension: 'resistance', about: 'closed contact', default: '10 mOhm', spread: 'factor' } },
  settings: { position: { about: 'of the knob', words: ['off', ...STEPS], default: 'off' } },
  build(part, make) {
    const wiper = make.inner('wiper', 'electrical')
    const worn = part.fault('high_contact_resistance') ?? 0
    make.conductance('wiper', make.port('feed'), wiper, 2 / (part.value('contact') + 2 * worn))
    for (const step of STEPS) {
      make.conductance(`step${step}`, wiper, make.port(`step${step}`), closed(part, step) ? 2 / part.value('contact') : GAP)
    }
  },
  modes: [
    {
      id: 'high_contact_resistance',
      title: 'worn or burnt wiper',
      share: 0.36,
      severity: (part) => beyondJoint(part.value('contact')),
      repair: 'replace',
    },
    ...STEPS.map((step) => ({
      id: `step_${step}_open`,
      title: `step ${step} will not make`,
      share: 0.25 / STEPS.length,
      repair: 'replace',
    })),
    { id: 'stuck_closed', title: 'step 1 stuck closed', share: 0.11, repair: 'replace' },
    { id: 'intermittent', title: 'comes and goes', share: 0.08, intermittent: true, repair: 'replace' },
  ],
  repairs: { replace: { title: 'replace the step switch', minutes: 25, price: 38, disturbs: true } },
  isolated: STEPS.map((step) => ({ title: `contact of step ${step}`, red: 'feed', black: `step${step}`, minutes: 4 })),
  jumper: { across: STEPS.map((step) => ['feed', `step${step}`] as const) },
}
