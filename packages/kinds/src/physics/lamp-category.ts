/** Wattage at the test voltage [W] and how far it may be off [1]; with no deviation it is a maximum. */
type Filament = readonly [watts: number, deviation: number]

/**
 * Filaments by category and nominal voltage [V]; the first is the main or high-beam one. Test voltages are 13.5 and 28 V, 13.2 V
 * for headlamps of 12 V.   Source: UN Regulation No. 37, category sheets (from memory).
 */
const CATEGORIES: Readonly<Record<string, Readonly<Partial<Record<12 | 24, readonly Filament[]>>>>> = {
  P21W: { 12: [[25, 0.06]], 24: [[28, 0.06]] },
  PY21W: { 12: [[25, 0.06]], 24: [[28, 0.06]] },
  'P21/5W': {
    12: [
      [25, 0.06],
      [6, 0.1],
    ],
    24: [
      [28, 0.06],
      [10, 0.1],
    ],
  },
  'PY21/5W': {
    12: [
      [25, 0.06],
      [6, 0.1],
    ],
  },
  R5W: { 12: [[5, 0.1]], 24: [[7, 0.1]] },
  R10W: { 12: [[10, 0.1]], 24: [[12.5, 0.1]] },
  W5W: { 12: [[5, 0.1]], 24: [[7, 0.1]] },
  C5W: { 12: [[5, 0.1]], 24: [[7, 0.1]] },
  T4W: { 12: [[4, 0.1]], 24: [[5, 0.1]] },
  W3W: { 12: [[3, 0.15]], 24: [[4, 0.15]] },
  H1: { 12: [[68, 0]], 24: [[84, 0]] },
  H3: { 12: [[68, 0]], 24: [[84, 0]] },
  H7: { 12: [[58, 0]], 24: [[75, 0]] },
  H4: {
    12: [
      [75, 0],
      [68, 0],
    ],
    24: [
      [85, 0],
      [80, 0],
    ],
  },
}

/**
 * Greatest wattages a lamp of a category takes at its test voltage [W], one a filament; undefined for a category not listed.
 * @param name as on the lamp: `P21W`, `P21/5W`   @param nominal voltage [V]
 */
export function greatestWattage(name: string, nominal: 12 | 24): readonly number[] | undefined {
  return CATEGORIES[name]?.[nominal]?.map(([watts, deviation]) => watts * (1 + deviation))
}
