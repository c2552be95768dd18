/**
 * Meaning of the failure mode identifier (FMI) of a trouble code, 0 to 21 and 31, worded here for the bay.
 * Source: SAE J1939-73, appendix A (from memory). Identifier 4 is the low side; one public list prints it as the high one.
 */
export const FAILURE_MODE_IDENTIFIERS: Readonly<Record<number, string>> = {
  0: 'reading valid but far above the normal range, worst level',
  1: 'reading valid but far below the normal range, worst level',
  2: 'reading jumps, comes and goes or is not plausible',
  3: 'voltage too high, or shorted to a higher supply',
  4: 'voltage too low, or shorted to a lower supply or ground',
  5: 'current too low, or circuit open',
  6: 'current too high, or circuit shorted to ground',
  7: 'mechanical part does not follow its command or is out of adjustment',
  8: 'frequency, pulse width or period not normal',
  9: 'message comes at the wrong rate',
  10: 'value changes at a rate that is not normal',
  11: 'cause unknown',
  12: 'smart device or component is bad itself',
  13: 'out of calibration',
  14: 'special instructions of the maker apply',
  15: 'reading valid but above the normal range, mild level',
  16: 'reading valid but above the normal range, moderate (medium) level',
  17: 'reading valid but below the normal range, mild level',
  18: 'reading valid but below the normal range, moderate (medium) level',
  19: 'data received from the network is in error',
  20: 'reading has drifted high',
  21: 'reading has drifted low',
  31: 'condition exists',
}

/**
 * Bits of a trouble code: identifier, number of the suspect parameter, count of occurrences.
 * Source: SAE J1939-73 (from memory).
 */
export const TROUBLE_CODE_BITS = { identifier: 5, parameter: 19, count: 7 } as const
