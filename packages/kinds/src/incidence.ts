import type { Kind } from './kind.js'

/**
 * Expected failures of a part in one of its modes, relative to one exposed wire run: incidence * share / (sum of shares).
 * @returns [1], 0 for a mode that is only ever a consequence or that the kind does not have
 */
export function modeIncidence(kind: Kind, mode: string): number {
  const all = kind.modes.reduce((sum, one) => sum + one.share, 0)
  const own = kind.modes.find((one) => one.id === mode)?.share ?? 0
  return own === 0 ? 0 : (kind.incidence * own) / all
}
