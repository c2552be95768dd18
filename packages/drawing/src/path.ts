import { px } from './svg.js'

/** A place on the drawing; `y` is NaN where there is nothing to draw. */
export interface Place {
  x: number
  y: number
}

/** Of all places that share a pixel column the first, the lowest, the highest and the last: nothing that can be seen is lost. */
export function thinned(places: readonly Place[]): Place[] {
  const kept: Place[] = []
  for (let i = 0; i < places.length; ) {
    const column = Math.floor(places[i].x)
    let end = i
    while (end < places.length && Math.floor(places[end].x) === column) end += 1
    kept.push(...outer(places.slice(i, end)))
    i = end
  }
  return kept
}

function outer(column: readonly Place[]): Place[] {
  if (column.length <= 4 || column.some(({ y }) => Number.isNaN(y))) return [...column]
  const by = (better: (p: Place, q: Place) => boolean) => column.reduce((best, one) => (better(one, best) ? one : best))
  const chosen = new Set([column[0], by((p, q) => p.y < q.y), by((p, q) => p.y > q.y), column[column.length - 1]])
  return column.filter((one) => chosen.has(one))
}

/** Path through the places, broken where there is none; in steps, each level held up to the next place. */
export function pathOf(places: readonly Place[], steps: boolean): string {
  const words: string[] = []
  let before: Place | undefined
  for (const place of thinned(places)) {
    if (Number.isNaN(place.y)) before = undefined
    else {
      if (!before) words.push(`M${px(place.x)} ${px(place.y)}`)
      else if (!steps) words.push(`L${px(place.x)} ${px(place.y)}`)
      else words.push(...(place.y === before.y ? [`H${px(place.x)}`] : [`H${px(place.x)}`, `V${px(place.y)}`]))
      before = place
    }
  }
  return words.join('')
}
