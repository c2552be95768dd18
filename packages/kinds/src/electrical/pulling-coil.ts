import { copperRatio } from '@halfsplit/core'
import { GAP } from '../insulation.js'
import type { Builder, Mode, PartView } from '../kind.js'

/**
 * Coil of a relay or contactor between `coil_a` and `coil_b`, with its ratings `coil`, `pull_in` and `drop_out` at 20 degC and its setting
 * `temperature`. Referred to a cold coil: what counts is the current, volts over the copper's growth.
 * @returns the signal that says it has pulled in
 */
export function addPullingCoil(part: PartView, make: Builder): string {
  const hot = copperRatio(293.15, part.temperature)
  const coil = part.value('coil') * hot * (1 - (part.fault('coil_partly_shorted') ?? 0))
  const [a, b] = [make.port('coil_a'), make.port('coil_b')]
  const open = part.fault('coil_open')
  make.conductance('coil', a, b, open ? GAP : 1 / coil)
  return make.threshold('pulled', a, b, open ? 0 : 1 / hot, part.value('pull_in'), part.value('drop_out'))
}

/** Share of its turns that is bridged. */
export const COIL_SHORTED: Mode = {
  id: 'coil_partly_shorted',
  title: 'coil partly shorted',
  share: 0.03,
  severity: { dimension: 'fraction', scale: 'linear', nodes: [0.25, 0.4, 0.55, 0.7] },
  repair: 'replace',
}
