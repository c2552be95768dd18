/** Conductance of an open contact or a cut: what a gap in a dry harness still lets through [S]. Common practice, no source. */
export const GAP = 1e-10

/** Conductance of a solid connection where one is needed as a number [S]. */
export const SOLID = 1e3

/** Hard contact of chafed copper with the frame or with another wire [S]. Common practice, no source. */
export const DEAD_SHORT = 50
