/** What a code says and what the user can do about it. */
export interface IssueCodeEntry {
  meaning: string
  remedy: string
}

/** Every code an issue or an error may carry. Codes are never reused for another meaning. */
export const ISSUE_CODES: Record<string, IssueCodeEntry> = {
  QUANTITY_EMPTY: { meaning: 'a quantity is missing', remedy: 'write a number and a unit, as in "24 V"' },
  NUMBER_UNREADABLE: {
    meaning: 'the number cannot be read',
    remedy: 'write digits with a decimal point and no separators, as in "1200" or "0.5"',
  },
  UNIT_MISSING: { meaning: 'a number has no unit', remedy: 'write the unit after the number' },
  UNIT_UNKNOWN: { meaning: 'the unit is not known', remedy: 'use one of the nearest units named, or a UCUM code' },
  UNIT_MISMATCH: {
    meaning: 'the unit measures another quantity',
    remedy: 'give the quantity asked for, in one of its own units',
  },
  RANGE_REVERSED: { meaning: 'the first limit of a range is above the second', remedy: 'write the lower limit first' },
  TOLERANCE_UNREADABLE: {
    meaning: 'what follows +- cannot be read',
    remedy: 'write "+- 5 %" or "+- 0.2 V", then "(uniform)" or "(k=3)" if the limits are not at two standard deviations',
  },
  TOLERANCE_NEGATIVE: { meaning: 'a tolerance is negative', remedy: 'write its size without a sign' },
  TOLERANCE_RELATIVE: {
    meaning: 'a percentage of a temperature has no meaning, for its zero is a convention',
    remedy: 'give the tolerance in kelvin, as in "95 degC +- 2 K"',
  },
  TOLERANCE_WITH_LIMIT: {
    meaning: 'a one-sided limit carries a tolerance',
    remedy: 'write either "<= 18 V" or "18 V +- 5 %"',
  },
  QUANTITY_NEGATIVE: {
    meaning: 'a quantity that cannot be negative is, or its tolerance reaches below zero',
    remedy: 'check sign and tolerance',
  },
  QUANTITY_ABSURD: { meaning: 'the number is beyond anything on a machine', remedy: 'check the unit and its prefix' },
  BELOW_ABSOLUTE_ZERO: { meaning: 'a temperature is below absolute zero', remedy: 'check number and scale' },
  BELOW_VACUUM: { meaning: 'a pressure is below vacuum', remedy: 'check whether it is meant as gauge or "abs"' },
  LIMITS_MISSING: {
    meaning: 'there is no limit to compare a measured value with',
    remedy: 'give a lower limit, an upper limit or both',
  },
  LIMITS_REVERSED: { meaning: 'the lower limit is above the upper', remedy: 'exchange the two limits' },
  MEASUREMENT_UNUSABLE: { meaning: 'a measured value or its uncertainty is not a number', remedy: 'enter the reading again' },
  METER_MISSING: {
    meaning: 'the error of a reading is not known',
    remedy: 'name the meter, or give the limit of its error; a reading over its ranges shows no value',
  },
}
