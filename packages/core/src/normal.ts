/** The standard normal law: density, distribution, intervals and quantile, accurate in both tails. */

const SQRT_HALF = Math.SQRT1_2
const INVERSE_SQRT_PI = 0.5641895835477563
const INVERSE_SQRT_TWO_PI = 0.3989422804014327

// W. J. Cody, Rational Chebyshev approximations for the error function, Math. Comp. 23 (1969), 631-637; coefficients from memory,
// held against independent values in normal.ref.test.ts. Highest power first, the constant term last.
const ERF_TOP = [0.18577770618460315, 3.1611237438705655, 113.86415415105016, 377.485237685302, 3209.3775891384694]
const ERF_BOTTOM = [1, 23.601290952344122, 244.02463793444417, 1282.6165260773723, 2844.236833439171]
const MIDDLE_TOP = [
  2.1531153547440383e-8, 0.5641884969886701, 8.883149794388377, 66.11919063714163, 298.6351381974001, 881.952221241769,
  1712.0476126340707, 2051.0783778260716, 1230.3393547979972,
]
const MIDDLE_BOTTOM = [
  1, 15.744926110709835, 117.6939508913125, 537.1811018620099, 1621.3895745666903, 3290.7992357334597, 4362.619090143247,
  3439.3676741437216, 1230.3393548037495,
]
const FAR_TOP = [
  0.016315387137302097, 0.30532663496123236, 0.36034489994980445, 0.12578172611122926, 0.016083785148742275,
  0.0006587491615298378,
]
const FAR_BOTTOM = [1, 2.568520192289822, 1.8729528499234604, 0.5279051029514285, 0.06051834131244132, 0.0023352049762686918]

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
