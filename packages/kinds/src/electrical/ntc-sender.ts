import { type Gain, REFERENCE } from '@halfsplit/network'
import { DEAD_SHORT, GAP } from '../insulation.js'
import type { Builder, Kind, PartView } from '../kind.js'
import { scalding } from '../present.js'

/** Temperature at which its resistance is stated [K]. */
const AT_20 = 293.15

/**
 * The beta law  R = R20 exp(B (1/T - 1/293.15))  as a power of T - FROM:  R = R20 ((T - FROM)/(293.15 - FROM))^-n  with  n = B PER_BETA.
 * Both constants follow from the law at -15 and 80 degC, whatever B; between -30 and 110 degC the two differ by at most 2.5 %.
 * Checked in ntc-sender.test.ts against `thermistorResistance`.
 */
const FROM = 148.28
const PER_BETA = 1.67244e-3

/** The conductance of the bead as a factor that follows its temperature. */
function followsBead(part: PartView, make: Builder, bead: string): Gain[] {
  const from = make.inner('from', 'thermal', FROM)
  make.add({ type: 'across', id: 'from', a: from, b: REFERENCE, value: FROM, resistance: 0 })
  const curve = { curve: 'power', reference: AT_20 - FROM, exponent: PER_BETA * part.value('beta') } as const
  return [{ of: 'g', node: bead, less: from, curve }]
}

/** Minutes and prices of the repairs are assumptions of the invented depot. */
export const ntcSender: Kind = {
  name: 'ntc-sender',
  title: 'temperature sender',
  letter: 'B',
  symbol: 'temperature-dependent resistor, negative coefficient',
  about: 'NTC thermistor in coolant or oil: the warmer, the less resistance.',
  // Of "sensor", without: ground offset, which the wiring brings about.
  incidence: 1.5 * 0.92,
  ports: [
    { name: 'a', domain: 'electrical', about: 'signal' },
    { name: 'b', domain: 'electrical', about: 'ground: second pin or body' },
    { name: 'sense', domain: 'thermal', about: 'what it sits in' },
  ],
  ratings: {
    resistance: { dimension: 'resistance', about: 'at 20 degC', default: '2.5 kOhm +- 5 %' },
    beta: { dimension: 'temperatureDifference', about: 'slope of ln R over 1/T', default: '3550 K +- 1 %' },
  },
  build(part, make) {
    const [a, b, bead] = [make.port('a'), make.port('b'), make.port('sense')]
    const gains = followsBead(part, make, bead)
    const intact = 1 / (part.value('resistance') * (1 + (part.fault('drifted') ?? 0)))
    const g = (part.fault('open') ?? part.fault('erratic')) ? GAP : intact
    make.add({ type: 'law', id: 'bead', a, b, law: { law: 'linear', g }, gains })
    make.conductance('shorted', a, b, part.fault('short') ? DEAD_SHORT : 0)
  },
  modes: [
    {
      id: 'drifted',
      title: 'drifted, reads warm or cold',
      share: 0.35,
      // Added resistance over the right one.
      severity: { dimension: 'fraction', scale: 'linear', nodes: [-0.6, -0.4, -0.2, 0.3, 1, 3] },
      repair: 'replace',
    },
    { id: 'open', title: 'open', share: 0.25, repair: 'replace' },
    { id: 'short', title: 'shorted', share: 0.14, repair: 'replace' },
    { id: 'erratic', title: 'cracked, comes and goes', share: 0.18, intermittent: true, repair: 'replace' },
  ],
  repairs: { replace: { title: 'replace the temperature sender', minutes: 25, price: 24, disturbs: true } },
  isolated: [{ title: 'resistance of the sender', red: 'a', black: 'b', minutes: 4 }],
  hazards: [
    {
      title: 'hot',
      harm: 'lasting',
      caution: 'Coolant and oil scald; take out no sender from a hot engine.',
      present: scalding('sense'),
    },
  ],
  unplugs: true,
  swaps: true,
}
