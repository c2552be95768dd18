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
  FILE_EMPTY: { meaning: 'the description has no content', remedy: 'begin with "halfsplit: 1" and a list of parts' },
  FILE_TOO_LARGE: { meaning: 'the description has more than two million characters', remedy: 'describe one system a file' },
  CONTROL_CHARACTER: {
    meaning: 'the file has a character that cannot be seen, such as a NUL byte',
    remedy: 'delete it, and save the file as UTF-8',
  },
  NOT_UTF8: { meaning: 'bytes of the file are not text in UTF-8', remedy: 'save the file as UTF-8 and look at the place again' },
  TAB_INDENT: { meaning: 'a line is indented with a tab', remedy: 'indent with spaces, two a level' },
  YAML_SYNTAX: {
    meaning: 'the file is not well-formed YAML',
    remedy: 'look at indentation, brackets and quotes at the place named and one line above',
  },
  NESTING_TOO_DEEP: {
    meaning: 'brackets or keys are nested deeper than any description needs',
    remedy: 'look for brackets that are never closed',
  },
  ALIASES_TOO_MANY: {
    meaning: 'repeated values (YAML aliases) make the description too large, or one contains itself',
    remedy: 'write the values out, or make an assembly of what repeats',
  },
  MORE_ISSUES: { meaning: 'there are more mistakes than are shown', remedy: 'mend those shown and check again' },
  WRONG_SHAPE: {
    meaning: 'a text stands where keys are expected, or the other way round',
    remedy: 'write it as in the example given',
  },
  UNKNOWN_KEY: { meaning: 'a key is not one this thing has', remedy: 'use one of the keys named; check the spelling' },
  DUPLICATE_KEY: { meaning: 'a key is given twice in one group', remedy: 'keep one of the two' },
  KEY_MISSING: { meaning: 'something that must be said is missing', remedy: 'add the key named' },
  VERSION_MISSING: {
    meaning: 'the file does not say which version of the language it is in',
    remedy: 'begin with "halfsplit: 1"',
  },
  VERSION_UNKNOWN: {
    meaning: 'the version of the language is not one this program reads',
    remedy: 'use version 1, or a newer program',
  },
  NAME_UNUSABLE: {
    meaning: 'a name has signs that mean something else, or is too long',
    remedy: 'use letters, digits, "-" and "_", at most 40',
  },
  DUPLICATE_NAME: {
    meaning: 'two things have one name',
    remedy: 'rename one of them; parts, wires, hoses and connectors share their names',
  },
  DUPLICATE_WIRE: {
    meaning: 'two wires have one number, or a wire has the name of a part',
    remedy: 'give the second wire another number',
  },
  KIND_MISSING: { meaning: 'a part does not say what kind of part it is', remedy: 'add "kind: ..."' },
  UNKNOWN_KIND: {
    meaning: 'there is no such kind of part, and no such assembly in the description',
    remedy: 'use one of the nearest names, or describe it under "assemblies"',
  },
  RATING_MISSING: { meaning: 'a rating without a usual value is not given', remedy: 'add it with its unit' },
  UNKNOWN_WORD: { meaning: 'a word is not one of those allowed here', remedy: 'use one of the words named' },
  UNKNOWN_REPAIR: { meaning: 'the kind of part has no such repair', remedy: 'use one of the repairs named' },
  UNKNOWN_PLACE: { meaning: 'a part sits at a place that is not described', remedy: 'add the place under "places"' },
  LIMIT_OF_TEMPERATURE: {
    meaning: 'a one-sided limit does not say where a temperature lies',
    remedy: 'give the temperature with its tolerance, as in "95 degC +- 2 K"',
  },
  VALUE_IMPOSSIBLE: {
    meaning: 'no part can have the value given, such as a wire without cross-section',
    remedy: 'check the ratings of the part',
  },
  PINS_UNREADABLE: { meaning: 'a connector does not say how many pins it has', remedy: 'write a whole number, as in "pins: 2"' },
  UNKNOWN_PART: { meaning: 'no part has this name', remedy: 'check the spelling; letters of other alphabets look alike' },
  UNKNOWN_PORT: { meaning: 'the part has no such point', remedy: 'use one of the points named' },
  UNKNOWN_PIN: { meaning: 'the connector has no such pin or side', remedy: 'write the pin and its side, as in "X12.1/a"' },
  DANGLING_WIRE: { meaning: 'a wire or hose has an end that meets nothing', remedy: 'give both ends, or delete it' },
  DOMAIN_MISMATCH: {
    meaning: 'points that carry different things are joined, such as a hose and a wire',
    remedy: 'join points of one kind',
  },
  PART_UNCONNECTED: { meaning: 'a part is connected to nothing', remedy: 'lead a wire or hose to it, or delete it' },
  PIN_HALF_WIRED: { meaning: 'a pin is wired on one side only', remedy: 'wire the other side, or leave the pin out' },
  BATTERY_MISSING: {
    meaning: 'there are electrical parts and no battery',
    remedy: 'add a part of kind battery; its minus is the reference of all voltages',
  },
  SOURCE_SHORTED: {
    meaning: 'copper leads from the plus of a source to its own minus',
    remedy: 'check which points the wires lead to',
  },
  SOURCES_CONFLICT: {
    meaning: 'two sources work against each other with no load between',
    remedy: 'check which plus goes where, and the voltages',
  },
  CYCLIC_ASSEMBLY: { meaning: 'an assembly contains itself', remedy: 'build it from other kinds' },
  ASSEMBLY_UNUSED: {
    meaning: 'an assembly is described and used nowhere, so it was not checked',
    remedy: 'use it, or delete it',
  },
  PARTS_TOO_MANY: { meaning: 'the description has more than five thousand parts', remedy: 'describe one system a file' },
  UNKNOWN_SETTING: { meaning: 'a state sets something this part does not have', remedy: 'use one of the settings named' },
  UNKNOWN_STATE: { meaning: 'no state has this name', remedy: 'use one of the states named' },
  CYCLIC_STATES: { meaning: 'a state comes from itself by way of others', remedy: 'let one state come from none: all at rest' },
  TIMES_NOT_RISING: {
    meaning: 'the times of a setting in a scenario do not rise',
    remedy: 'write the steps in the order in which they happen, each at its own time',
  },
  TIME_BEYOND_END: {
    meaning: 'a step of a scenario comes at its end or later, so it never happens',
    remedy: 'let the scenario go on longer, or take the step away',
  },
  EVEN_CHANGE_OF_WORD: {
    meaning: 'a setting that is a word is to change evenly',
    remedy: 'give the words at the times at which they change, without "to"',
  },
  EVEN_CHANGE_AT_START: {
    meaning: 'a setting is to change evenly until the very start of a scenario',
    remedy: 'take "to" away, or give a later time until which it changes',
  },
  DRIVEN_SPREAD: {
    meaning: 'a value in a scenario has a tolerance; a run takes its middle',
    remedy: 'write the value alone, as in "70 kW"',
  },
  UNKNOWN_WATCHED: {
    meaning: 'a scenario watches something this machine does not have',
    remedy: 'name a point, "POINT to POINT", "into POINT", or a look of a part',
  },
  UNKNOWN_LOOK: { meaning: 'the part has no such thing to look at', remedy: 'use one of the looks named' },
  UNKNOWN_TOOL: {
    meaning: 'the tool is not a usual one and has no figures',
    remedy: 'use one of the tools named, or give a meter with its ranges',
  },
  ACCURACY_UNREADABLE: {
    meaning: 'the accuracy of a meter cannot be read',
    remedy: 'write percent of reading plus counts, as in "0.5 % + 2"',
  },
  STATE_CHATTERS: {
    meaning: 'with every part good, something switches on and off without end in this state',
    remedy: 'check pull-in values against the voltage under load',
  },
  STATE_CYCLES: {
    meaning: 'with every part good, a timer keeps the machine from coming to rest in this state',
    remedy: 'describe states in which it rests',
  },
  STATE_RACE: {
    meaning: 'with every part good, two switches race and either may win',
    remedy: 'check which of the parts named acts first',
  },
  STATE_UNSOLVED: {
    meaning: 'the state has no steady values that could be computed',
    remedy: 'check the ratings of the parts named',
  },
  STATE_OVERLOADS: {
    meaning: 'with every part good, something opens by overload in this state',
    remedy: 'check its rating and what hangs on it',
  },
  STATE_NOT_DEAD: {
    meaning: 'a state is marked dead, and current flows in it',
    remedy: 'switch off what draws it, or take "dead" away',
  },
  PROBE_UNREADABLE: {
    meaning: 'a step does not say what is taken',
    remedy:
      'write "look: H1.light", or "measure:" with "volts RED BLACK", "ohms PART RED BLACK", "pressure POINT" or "amps WIRE"',
  },
  METER_NOT_THERE: { meaning: 'no meter of the description measures this', remedy: 'add it under "tools" of the description' },
  UNKNOWN_POINT: { meaning: 'the description has no such point or part', remedy: 'use one of the nearest names' },
  DONE_TOO_MUCH: {
    meaning: 'a step does more than one thing to the machine at once',
    remedy: 'unplug, bridge or swap one thing a step',
  },
  EXPECT_WITHOUT_LIMITS: {
    meaning: 'an expected reading has no limits, and no reading is ever exactly a value',
    remedy: 'write a range as in "24..28 V", "57 Ohm +- 10 %", "at least 22 V" or "over range"',
  },
  TEMPERATURE_UNUSED: {
    meaning: 'a step names a temperature for limits that are not of a resistance',
    remedy: 'leave it out; the state says how warm the machine is',
  },
  UNKNOWN_STEP: { meaning: 'a procedure has no such step', remedy: 'use one of the names under "steps"' },
  UNKNOWN_COMPLAINT: { meaning: 'the description has no such complaint', remedy: 'use one of the complaints named' },
  CYCLIC_STEPS: { meaning: 'a procedure leads back to a step, so it may never end', remedy: 'end one of the steps named' },
  STEP_UNREACHED: { meaning: 'no way through a procedure leads to a step', remedy: 'lead a step to it, or delete it' },
}
