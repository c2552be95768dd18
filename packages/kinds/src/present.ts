import type { Hazard, LookQuantity, PartView } from './kind.js'
import { METAL_TOUCH } from './physics/contact-burn.js'
import { OPEN_COOLING_BELOW } from './physics/safety-limits.js'

/** A shaft that turns faster than this catches a sleeve [rad/s]: ten turns a minute. An assumption. */
const CATCHES = 1

/** A terminal with more volts than this to ground feeds a spark [V]. An assumption. */
const LIVE = 1

/** Share of its rated volts from which a lamp is hot to the hand. An assumption. */
const LIT = 0.3

type When = NonNullable<Hazard['present']>

const across = (probe: Readonly<Record<string, number>>): LookQuantity => ({ probe: { across: probe }, scale: 1, absolute: true })

/** A shaft of the part turns. */
export const turning =
  (...nodes: readonly string[]): When =>
  () =>
    nodes.map((node) => ({ quantity: across({ [node]: 1 }), over: CATCHES }))

/** A terminal has volts to another, or to the frame. */
export const live =
  (terminal: string, other = 'frame'): When =>
  () => [{ quantity: across({ [terminal]: 1, [other]: -1 }), over: LIVE }]

/** A quantity of the part is over a level. */
export const above =
  (over: number, quantity: (part: PartView) => LookQuantity): When =>
  (part) => [{ quantity: quantity(part), over }]

/** Liquid that scalds where the part meets it. */
export const scalding =
  (node: string): When =>
  () => [{ quantity: across({ [node]: 1 }), over: OPEN_COOLING_BELOW }]

/** The body of the part is as hot as the state of the machine makes it: metal that burns at a touch. */
export const hotBody: When = (part) => [{ quantity: part.temperature, over: METAL_TOUCH.least }]

/** The caution of a body that its coil and the engine heat. */
export const HOT_COIL = 'Let it cool, or wear gloves.'

/** Pressure over the open air at any of the ports. @param over [Pa] */
export const pressed =
  (over: number, ...ports: readonly string[]): When =>
  () =>
    ports.map((port) => ({ quantity: across({ [port]: 1, air: -1 }), over }))

/** A filament between two nodes burns. */
export const lit =
  (hot: string, cold: string): When =>
  (part) => [{ quantity: across({ [hot]: 1, [cold]: -1 }), over: LIT * part.value('voltage') }]
