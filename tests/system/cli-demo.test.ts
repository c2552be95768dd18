import { beforeAll, describe, expect, it } from 'vitest'
import { build, halfsplitMeanwhile } from './cli.js'
import { differences } from './json-page.js'

beforeAll(build)

describe('the job to try, with no terminal attached', () => {
  it('is worked from the complaint to the repair of what was hidden, and ends well; another one as JSON', async () => {
    const [{ exit, out, err }, json] = await Promise.all([
      halfsplitMeanwhile(['demo']),
      halfsplitMeanwhile(['demo', '--seed', 'fifth', '--json']),
    ])
    expect(exit).toBe(0)
    expect(err).toBe('halfsplit: working ...\n')
    expect(out).toContain('The owner says: "the fan never stops, it is on from the first minute".')
    const [, repair] = /^Repair: (replace TS1) \(/m.exec(out) ?? []
    expect(repair).toBe('replace TS1')
    const truth = out.slice(out.indexOf('The truth: TS1 stays closed.'))
    expect(truth).toContain(`Repair: ${repair} (replace the temperature switch). That is what was found, in `)
    expect(truth).toMatch(/What each reading proved\nlook at CL1: drive, in idle_cold: driven\n {2}For: /)
    expect(truth).toMatch(/^ {2}For: replace TS1 \(\d+ times likelier\)/m)
    const document = JSON.parse(json.out)
    expect(json.exit).toBe(0)
    expect(document).toMatchObject({
      truth: { repair: 'replace SV1' },
      state: { verdict: { kind: 'repair', repair: 'replace SV1' } },
    })
    expect(differences(document, 'halfsplit-demo/1')).toEqual([])
  })
})
