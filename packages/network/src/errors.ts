/** A mistake of the caller, never of the numbers: a name that does not exist, a value no part can have, sources that contradict. */
export class NetworkError extends Error {
  constructor(
    readonly code:
      | 'UNKNOWN_NODE'
      | 'UNKNOWN_SIGNAL'
      | 'UNKNOWN_ELEMENT'
      | 'SOURCES_CONFLICT'
      | 'ELEMENT_VALUE'
      | 'SIGNAL_RING'
      | 'DRIVEN_TWICE',
    message: string,
    readonly elements: string[],
  ) {
    super(message)
    this.name = 'NetworkError'
  }
}

/** Index of a node by its name. @throws NetworkError UNKNOWN_NODE, naming what looked for it */
export function nodeAt(index: ReadonlyMap<string, number>, name: string, of: { id: string }): number {
  const node = index.get(name)
  if (node === undefined) throw new NetworkError('UNKNOWN_NODE', `'${of.id}' names the unknown node '${name}'`, [of.id])
  return node
}
