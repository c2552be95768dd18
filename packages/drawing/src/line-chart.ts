import { pathOf } from './path.js'
import { type Scale, scaleOf, timeScale } from './scale.js'
import { element, text } from './svg.js'

/** Lines over time in stacked panels. */
export interface LineChart {
  title: string
  /** Lines below the title. */
  notes?: readonly string[]
  /** Rising times [s]; every line has a value at each, or NaN where there is none. */
  times: readonly number[]
  panels: readonly Panel[]
  /** Numbered on the chart, written out below it. */
  marks?: readonly Mark[]
}

export interface Panel {
  /** What its axis counts, with the unit. */
  title: string
  lines: readonly ChartLine[]
  /** Words from the lowest up: values are their numbers from 0, and lines go in steps. */
  words?: readonly string[]
}

export interface ChartLine {
  name: string
  values: readonly number[]
  /** Thin and grey beneath it: the healthy machine. */
  under?: readonly number[]
}

export interface Mark {
  /** [s] */
  time: number
  text: string
}

/** Ink on paper: readable as a copy, no colour carries a meaning. */
const INK = '#10181c'
const SECOND = '#3a454b'
const FAINT = '#737f7e'
const RULE = '#c3cac7'
const SHEET = '#ffffff'
/** Lines of one panel differ by their strokes, not by colour. */
const DASHES = [undefined, '9 4', '2.5 3', '12 3 2.5 3', '5 2', '16 4']

const WIDTH = 960
/** Room for the labels of the axes: for numbers, and so many pixels a letter for words. */
const LEAST_LEFT = 92
const LETTER = 8
const RIGHT = 190
const END = WIDTH - RIGHT
const HEIGHT = 132
const WORD_HEIGHT = 26
const GAP = 42
const LINE = 19
const LEGEND = 17
/** Letters of the list below that fit in a line. */
const LETTERS = 118
/** And of a name beside a panel. */
const NAME_LETTERS = 17
const FONT = "'Atkinson Hyperlegible Next', 'Atkinson Hyperlegible', Verdana, sans-serif"

/**
 * A chart of lines over time as SVG text: one panel below the other over one time axis, thick ink for the machine in question, thin grey
 * beneath it for the healthy one, numbered marks with their text below. The same chart gives the same text.
 * Checked in line-chart.test.ts, against a stored drawing.
 */
export function lineChart(chart: LineChart): string {
  const { times, panels, notes = [], marks = [] } = chart
  const head = 40 + LINE * notes.length + (marks.length > 0 ? LINE : 0)
  const left = leftOf(panels)
  const time = timeScale(times[0] ?? 0, times[times.length - 1] ?? 1, left, END, 10)
  const tops: number[] = []
  let y = head
  for (const panel of panels) {
    y += GAP
    tops.push(y)
    y += heightOf(panel)
  }
  const list = marks.flatMap((mark, i) =>
    listed(mark.text, LETTERS).map((line, n) => ({ number: n === 0 ? i + 1 : undefined, line })),
  )
  const height = y + 52 + LINE * list.length + 14
  const inside = [
    element('rect', { width: WIDTH, height, fill: SHEET }),
    text(16, 28, chart.title, { 'font-size': 20, 'font-weight': 700 }),
    ...notes.map((note, i) => text(16, 28 + LINE * (i + 1), note, { fill: SECOND })),
    ...drawMarks(marks, time, head + 4, y),
    ...panels.flatMap((panel, i) => drawPanel(panel, times, { time, left }, tops[i])),
    ...drawTimes(time, (left + END) / 2, y),
    ...drawList(list, y + 66),
  ]
  const size = { xmlns: 'http://www.w3.org/2000/svg', width: WIDTH, height, viewBox: `0 0 ${WIDTH} ${Math.round(height)}` }
  const type = { 'font-family': FONT, 'font-size': 15, fill: INK, style: "font-feature-settings: 'tnum'" }
  return `${element('svg', { ...size, ...type, role: 'img', 'aria-label': chart.title }, inside)}\n`
}

const leftOf = (panels: readonly Panel[]): number =>
  Math.max(LEAST_LEFT, ...panels.flatMap(({ words = [] }) => words.map((word) => 28 + LETTER * word.length)))

const heightOf = ({ words, lines }: Panel): number =>
  Math.max(
    words ? WORD_HEIGHT * words.length : HEIGHT,
    LEGEND * lines.flatMap(({ name }) => listed(name, NAME_LETTERS)).length + 4,
  )

