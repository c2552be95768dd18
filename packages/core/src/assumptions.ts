/**
 * Every number that is our own judgement and not read from a source: shown to the user as an assumption, meant to be learnt
 * from closed jobs. Common practice, no source, unless a line says more.
 */
export const ASSUMPTIONS = {
  /** A maker's limit (`<= 18 V`): healthy parts lie about this share of it, the limit being this many sd away. */
  makerLimitShare: 0.86,
  makerLimitSd: 3,
  /** Joints, contacts and leaks when healthy: one sd is this factor, wear included. */
  jointFactor: 2,
  /** Chance that a record is not what the display or the machine showed. */
  misread: 0.02,
  /** Chance that an observer says another word than the one that fits. */
  lookError: 0.05,
  /** A floating point: share of the weight on the value computed with the meter's input resistance; the rest lies anywhere. */
  floatingAsComputed: 0.5,
  /** Prior of "something not in this description", and the share of a reading under it that looks like a modelled fault. */
  notDescribed: 0.03,
  notDescribedAsModelled: 0.8,
  /** Prior weight of *absent now*, against a machine with nothing wrong. */
  absentNow: 0.002,
  /** Failures per year of a part whose incidence is 1. */
  baseRatePerYear: 0.01,
  /** Time since it was last good, for faults the operator would notice, and since the last proof, for hidden ones [years]. */
  noticedExposure: 1 / 12,
  hiddenExposure: 2,
  /** The complaint as evidence: chance of hearing it if the machine shows it, and if it does not. */
  complaintIfShown: 0.9,
  complaintIfNot: 0.02,
  /** An intermittent fault is present at a look with this chance unless the complaint says how often. */
  intermittentPresent: 0.3,
  /** The same while its part is wiggled, tapped, warmed or cooled so that it should show. */
  provokedPresent: 0.7,
  /** Once it is there it stays for so long on average while a scenario runs [s]. */
  intermittentSpell: 20,
  /** What opens under too much current heats by its square: at the least current that opens it, so long [s]. */
  overloadSeconds: 5,
  /** Chance that disturbing a contact (unplug, wiggle, re-seat) cures it for now. */
  disturbedCures: 0.3,
  /** Chance that a new part is dead on arrival or wrongly fitted. */
  badNewPart: 0.02,
  /** Chance that a repair leaves an error of building at its part: crossed, reversed, left off, of the wrong type. */
  buildError: 0.01,
  /** Chance that a contact is left worse than it was by moving it: not home, spread, pulled out. */
  disturbedSpoils: 0.003,
  /** A repair is proposed when it covers this share of the belief. */
  repairAt: 0.9,
  /** A suspect believed this much or less is cleared. */
  clearedBelow: 0.01,
  /** Information below which a test is called blind [bit]. */
  blindBits: 0.05,
  /** Weight of hypotheses that may be left out (pairs, and smaller), as a share of the whole. */
  leftOut: 0.01,
  /** What a minute of the workshop costs, in the shop's money. */
  moneyPerMinute: 1.2,
  /** What it costs, beyond its minutes, that a machine comes back with the same complaint: fetching, an idle machine, goodwill. */
  comebackMoney: 150,
  /** Minutes of an unhurried start from nothing on a machine that came back. */
  comebackMinutes: 45,
  /** A plan's proof look is repeated until what is believed and can be seen at all is missed with this chance, at most so often. */
  planProofMissed: 0.05,
  planProofLooks: 9,
  /** Minutes to look once at everything that an operator sees in a state. */
  looksRoundMinutes: 1,
  /** A written step contradicts the description if more than this share of sound machines fail it. */
  auditSoundFails: 0.1,
  /** A written conclusion condemns good parts if more than this share of the machines that come to it need another repair. */
  auditCondemns: 0.5,
  /** Hazards are worked out for the likeliest hypotheses: at most so many, and until they hold this share of the belief. */
  hazardHypotheses: 24,
  hazardShare: 0.95,
  /** A hazard less likely than this is not told; from this on it is said to be there. */
  hazardTold: 0.01,
  hazardExpected: 0.5,
  /** Volts below which a point is taken for dead, and the chance of more from which resistance waits until it is proved dead. */
  deadVolts: 0.1,
  maybeLive: 0.01,
  /** Copper of the jumper lead in the box, with its clips [m2]: 4 mm2. */
  jumperLead: 4e-6,
  /** Chance of lasting harm from which a machine is not to be moved. */
  unsafeToMove: 0.02,
  /** Fresh contact of a probe tip, one sd as a share of an ohm. */
  probeContactOhm: 0.05,
} as const
