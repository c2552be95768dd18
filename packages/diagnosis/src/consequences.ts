import type { Mode } from '@halfsplit/kinds'
import type { Fault, Part } from '@halfsplit/system'
import type { Complaint, Done } from './evidence.js'
import { repairOf, type SizedFault, sizedKeys } from './faults.js'
import type { Machine } from './machine.js'

/** What faults opened for good while the owner made his complaint: a fuse, a coil. It stays so in every state until it is repaired. */
export class Consequences {
  private readonly known = new Map<string, readonly SizedFault[]>()

  constructor(private readonly machine: Machine) {}

  /** The faults with their consequences, those repaired since left out. */
  added(faults: readonly SizedFault[], complaint: Complaint | undefined, done: readonly Done[]): readonly SizedFault[] {
    if (!complaint || faults.length === 0) return faults
    const repaired = done.flatMap((action) => (action.kind === 'repaired' ? action.repairs : []))
    const still = this.of(faults, complaint).filter(({ fault }) => !repaired.includes(fault.repair))
    return still.length > 0 ? [...faults, ...still] : faults
  }

  private of(faults: readonly SizedFault[], { shows }: Complaint): readonly SizedFault[] {
    const states = [...new Set(shows.map(({ state }) => state))]
    const key = `${states.join('|')}|${sizedKeys(faults)}`
    let blown = this.known.get(key)
    if (!blown) {
      const own = new Set(faults.map(({ fault }) => fault.part.name))
      const opened = new Map(
        states.flatMap((state) => this.machine.arrivePlain(faults, state).blown).map((one) => [one.part, one]),
      )
      blown = [...opened.values()].filter(({ part }) => !own.has(part)).map((one) => this.sized(one))
      this.known.set(key, blown)
    }
    return blown
  }

  private sized({ part: name, mode: id }: Fault): SizedFault {
    const part = this.machine.system.parts.get(name) as Part
    const mode = part.kind.modes.find((one) => one.id === id) as Mode
    return { fault: { id: `${name}.${id}`, part, mode, rate: 0, repair: repairOf(part, mode) }, sd: 0 }
  }
}
