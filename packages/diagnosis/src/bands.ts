import { normalCdf } from '@halfsplit/core'
import type { NormalPart, Predictive, UniformPart } from '@halfsplit/inference'

/** A stretch in which a reading is expected [SI], with the share of the expectation that lies in its lump. */
export interface Band {
  low: number
  high: number
  middle: number
  share: number
}

/** Lumps lighter than this are not shown as bands of their own. */
const LEAST_LUMP = 0.03
/** Reach of one part when lumps are told apart, in standard deviations. */
const REACH = 2.5
const BISECTIONS = 60

type Lump = { low: number; high: number; normals: NormalPart[]; uniforms: UniformPart[] }

/**
 * Where a reading is expected: the central `share` of each lump of the distribution, lumps apart where nothing lies between them.
 * Display rounding is not included. Empty where only words are expected.
 * @param share of each lump that the band holds, 0 to 1   @returns in rising order; at most `most`, nearest lumps taken together
 */
export function bandsOf({ normals, uniforms }: Predictive, share: number, most = 2): Band[] {
  const total = [...normals, ...uniforms].reduce((sum, { weight }) => sum + weight, 0)
  if (!(total > 0)) return []
  let lumps = lumpsOf(normals, uniforms)
  const heavy = lumps.filter((lump) => weightOf(lump) >= LEAST_LUMP * total)
  if (heavy.length > 0) lumps = heavy
  while (lumps.length > most) lumps = withoutNarrowestGap(lumps)
  return lumps.map((lump) => ({
    low: quantile(lump, (1 - share) / 2),
    high: quantile(lump, (1 + share) / 2),
    middle: quantile(lump, 0.5),
    share: weightOf(lump) / total,
  }))
}

const weightOf = ({ normals, uniforms }: Lump): number => [...normals, ...uniforms].reduce((sum, { weight }) => sum + weight, 0)

function lumpsOf(normals: readonly NormalPart[], uniforms: readonly UniformPart[]): Lump[] {
  const single: Lump[] = [
    ...normals.map((part) => ({
      low: part.mean - REACH * part.sd,
      high: part.mean + REACH * part.sd,
      normals: [part],
      uniforms: [],
    })),
    ...uniforms.map((part) => ({ low: part.low, high: part.high, normals: [], uniforms: [part] })),
  ]
  const lumps: Lump[] = []
  for (const one of single.filter((lump) => weightOf(lump) > 0).sort((a, b) => a.low - b.low)) {
    const last = lumps[lumps.length - 1]
    if (last && one.low <= last.high) lumps[lumps.length - 1] = together(last, one)
    else lumps.push(one)
  }
  return lumps
}

const together = (a: Lump, b: Lump): Lump => ({
  low: a.low,
  high: Math.max(a.high, b.high),
  normals: [...a.normals, ...b.normals],
  uniforms: [...a.uniforms, ...b.uniforms],
})

function withoutNarrowestGap(lumps: readonly Lump[]): Lump[] {
  let at = 1
  for (let i = 2; i < lumps.length; i += 1) if (lumps[i].low - lumps[i - 1].high < lumps[at].low - lumps[at - 1].high) at = i
  return [...lumps.slice(0, at - 1), together(lumps[at - 1], lumps[at]), ...lumps.slice(at + 1)]
}

function quantile(lump: Lump, share: number): number {
  const whole = weightOf(lump)
  const below = (x: number) =>
    lump.normals.reduce(
      (sum, { weight, mean, sd }) => sum + weight * (sd > 0 ? normalCdf((x - mean) / sd) : Number(x >= mean)),
      0,
    ) + lump.uniforms.reduce((sum, { weight, low, high }) => sum + weight * Math.min(1, Math.max(0, (x - low) / (high - low))), 0)
  let low = Math.min(...lump.normals.map(({ mean, sd }) => mean - 9 * sd), ...lump.uniforms.map((part) => part.low))
  let high = Math.max(...lump.normals.map(({ mean, sd }) => mean + 9 * sd), ...lump.uniforms.map((part) => part.high))
  for (let i = 0; i < BISECTIONS; i += 1) {
    const middle = (low + high) / 2
    if (below(middle) < share * whole) low = middle
    else high = middle
  }
  return (low + high) / 2
}
