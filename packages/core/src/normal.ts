/** The standard normal law: density, distribution, intervals and quantile, accurate in both tails. */

const SQRT_HALF = Math.SQRT1_2
const INVERSE_SQRT_PI = 0.5641895835477563
const INVERSE_SQRT_TWO_PI = 0.3989422804014327

// W. J. Cody, Rational Chebyshev approximations for the error function, Math. Comp. 23 (1969), 631-637; coefficients from memory,
// held against independent values in normal.ref.test.ts. Highest power first, the constant term last.
const ERF_TOP = [1.85777706184603153e-1, 3.1611237438705656, 1.13864154151050156e2, 3.77485237685302021e2, 3.20937758913846947e3]
const ERF_BOTTOM = [1, 2.36012909523441209e1, 2.44024637934444173e2, 1.28261652607737228e3, 2.84423683343917062e3]
const MIDDLE_TOP = [
  2.15311535474403846e-8, 5.64188496988670089e-1, 8.88314979438837594, 6.61191906371416295e1, 2.98635138197400131e2,
  8.8195222124176909e2, 1.71204761263407058e3, 2.05107837782607147e3, 1.23033935479799725e3,
]
const MIDDLE_BOTTOM = [
  1, 1.57449261107098347e1, 1.17693950891312499e2, 5.37181101862009858e2, 1.62138957456669019e3, 3.29079923573345963e3,
  4.36261909014324716e3, 3.43936767414372164e3, 1.23033935480374942e3,
]
const FAR_TOP = [
  1.63153871373020978e-2, 3.05326634961232344e-1, 3.60344899949804439e-1, 1.25781726111229246e-1, 1.60837851487422766e-2,
  6.58749161529837803e-4,
]
const FAR_BOTTOM = [
  1, 2.56852019228982242, 1.87295284992346047, 5.27905102951428412e-1, 6.05183413124413191e-2, 2.33520497626869185e-3,
]

function polynomial(coefficients: readonly number[], x: number): number {
  let sum = 0
  for (const c of coefficients) sum = sum * x + c
  return sum
}

/** erf(x) for |x| <= 0.46875, where the complement would cancel. */
function smallErf(x: number): number {
  return (x * polynomial(ERF_TOP, x * x)) / polynomial(ERF_BOTTOM, x * x)
}

/** exp(x²)·erfc(x) for x > 0.46875: the tail without its exponential, so that it never underflows. */
function scaledErfc(x: number): number {
  if (x <= 4) return polynomial(MIDDLE_TOP, x) / polynomial(MIDDLE_BOTTOM, x)
  const inverse = 1 / (x * x)
  return (INVERSE_SQRT_PI - (inverse * polynomial(FAR_TOP, inverse)) / polynomial(FAR_BOTTOM, inverse)) / x
}

/** exp(-x²/2) with x split in two, because rounding of x² would cost a relative error of x²/2 ulp in the tail. */
function gaussian(x: number): number {
  const head = Math.trunc(x * 16) / 16
  return Math.exp((-head * head) / 2) * Math.exp((-(x - head) * (x + head)) / 2)
}

/** P(Z > x) for x >= 0. */
function upperTail(x: number): number {
  const scaled = x * SQRT_HALF
  return scaled <= 0.46875 ? 0.5 - smallErf(scaled) / 2 : (gaussian(x) * scaledErfc(scaled)) / 2
}

/** P(0 < Z < x) for x >= 0. */
function centralHalf(x: number): number {
  const scaled = x * SQRT_HALF
  return scaled <= 0.46875 ? smallErf(scaled) / 2 : 0.5 - upperTail(x)
}

/**
 * Density of the standard normal law, exp(-x²/2)/sqrt(2 pi).
 * @param x any number [1]   @returns [1]
 * Checked in normal.ref.test.ts.
 */
export function normalPdf(x: number): number {
  return Number.isFinite(x) ? INVERSE_SQRT_TWO_PI * gaussian(x) : Number.isNaN(x) ? Number.NaN : 0
}

/**
 * Distribution of the standard normal law, P(Z <= x), with about 1e-15 relative in both tails.
 * @param x any number, infinities included [1]   @returns 0 to 1; below x = -38.6 it underflows to 0, see `logNormalCdf`
 * Source: Cody 1969 (rational approximations of erf and erfc).  Checked in normal.ref.test.ts.
 */
