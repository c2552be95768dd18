import { GAP } from '../insulation.js'
import type { Kind, PartView } from '../kind.js'
import { beyondJoint } from '../severity.js'

/** Cold drop over the link of a blade fuse at its rated current [V]: 7.5 mOhm for 10 A. Common practice, no source. */
const LINK_DROP = 0.075

/** Multiple of the rated current that opens the link when it lasts. Common practice, no source. */
const OPENS_AT = 1.5

/** How many times too large the wrong fuse is that someone found at hand; an assumption. */
const TOO_LARGE = 2

const fitted = (part: PartView): number => part.value('rating') * (part.fault('wrong_rating_fitted') ? TOO_LARGE : 1)

const link = (part: PartView): number | undefined => part.fault('open_by_overload') ?? part.fault('open_by_age_or_crack')

/** Minutes and prices of the repairs are assumptions of the invented depot. */
export const fuse: Kind = {
  name: 'fuse',
  title: 'fuse with holder',
  letter: 'F',
  symbol: 'fuse',
  about: 'Fuse and its clips. It opens for good above one and a half times its rating; a blown fuse has its reason elsewhere.',
  // Without: open by overload, which the model must bring about by itself.
  incidence: 0.3 * 0.45,
  ports: [
    { name: 'a', domain: 'electrical', about: 'supply side' },
    { name: 'b', domain: 'electrical', about: 'load side' },
  ],
  ratings: {
    rating: { dimension: 'current', about: 'rated current', default: '10 A' },
    clips: { dimension: 'resistance', about: 'both clips of the holder', default: '2 mOhm', spread: 'factor' },
  },
  build(part, make) {
    const open = link(part) ?? part.fault('looks_good_is_open')
    const resistance = LINK_DROP / fitted(part) + part.value('clips') + (part.fault('holder_high_resistance') ?? 0)
    make.conductance('link', make.port('a'), make.port('b'), open ? GAP : 1 / resistance)
    make.signal('blown', (id) => ({ type: 'imposed', id, value: link(part) !== undefined }))
  },
  modes: [
    {
      id: 'holder_high_resistance',
      title: 'holder has high resistance',
      share: 0.27,
      severity: (part) => beyondJoint(part.value('clips')),
      repair: 'holder',
    },
    { id: 'open_by_age_or_crack', title: 'link cracked', share: 0.1, repair: 'replace' },
    { id: 'wrong_rating_fitted', title: 'wrong rating fitted', share: 0.06, byHand: true, repair: 'replace' },
    { id: 'looks_good_is_open', title: 'looks good, is open', share: 0.02, repair: 'replace' },
    { id: 'open_by_overload', title: 'blown', share: 0, repair: 'replace' },
  ],
  repairs: {
    replace: { title: 'replace the fuse', minutes: 2, price: 1, disturbs: true },
    holder: { title: 'renew the fuse holder clips', minutes: 20, price: 9 },
  },
  looks: [
    {
      name: 'link',
      about: 'link of the fuse, pulled and held to the light',
      words: ['intact', 'blown'],
      levels: [[0.4, 0.6]],
      quantity: () => ({ signal: 'blown' }),
      by: 'technician',
      minutes: 2,
    },
  ],
  isolated: [{ title: 'continuity of the fuse', red: 'a', black: 'b', minutes: 2 }],
  jumper: { across: [['a', 'b']] },
  overload: (part) => ({ element: 'link', limit: OPENS_AT * fitted(part), mode: 'open_by_overload' }),
  unplugs: true,
  swaps: true,
}
