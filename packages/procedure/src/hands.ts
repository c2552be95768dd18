import { type Setup, setupKey, type Standpoint, type Test } from '@halfsplit/diagnosis'
import type { Entry } from '@halfsplit/job'
import type { Part } from '@halfsplit/system'
import { lookEntry, readingEntry } from './job-entries.js'
import type { VirtualMachine } from './virtual-machine.js'

/** Somebody's hands at a virtual machine: they take one test after another, and put back what was pulled for the one before. */
export class Hands {
  at: Standpoint

  constructor(private readonly machine: VirtualMachine) {
    const [parked] = machine.system.states.keys()
    this.at = { setup: { state: parked }, places: [] }
  }

  /** Takes a test: what was shown or seen, as an entry of the job's log. */
  take({ setup, probe, places }: Test): Entry {
    this.goTo(setup)
    this.at = { setup, places }
    if (probe.kind !== 'look') return readingEntry(setup, probe, this.machine.read(setup, probe))
    // Whoever proposed the test may have a description of his own; what is looked at is this machine.
    const part = this.machine.system.parts.get(probe.part.name) as Part
    return lookEntry(setup, probe, this.machine.look(setup, part, probe.look))
  }

  /** Everything is plugged in again, and the technician stands at a part. */
  standAt(places: readonly string[]): void {
    const plain: Setup = { state: this.at.setup.state }
    this.goTo(plain)
    this.at = { setup: plain, places }
  }

  /** What was pulled for the setup before goes back, and its contacts are wiped. */
  private goTo(next: Setup): void {
    const { intervention } = this.at.setup
    if (!intervention || setupKey(this.at.setup) === setupKey(next)) return
    if (intervention.do === 'unplug') this.machine.disturb(intervention.parts)
    if (intervention.do === 'swap') this.machine.disturb([intervention.part])
  }
}