function drawPanel(panel: Panel, times: readonly number[], { time, left }: { time: Scale; left: number }, top: number): string[] {
  const height = heightOf(panel)
  const value = panel.words ? wordScale(panel.words, top, height) : valueScale(panel, top, height)
  const label = (tick: number) => panel.words?.[tick] ?? tick.toFixed(value.decimals)
  const rows = value.ticks.flatMap((tick) => [
    element('line', { x1: left, y1: value.at(tick), x2: END, y2: value.at(tick), stroke: RULE }),
    text(left - 8, value.at(tick) + 5, label(tick), { 'text-anchor': 'end', fill: SECOND }),
  ])
  const path = (values: readonly number[]) =>
    pathOf(
      times.map((at, i) => ({ x: time.at(at), y: value.at(values[i]) })),
      panel.words !== undefined,
    )
  const stroke = { fill: 'none', 'stroke-linejoin': 'round' }
  const lines = [
    ...panel.lines.flatMap(({ under }, i) =>
      under
        ? [element('path', { d: path(under), ...stroke, stroke: FAINT, 'stroke-width': 1.4, 'stroke-dasharray': dash(i) })]
        : [],
    ),
    ...panel.lines.map(({ values }, i) =>
      element('path', { d: path(values), ...stroke, stroke: INK, 'stroke-width': 2.4, 'stroke-dasharray': dash(i) }),
    ),
  ]
  const frame = time.ticks.map((tick) =>
    element('line', { x1: time.at(tick), y1: top + height, x2: time.at(tick), y2: top + height + 5, stroke: INK }),
  )
  return [
    text(16, top - 15, panel.title, { 'font-weight': 600 }),
    ...rows,
    element('line', { x1: left, y1: top + height, x2: END, y2: top + height, stroke: INK }),
    ...frame,
    ...lines,
    ...drawLegend(panel, top),
  ]
}

const dash = (i: number): string | undefined => DASHES[i % DASHES.length]

function drawLegend({ lines }: Panel, top: number): string[] {
  const x = END + 12
  let y = top + 6
  return lines.flatMap(({ name }, i) => {
    const [first, ...rest] = listed(name, NAME_LETTERS)
    const at = y
    y += LEGEND * (1 + rest.length)
    return [
      element('line', { x1: x, y1: at, x2: x + 30, y2: at, stroke: INK, 'stroke-width': 2.4, 'stroke-dasharray': dash(i) }),
      ...[first, ...rest].map((line, n) => text(x + 38, at + 5 + LEGEND * n, line, { 'font-weight': 600, 'font-size': 14 })),
    ]
  })
}

function valueScale({ lines }: Panel, top: number, height: number): Scale {
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY]
  for (const { values, under = [] } of lines) {
    for (const all of [values, under]) {
      for (const value of all) {
        if (value < low) low = value
        if (value > high) high = value
      }
    }
  }
  return Number.isFinite(low) ? scaleOf(low, high, top + height, top, 5) : scaleOf(0, 1, top + height, top, 5)
}

const wordScale = (words: readonly string[], top: number, height: number): Scale => ({
  at: (value) => top + height - (value + 0.5) * (height / words.length),
  ticks: words.map((_, i) => i),
  decimals: 0,
})

function drawTimes(time: Scale & { unit: string; length: number }, middle: number, bottom: number): string[] {
  const decimals = time.ticks.every((tick) => Number.isInteger(tick / time.length)) ? 0 : 2
  const number = (tick: number) => String(Number((tick / time.length).toFixed(decimals)))
  return [
    ...time.ticks.map((tick) => text(time.at(tick), bottom + 22, number(tick), { 'text-anchor': 'middle', fill: SECOND })),
    text(middle, bottom + 42, `time, ${time.unit}`, { 'text-anchor': 'middle', fill: SECOND }),
  ]
}

/** Numbers nearer than this to the last one are left out on the chart; the list below has them all. */
const NUMBER_ROOM = 18

function drawMarks(marks: readonly Mark[], time: Scale, top: number, bottom: number): string[] {
  let free = Number.NEGATIVE_INFINITY
  return marks.flatMap((mark, i) => {
    const x = time.at(mark.time)
    const line = element('line', { x1: x, y1: top + 6, x2: x, y2: bottom, stroke: FAINT, 'stroke-dasharray': '1.5 3' })
    if (x < free) return [line]
    free = x + NUMBER_ROOM
    return [line, text(x, top, String(i + 1), { 'text-anchor': 'middle', 'font-size': 13, 'font-weight': 600 })]
  })
}

function drawList(rows: readonly { number: number | undefined; line: string }[], top: number): string[] {
  return rows.flatMap(({ number, line }, i) => [
    ...(number === undefined ? [] : [text(34, top + LINE * i, String(number), { 'text-anchor': 'end', 'font-weight': 600 })]),
    text(44, top + LINE * i, line),
  ])
}

/** Text broken at blanks. */
function listed(words: string, most: number): string[] {
  const lines = ['']
  for (const word of words.split(' ')) {
    const last = lines[lines.length - 1]
    if (last !== '' && last.length + 1 + word.length > most) lines.push(word)
    else lines[lines.length - 1] = last === '' ? word : `${last} ${word}`
  }
  return lines
}
