import type { Kind, Look } from '../kind.js'

/** What the poppet and the spool valve share besides the magnet. */
export const HYDRAULIC_REPAIRS: Kind['repairs'] = {
  replace: { title: 'replace the valve', minutes: 40, price: 110, disturbs: true },
  clean: { title: 'take the valve out and clean it', minutes: 50, price: 15, disturbs: true },
}

/** @param side as of `addMagnet`   @param called in words */
export const coilLooks = (side = '', called = 'coil'): readonly Look[] => [
  {
    name: `${side}magnet`,
    about: `pull of the ${called} on a screwdriver held to it`,
    words: ['none', 'pulls'],
    // Share of the current that shifts it cold: a third is hardly felt, two thirds are plain. An assumption.
    levels: [[0.2, 0.5]],
    quantity: (part) => ({
      probe: { through: `${side}coil` },
      scale: part.value('coil') / part.value('pull_in'),
      absolute: true,
    }),
    by: 'technician',
    minutes: 1,
  },
]
