import { parseQuantity } from '@halfsplit/core'
import {
  CLOSED_CONTACT,
  CONTACT_RESISTANCE,
  coilDecayTime,
  coilTimeConstant,
  contactDrop,
  hottestPullIn,
  INSULATION,
  KINDS,
  OPEN_COIL,
  OPERATIVE_RANGE,
  pullInAt,
} from '@halfsplit/kinds'
import { type Answers, named, number, type Row, sorts, type Topic } from './handbook-row.js'

const ohm = (value: number, ...names: string[]) => named(value, 'Ohm', ...names)

const decay: Topic = (row) => {
  const coil = { resistance: number(row, 'R', 'Ohm'), inductance: number(row, 'L', 'H') }
  return { ...named(coilTimeConstant(coil), 's', 'tau'), ...named(coilDecayTime(coil, 0.1), 's', 't10') }
}

const operativeRange: Topic = (row) => {
  const range = OPERATIVE_RANGE[Number(/class (\d)/.exec(row.what)?.[1])]
  return range ? { ...named(range.least, '1', 'min'), ...named(range.most, '1', 'max') } : { cannot: 'no such class' }
}

/** Healthy resistance of a pin in its socket, as its kind has it [ohm]. */
function healthyPin(row: Row): Answers {
  const written = parseQuantity(KINDS.get('pin')?.ratings.contact.default ?? '', 'resistance')
  if (!written.ok) return { cannot: 'the kind of pin has no usual resistance' }
  return row.what.includes('terminal') ? ohm(written.value.value, 'Rmax') : { cannot: 'no terminal of a plug' }
}

/** Share of its rated 12 V at which the relay of our kinds may let go. */
const release: Topic = () => {
  const written = parseQuantity(KINDS.get('relay')?.ratings.drop_out.default ?? '', 'voltage')
  return written.ok ? named(written.value.value / 12, '1', 'share') : { cannot: 'the kind of relay has no usual release' }
}

const facts = (what: string) => () => ({ cannot: what })

/** Topic 11. */
export const contact: Topic = sorts(
  [
    { words: /with a plain diode/, inputs: ['R', 'L', 'I'], answer: decay },
    {
      words: /^Pick-up voltage/,
      inputs: ['U23', 't'],
      answer: (row) => named(pullInAt(number(row, 'U23', 'V'), number(row, 't', 'K')), 'V', 'U'),
    },
    {
      words: /picks up on/,
      inputs: ['U', 'U23'],
      answer: (row) => named(hottestPullIn(number(row, 'U', 'V'), number(row, 'U23', 'V')), 'K', 't'),
    },
    { words: /^Largest contact drop/, inputs: ['I'], answer: (row) => named(contactDrop(number(row, 'I', 'A')), 'V', 'dUmax') },
    { words: /^Contact resistance that this limit means/, answer: () => ohm(CONTACT_RESISTANCE, 'R') },
    { words: /^Operative range class/, answer: operativeRange },
    { words: /^Total connection resistance/, answer: healthyPin },
    { words: /^Isolation resistance between terminals/, answer: () => ohm(INSULATION.terminals, 'Rmin') },
    { words: /^Winding below 1 kV/, answer: () => ohm(INSULATION.winding, 'Rmin') },
    { words: /coil.* open lead|open.* coil/, answer: () => ohm(OPEN_COIL, 'Rmin') },
    { words: /^Closed relay contact/, answer: () => ohm(CLOSED_CONTACT, 'Rmax') },
    { words: /^Relay test ambient/, answer: facts('the ambient of a test: nothing is computed from it') },
    { words: /^Release voltage/, answer: release },
    {
      words: /^Coil resistance of the 12 V relay|^Contact voltage drop|^Operate and release time/,
      answer: facts('of one relay type by its data sheet: not computed'),
    },
  ],
  'no coil, contact, connector or insulation with what it takes to compute it',
)
