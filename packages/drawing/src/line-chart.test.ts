import { describe, expect, it } from 'vitest'
import { type LineChart, lineChart } from './line-chart.js'

const times = Array.from({ length: 301 }, (_, i) => 2 * i)

/** A vessel that empties and a lamp that is lit below a level; sound and with a leak of twice the size. */
const CHART: LineChart = {
  title: 'Air alarm of Heron: drain',
  notes: ['V1 leaks more than it should', 'thick: with the fault; thin grey: healthy'],
  times,
  panels: [
    {
      title: 'pressure, bar',
      lines: [
        {
          name: 'V1.out',
          values: times.map((t) => 8 * Math.exp(-t / 200)),
          under: times.map((t) => 8 * Math.exp(-t / 400)),
        },
        { name: 'P2.line', values: times.map((t) => (t > 500 ? Number.NaN : -1 + t / 500)) },
      ],
    },
    {
      title: 'light',
      words: ['dark', 'dim', 'bright'],
      lines: [{ name: 'H1.light', values: times.map((t) => (t > 250 ? 2 : 0)), under: times.map((t) => (t > 500 ? 2 : 0)) }],
    },
  ],
  marks: [
    { time: 250, text: '4 min 10 s: P1 closes at 2.3 bar; 0.1 s later H1 is <bright>' },
    { time: 252, text: '4 min 12 s: K1 pulls in' },
    { time: 400, text: `6 min 40 s: ${'S1 is moved to and fro, '.repeat(8)}and left` },
  ],
}

describe('a line chart', () => {
  it('is drawn as it is stored', async () => {
    await expect(lineChart(CHART)).toMatchFileSnapshot('stored/line-chart.svg')
  })

  it('is well-formed, and any text may stand in it', () => {
    const svg = lineChart({ ...CHART, title: 'a < b & "c"' })
    const open = [...svg.matchAll(/<(\w+)[^>]*[^/]>/g)].map(([, name]) => name).sort()
    const closed = [...svg.matchAll(/<\/(\w+)>/g)].map(([, name]) => name).sort()
    expect(open).toEqual(closed)
    expect(svg).toContain('a &lt; b &amp; &quot;c&quot;')
    expect(svg).not.toMatch(/NaN|undefined|Infinity/)
  })

  it('keeps a needle that lasts one sample among thousands', () => {
    const many = Array.from({ length: 20_001 }, (_, i) => i / 10)
    const needle = lineChart({
      title: 'needle',
      times: many,
      panels: [{ title: 'volts, V', lines: [{ name: 'A', values: many.map((t) => (t === 1000.3 ? 100 : 0)) }] }],
    })
    const top = Math.min(...[...needle.matchAll(/L[\d.]+ ([\d.]+)/g)].map(([, y]) => Number(y)))
    expect(top).toBeLessThan(100)
    expect(needle.length).toBeLessThan(40_000)
  })

  it('numbers only marks that have room, and lists them all', () => {
    const svg = lineChart(CHART)
    const numbers = [...svg.matchAll(/font-size="13" font-weight="600">(\d+)</g)].map(([, number]) => number)
    expect(numbers).toEqual(['1', '3'])
    for (const words of ['4 min 10', '4 min 12', '6 min 40']) expect(svg.replace(/\u00a0/g, ' ')).toContain(words)
  })

  it('draws nothing where there are no values, and a flat line in the middle of its axis', () => {
    const empty = lineChart({
      title: 'none',
      times: [0, 1],
      panels: [{ title: 'x', lines: [{ name: 'a', values: [Number.NaN, Number.NaN] }] }],
    })
    expect(empty).toContain('d=""')
    const flat = lineChart({ title: 'flat', times: [0, 1], panels: [{ title: 'x', lines: [{ name: 'a', values: [5, 5] }] }] })
    expect(flat).toMatch(/d="M[\d.]+ [\d.]+L/)
  })
})
