import { columns } from '../words/layout.js'

/** What can be typed at a test; docs/reference/cli.md has the same list. */
export const HELP = [
  'At a test type what the meter shows (12.4, 12.4 V, 340 mV, 12..12.5 V, ol, unsteady), or a word or number of the look.',
  ...columns([
    ['dead', 'before ohms: no volts were read at the points'],
    ['could not [why]', 'leave this test out of the job'],
    ['skip', 'not now; show the next one'],
    ['other [number or word]', 'choose another test'],
    ['undo', 'take back the last entry'],
    ['why', 'what each reading says'],
    ['why SUSPECT', 'what speaks for and against it, and what clears it'],
    ['found [PART:] text', 'a defect met on the way that is not the cause'],
    ['repair done [repair]', 'the repair is made'],
    ['unplugged X3, plugged in X3, re-seated X3, tapped K1, warmed M1', 'what was done to the machine'],
    ['save FILE', 'keep the job in a file'],
    ['quit', 'stop here'],
  ]),
]
