import { plainWord, type VirtualMachine } from '../virtual-machine.js'

/** Word of every look that an operator has, in every state with the power on, for one who neither wavers nor slips. */
function operatorWords(machine: VirtualMachine): string[] {
  const { system } = machine
  const states = [...system.states.values()].filter(({ dead }) => !dead)
  const looks = [...system.parts.values()].flatMap((part) =>
    (part.kind.looks ?? []).filter(({ by }) => by === 'operator').map((look) => ({ part, look })),
  )
  return states.flatMap(({ name: state }) =>
    looks.map(({ part, look }) => {
      const quantity = machine.quantityOf({ state }, part, look)
      return quantity === undefined ? 'unsteady' : plainWord(look, quantity)
    }),
  )
}

/** Whether an operator would see the difference between two machines. */
export function isNoticed(machine: VirtualMachine, sound: VirtualMachine): boolean {
  const words = operatorWords(sound)
  return operatorWords(machine).some((word, i) => word !== words[i])
}
