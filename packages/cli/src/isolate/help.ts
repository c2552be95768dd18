import { columns } from '../words/layout.js'

/** What can be typed at a test; docs/reference/cli.md has the same list. */
export const HELP = [
  'At a test type what the meter shows (12.4, 12.4 V, 340 mV, 12..12.5 V, ol, unsteady), or a word or number of the look.',
  ...columns([
    ['could not [why]', 'leave this test out of the job'],
    ['skip', 'not now; show the next one'],
    ['other [number or word]', 'choose another test'],
    ['undo', 'take back the last entry'],
    ['why', 'what each reading says'],
    ['repair done [repair]', 'the repair is made'],
    ['unplugged X3, plugged in X3, re-seated X3, tapped K1', 'what was done to the machine'],
    ['save FILE', 'keep the job in a file'],
    ['quit', 'stop here'],
  ]),
]
