import type { Random } from '@halfsplit/core'
import { type Bench, logOf, propose, type Standing, verdict } from '@halfsplit/diagnosis'
import { type Job, JOB_FORMAT } from '@halfsplit/job'
import type { Complaint, Fault, System } from '@halfsplit/system'
import { Hands } from './hands.js'
import { type Chances, modeOf, plainWord, repairOf, VirtualMachine } from './virtual-machine.js'

/** A job to be drawn: what is the matter, and what the owner says of it. */
export interface JobOrder {
  truth: readonly Fault[]
  /** Id of one of the description's complaints. */
  complaint: string
  /** Most tests taken before the technician gives up; 8 unless given. */
  most?: number
  chances?: Partial<Chances>
}

/** A job as it was recorded, and what was known to nobody in it. */
export interface DrawnJob {
  job: Job
  /** Repairs that cure what is the matter. */
  repairs: readonly string[]
  /** The machine shows what the owner complains of. */
  complaintShown: boolean
  /** The bench's standing after the last entry. */
  standing: Standing
}

/**
 * Draws a job: a specimen of the machine with the given faults, used by its owner as he complains of it, then tested by a technician who
 * always takes the test the bench proposes, until it proposes a repair, has nothing more to tell, or `most` tests are done.
 * @param random the same stream gives the same job   @throws RangeError for a complaint or fault the description does not have
 * Cost: one ranking of all tests for each entry.
 */
export function drawJob(bench: Bench, order: JobOrder, random: Random): DrawnJob {
  const { system } = bench
  const complaint = system.complaints.find(({ id }) => id === order.complaint)
  if (!complaint) throw new RangeError(`'${system.name}' has no complaint '${order.complaint}'`)
  for (const fault of order.truth) modeOf(system, fault)
  const machine = new VirtualMachine(system, order.truth, random, order.chances)
  const complaintShown = isShown(machine, complaint)
  const job = emptyJob(system, complaint)
  const technician = new Technician(bench, machine, job)
  for (let n = 0; n < (order.most ?? MOST_TESTS) && technician.goesOn(); n += 1);
  const repairs = [...new Set(order.truth.map((fault) => repairOf(system, fault)))]
  return { job, repairs, complaintShown, standing: technician.standing }
}

const MOST_TESTS = 8

/** Whether each look of the complaint would be said of this machine by an observer who neither wavers nor slips. Using it so leaves its traces. */
export function isShown(machine: VirtualMachine, { shows }: Complaint): boolean {
  return shows
    .map(({ state, part: name, look: lookName, word }) => {
      machine.use(state)
      const part = machine.system.parts.get(name)
      const look = part?.kind.looks?.find((one) => one.name === lookName)
      const quantity = part && look && machine.quantityOf({ state }, part, look)
      return look && quantity !== undefined && plainWord(look, quantity) === word
    })
    .every(Boolean)
}

/** A job with nothing done yet. */
export function emptyJob(system: System, { words, shows }: Complaint): Job {
  return {
    format: JOB_FORMAT,
    machine: system.title,
    description: { name: system.name, hash: system.hash },
    complaint: { words, looks: shows.map(({ state, part, look, word }) => ({ state, observable: `${part}.${look}`, word })) },
    entries: [],
  }
}

/** Somebody who does what the bench proposes. */
class Technician {
  standing: Standing
  private readonly hands: Hands
  private readonly done = new Set<string>()

  constructor(
    private readonly bench: Bench,
    machine: VirtualMachine,
    private readonly job: Job,
  ) {
    this.hands = new Hands(machine)
    this.standing = this.weigh()
  }

  /** Takes the next test; false when there is a repair to make, or nothing left to tell. */
  goesOn(): boolean {
    if (this.job.entries.length > 0 && verdict(this.standing).kind === 'repair') return false
    const { best } = propose(this.bench, this.standing, { from: this.hands.at, excluded: this.done })
    if (!best) return false
    this.done.add(best.test.id)
    this.job.entries.push(this.hands.take(best.test))
    this.standing = this.weigh()
    return true
  }

  private weigh(): Standing {
    const { log, complaint } = logOf(this.bench, this.job)
    return this.bench.standing(log, complaint)
  }
}