export function normalCdf(x: number): number {
  if (Number.isNaN(x)) return Number.NaN
  if (x === Number.NEGATIVE_INFINITY) return 0
  if (x === Number.POSITIVE_INFINITY) return 1
  return x < 0 ? upperTail(-x) : 0.5 + centralHalf(x)
}

/**
 * Natural logarithm of `normalCdf(x)`, which does not underflow: at x = -100 it is -5005.5.
 * @param x any number [1]   @returns at most 0
 * Source: Cody 1969, scaled complement.  Checked in normal.ref.test.ts.
 */
export function logNormalCdf(x: number): number {
  if (x > -1) return x > 0 ? Math.log1p(-upperTail(x)) : Math.log(normalCdf(x))
  if (x === Number.NEGATIVE_INFINITY) return x
  return (-x * x) / 2 + Math.log(scaledErfc(-x * SQRT_HALF) / 2)
}

// Gauss-Legendre nodes and weights, 7 points (Abramowitz and Stegun, table 25.4).
const NODES = [0, 0.4058451513773972, 0.7415311855993945, 0.9491079123427585]
const WEIGHTS = [0.4179591836734694, 0.3818300505051189, 0.2797053914892767, 0.1294849661688697]

function narrowInterval(middle: number, half: number): number {
  let sum = WEIGHTS[0] * normalPdf(middle)
  for (let i = 1; i < 4; i++) {
    sum += WEIGHTS[i] * (normalPdf(middle - half * NODES[i]) + normalPdf(middle + half * NODES[i]))
  }
  return sum * half
}

/**
 * P(lo < Z < hi) of the standard normal law, without the cancellation of two nearly equal values of `normalCdf`:
 * narrow intervals (a display step far out in a tail) keep their full relative precision.
 * @param lo lower end [1]   @param hi upper end [1]   @returns 0 to 1; 0 where hi <= lo
 * Source: 7-point Gauss-Legendre where (hi-lo)·max(1,|middle|) < 1, tails by Cody 1969 elsewhere.  Checked in normal.ref.test.ts.
 */
export function normalInterval(lo: number, hi: number): number {
  if (Number.isNaN(lo) || Number.isNaN(hi)) return Number.NaN
  if (hi <= lo) return 0
  const middle = lo / 2 + hi / 2
  if ((hi - lo) * Math.max(1, Math.abs(middle)) < 1) return narrowInterval(middle, (hi - lo) / 2)
  if (lo >= 0) return normalCdf(-lo) - normalCdf(-hi)
  if (hi <= 0) return normalCdf(hi) - normalCdf(lo)
  return centralHalfOrLimit(hi) + centralHalfOrLimit(-lo)
}

function centralHalfOrLimit(x: number): number {
  return x === Number.POSITIVE_INFINITY ? 0.5 : centralHalf(x)
}

/** Start for the quantile, good to 4.5e-4: Abramowitz and Stegun, formula 26.2.23 (from memory). */
function roughUpperQuantile(p: number): number {
  const t = Math.sqrt(-2 * Math.log(p))
  return t - (2.515517 + t * (0.802853 + t * 0.010328)) / (1 + t * (1.432788 + t * (0.189269 + t * 0.001308)))
}

/** x < 0 with P(Z <= x) = p, for 0 < p < 0.5: Newton on the logarithm, which is nearly quadratic and so never overshoots. */
function lowerQuantile(p: number): number {
  const target = Math.log(p)
  let x = Math.min(-roughUpperQuantile(p), 0)
  for (let i = 0; i < 8; i++) {
    const logCdf = logNormalCdf(x)
    const slope = Math.exp(-(x * x) / 2 - logCdf) * INVERSE_SQRT_TWO_PI
    // Near the middle the difference of probabilities is more exact than that of their logarithms.
    const step = p > 0.1 ? (normalCdf(x) - p) / normalPdf(x) : (logCdf - target) / slope
    x -= step
    if (Math.abs(step) <= 1e-16 * Math.max(1, Math.abs(x))) break
  }
  return x
}

/**
 * Quantile of the standard normal law: the x with `normalCdf(x)` = p.
 * @param p probability, 0 to 1   @returns -Infinity at 0, Infinity at 1, NaN outside
 * Checked in normal.ref.test.ts.
 */
export function normalQuantile(p: number): number {
  if (!(p >= 0 && p <= 1)) return Number.NaN
  if (p === 0) return Number.NEGATIVE_INFINITY
  if (p === 1) return Number.POSITIVE_INFINITY
  if (p === 0.5) return 0
  return p < 0.5 ? lowerQuantile(p) : -lowerQuantile(1 - p)
}
