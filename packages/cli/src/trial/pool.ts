import { availableParallelism } from 'node:os'
import { Worker } from 'node:worker_threads'
import type { Done, Task, WorkerData } from './worker.js'

/** Workers there are by themselves: one a core. */
export const coresHere = (): number => availableParallelism()

/**
 * Has all tasks worked by so many workers at once, each taking the next when it is free. Which worker takes which changes no outcome.
 * @param came called after each, with the share that is done   @returns what was done, in the order of the tasks
 * @throws what a worker throws
 */
export async function workAll(
  data: WorkerData,
  tasks: readonly Task[],
  workers: number,
  came: (share: number) => void,
): Promise<Done[]> {
  const done: Done[] = []
  const all: Worker[] = []
  let next = 0
  let finished = 0
  const one = (): Promise<void> =>
    new Promise((resolve, reject) => {
      const worker = new Worker(new URL('./worker.js', import.meta.url), { workerData: data })
      all.push(worker)
      let mine = -1
      const give = () => {
        mine = next
        next += 1
        if (mine < tasks.length) worker.postMessage(tasks[mine])
        else resolve()
      }
      worker.on('message', (message: Done) => {
        done[mine] = message
        finished += 1
        came(finished / tasks.length)
        give()
      })
      worker.on('error', reject)
      give()
    })
  try {
    await Promise.all(Array.from({ length: Math.min(workers, tasks.length) }, one))
    return done
  } finally {
    await Promise.all(all.map((worker) => worker.terminate()))
  }
}
