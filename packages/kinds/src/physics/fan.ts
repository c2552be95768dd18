import { positive, within } from './require.js'

/**
 * What a fan does at another speed, as ratios to before [1]: flow with the speed, pressure with its square, power with its cube;
 * pressure and power with the density of the air too.
 * @param speed new over old, > 0   @param density new over old, > 0
 * Source: fan laws, general text.  Checked by the heat rows of the handbook.   @throws HalfsplitError VALUE_IMPOSSIBLE
 */
export function fanRatios(speed: number, density = 1): { flow: number; pressure: number; power: number } {
  positive(speed, 'the ratio of speeds')
  positive(density, 'the ratio of densities')
  return { flow: speed, pressure: density * speed ** 2, power: density * speed ** 3 }
}

/**
 * Ratio of the densities of air at two temperatures [K], one pressure [1].
 * Source: perfect gas. @throws HalfsplitError VALUE_IMPOSSIBLE
 */
export function airDensityRatio(from: number, to: number): number {
  return positive(from, 'the temperature before') / positive(to, 'the temperature now')
}

/**
 * Power at the shaft of a fan [W]:  q dp/η.
 * @param flow [m³/s] @param pressure [Pa]   @param efficiency above 0 to 1 [1]
 * @throws HalfsplitError VALUE_IMPOSSIBLE
 */
export function fanPower(flow: number, pressure: number, efficiency = 1): number {
  return (flow * pressure) / within(efficiency, 1e-3, 1, 'the efficiency')
}
