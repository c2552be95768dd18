import type { Intervention } from '@halfsplit/system'

/** A setup of the machine: a state, and at most one thing done to it. */
export interface Setup {
  state: string
  intervention?: Intervention
}

export const setupKey = ({ state, intervention }: Setup): string =>
  intervention ? `${state} + ${interventionKey(intervention)}` : state

function interventionKey(one: Intervention): string {
  if (one.do === 'unplug') return `unplug ${[...one.parts].sort().join(' ')}`
  return one.do === 'jumper' ? `jumper ${one.from} ${one.to}` : `swap ${one.part}`
}
