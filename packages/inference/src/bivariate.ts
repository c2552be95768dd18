/** Probability that two correlated standard normal quantities both exceed their edges. */

import { normalCdf } from '@halfsplit/core'

// Gauss-Legendre nodes and weights, 10 points (Abramowitz and Stegun, table 25.4, from memory; checked in bivariate.test.ts).
const NODES = [0.14887433898163122, 0.4333953941292472, 0.6794095682990244, 0.8650633666889845, 0.9739065285171717]
const WEIGHTS = [0.29552422471475287, 0.26926671930999635, 0.21908636251598204, 0.1494513491505806, 0.06667134430868814]

/** Panels of the angle, as shares of the way to asin(rho): finer towards the end, where the integrand is steep when |rho| is near 1. */
const PANELS = [0, 0.5, 0.75, 0.9, 0.97, 0.995, 1]

/** Up to this correlation one panel does. */
const EASY = 0.8

function integrand(h: number, k: number, angle: number): number {
  const sine = Math.sin(angle)
  const cosine = Math.cos(angle)
  return Math.exp(-(h * h + k * k - 2 * h * k * sine) / (2 * cosine * cosine))
}

/**
 * P(X > h, Y > k) of standard normals with correlation rho, to about 1e-7.
 *     = P(X>h) P(Y>k) + 1/(2 pi) · integral from 0 to asin(rho) of exp(-(h² + k² - 2 h k sin t)/(2 cos² t)) dt
 * Source: R. L. Plackett, Biometrika 41 (1954), from memory.  Checked in bivariate.test.ts.
 */
export function bothAbove(h: number, k: number, rho: number): number {
  const independent = normalCdf(-h) * normalCdf(-k)
  if (!Number.isFinite(h) || !Number.isFinite(k)) return independent
  const end = Math.asin(rho)
  let sum = 0
  const panels = Math.abs(rho) < EASY ? [0, 1] : PANELS
  for (let p = 1; p < panels.length; p++) {
    const middle = (end * (panels[p] + panels[p - 1])) / 2
    const half = (end * (panels[p] - panels[p - 1])) / 2
    for (let i = 0; i < NODES.length; i++) {
      sum += WEIGHTS[i] * half * (integrand(h, k, middle + half * NODES[i]) + integrand(h, k, middle - half * NODES[i]))
    }
  }
  return Math.min(Math.max(independent + sum / (2 * Math.PI), 0), Math.min(normalCdf(-h), normalCdf(-k)))
}
