import { type Dimension, formatValue } from '@halfsplit/core'
import type { SizeStatement } from '@halfsplit/diagnosis'
import { orderWords, span } from './values.js'

const DIGITS = 2

/** What is known of a fault's size: "2.1 to 6 Ohm", "tens of kOhm or more", "3 kOhm or less". */
export function sizeWords({ low, high, openAbove, openBelow }: SizeStatement, dimension: Dimension): string {
  const value = (x: number) => formatValue(x, dimension, { digits: DIGITS })
  if (openAbove && openBelow) return 'any size: these readings cannot tell'
  if (openAbove) return `${orderWords(low, dimension)} or more`
  if (openBelow) return `${value(high)} or less`
  return span(value(low), value(high))
}
