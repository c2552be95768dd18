import { expect, test } from 'vitest'
import { leastSquares } from './least-squares.js'

test('a line through four points, with the textbook standard errors', () => {
  const x = [0, 1, 2, 3]
  const { solution, residualSd, uncertaintyOf } = leastSquares(
    x.map((one) => [1, one]),
    [1, 3, 4, 8],
  )
  // By hand: slope 11/5, intercept 4 - 3.3, squares of the residuals 0.09 + 0.01 + 1.21 + 0.49 = 1.8.
  expect(solution[0]).toBeCloseTo(0.7, 12)
  expect(solution[1]).toBeCloseTo(2.2, 12)
  expect(residualSd).toBeCloseTo(Math.sqrt(1.8 / 2), 12)
  expect(uncertaintyOf([0, 1])).toBeCloseTo(Math.sqrt(0.9 / 5), 12)
  expect(uncertaintyOf([1, 1.5])).toBeCloseTo(Math.sqrt(0.9 / 4), 12)
})

test('values that leave an unknown open, or are too few, are refused', () => {
  expect(() =>
    leastSquares(
      [
        [1, 2],
        [2, 4],
        [3, 6],
      ],
      [1, 2, 3],
    ),
  ).toThrow('unknown number 2 open')
  expect(() =>
    leastSquares(
      [
        [1, 2],
        [2, 1],
      ],
      [1, 2],
    ),
  ).toThrow('2 values are too few for 2 unknowns')
})
