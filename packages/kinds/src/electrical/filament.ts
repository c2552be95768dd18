import type { Law } from '@halfsplit/network'
import type { Look, PartView } from '../kind.js'

/** Resistance of a filament grows with this power of its voltage, and cold it is at least this part of hot; both assumed. */
const GROWTH = 0.45
const HOT_OVER_COLD = 12

/**
 * Law of a filament that takes `power` [W] at `voltage` [V]:  R(v) = cold (1 + (v/knee)^2)^(GROWTH/2), cold = hot/12, and the knee
 * such that R(voltage) = voltage^2/power. It is max(hot (v/voltage)^0.45, hot/12) with the corner rounded, where the lamp is dark anyway.
 */
export function filamentLaw(power: number, voltage: number): Law {
  const exponent = GROWTH / 2
  const knee = voltage / Math.sqrt(HOT_OVER_COLD ** (1 / exponent) - 1)
  return { law: 'filament', cold: voltage ** 2 / power / HOT_OVER_COLD, knee, exponent }
}

/** The law of a broken filament: the same law, next to nothing of the power. */
export const brokenFilament = (voltage: number): Law => filamentLaw(1e-9, voltage)

/**
 * How a filament looks by the share of its rated voltage. Light goes with about the 3.4th power of the volts (from memory): at a fifth
 * it is a red glow that daylight hides, above nine tenths nobody tells it from full. The levels are an assumption.
 */
export function lightLook(name: string, about: string, hot: string, cold: string, lit: (part: PartView) => boolean): Look {
  return {
    name,
    about,
    words: ['dark', 'dim', 'bright'],
    levels: [
      [0.12, 0.22],
      [0.75, 0.9],
    ],
    // A broken filament has full voltage across it and is dark.
    quantity: (part) => ({
      probe: { across: { [hot]: 1, [cold]: -1 } },
      scale: lit(part) ? 1 / part.value('voltage') : 0,
      absolute: true,
    }),
    by: 'operator',
    minutes: 0.5,
  }
}
