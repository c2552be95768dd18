/** Parts described by one equation each, as `X=A*C (M1)`: part M1 puts out X. */

import type { Relation } from './finite-model.js'

/** An equation of a part: how its output follows from its inputs while it is sound. */
export interface Equation {
  readonly part: string
  readonly output: string
  readonly inputs: readonly string[]
  readonly compute: (inputs: readonly number[]) => number
}

const NAME = /^[A-Za-z_]\w*$/

/** Sum of signed products: `+`, `-` and `*`, products first. */
function readTerms(expression: string): { readonly sign: number; readonly factors: readonly string[] }[] {
  const pieces = expression.match(/[+-]?[^+-]+/g) ?? []
  return pieces.map((piece) => ({
    sign: piece.trimStart().startsWith('-') ? -1 : 1,
    factors: piece
      .replace(/^\s*[+-]/, '')
      .split('*')
      .map((factor) => factor.trim()),
  }))
}

/**
 * Reads one equation with the part that keeps it in parentheses; names and whole numbers, with +, - and *.
 * @returns null where the text is none
 */
export function parseEquation(text: string): Equation | null {
  const match = /^\s*(\w+)\s*=\s*([\w\s+*-]+?)\s*\((\w+)\)\s*$/.exec(text)
  if (match === null) return null
  const [, output, expression, part] = match
  const terms = readTerms(expression)
  const factors = terms.flatMap((term) => term.factors)
  if (factors.length === 0 || factors.some((factor) => !NAME.test(factor) && !/^\d+$/.test(factor))) return null
  const inputs = [...new Set(factors.filter((factor) => NAME.test(factor)))]
  const compute = (values: readonly number[]): number => {
    const valueOf = (factor: string) => (NAME.test(factor) ? values[inputs.indexOf(factor)] : Number(factor))
    return terms.reduce(
      (sum, { sign, factors: list }) => sum + sign * list.reduce((product, factor) => product * valueOf(factor), 1),
      0,
    )
  }
  return { part, output, inputs, compute }
}

/** The relation of an equation in arithmetic modulo `modulus`: a faulty part puts out any value, all alike. */
export function equationRelation({ part, output, inputs, compute }: Equation, modulus: number): Relation {
  return {
    parts: [part],
    variables: [...inputs, output],
    weight: (values, [faulty]) => {
      if (faulty) return 1 / modulus
      const result = compute(values) % modulus
      return values[values.length - 1] === (result < 0 ? result + modulus : result) ? 1 : 0
    },
  }
}
