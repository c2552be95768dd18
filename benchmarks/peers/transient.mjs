// Time simulation by the peers: ngspice for ladders, scientific Python for ladders and for a whole machine.
import { spawnSync } from 'node:child_process'
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'

const script = fileURLToPath(new URL('transient.py', import.meta.url))
const env = { ...process.env, OPENBLAS_NUM_THREADS: '1', OMP_NUM_THREADS: '1', MKL_NUM_THREADS: '1' }

function inFolder(use) {
  const folder = mkdtempSync(join(tmpdir(), 'halfsplit-bench-'))
  try {
    return use(folder)
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
}

/** @returns {{ seconds: number, values: number[] }} best of its rounds, starting Python not counted */
export function scipy(job) {
  return inFolder((folder) => {
    const file = join(folder, 'job.json')
    writeFileSync(file, JSON.stringify(job))
    const done = spawnSync('python3', [script, file], { encoding: 'utf8', env })
    if (done.error || done.status !== 0) throw new Error(`scipy failed: ${done.stderr ?? done.error}`)
    return JSON.parse(done.stdout)
  })
}

/** One deck, `repeats` runs of the same transient in one process; less the same deck with none. Reads the last node at the end. */
export function ngspice({ nodes, ohm, farad, volt, until }, repeats) {
  const parts = Array.from(
    { length: nodes },
    (_, i) => `r${i + 1} ${i ? `n${i}` : 'in'} n${i + 1} ${ohm}\nc${i + 1} n${i + 1} 0 ${farad} ic=0`,
  )
  const deck = (count) => {
    const each = Array.from({ length: count }, (_, k) => [
      `tran ${until / 50} ${until} uic`,
      ...(k < count - 1 ? ['destroy all'] : ['let last = length(time) - 1', `print v(n${nodes})[last]`]),
    ]).flat()
    return [
      '* ladder',
      `v1 in 0 dc ${volt}`,
      ...parts,
      '.options reltol=1e-6 vntol=1e-9 abstol=1e-12',
      '.control',
      'set noaskquit',
      ...each,
      'quit',
      '.endc',
      '.end',
      '',
    ].join('\n')
  }
  return inFolder((folder) => {
    const time = (count) => {
      const file = join(folder, 'ladder.cir')
      writeFileSync(file, deck(count))
      const begun = performance.now()
      const done = spawnSync('ngspice', ['-b', file], { cwd: folder, encoding: 'utf8' })
      if (done.error) throw done.error
      return { seconds: (performance.now() - begun) / 1000, text: done.stdout }
    }
    const idle = time(0).seconds
    const { seconds, text } = time(repeats)
    return { seconds: Math.max(seconds - idle, 1e-6) / repeats, values: [Number(/last\] = ([-+\d.e]+)/.exec(text)?.[1])] }
  })
}
