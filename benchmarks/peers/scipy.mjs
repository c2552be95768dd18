// Sparse LU with low-rank updates from scientific Python, on one thread: see low_rank.py.
import { spawnSync } from 'node:child_process'
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'

const script = fileURLToPath(new URL('low_rank.py', import.meta.url))
const env = { ...process.env, OPENBLAS_NUM_THREADS: '1', OMP_NUM_THREADS: '1', MKL_NUM_THREADS: '1' }

export function version() {
  const done = spawnSync('python3', ['-c', 'import scipy; print(scipy.__version__)'], { encoding: 'utf8' })
  return done.error || done.status !== 0 ? undefined : `scipy ${done.stdout.trim()}`
}

/** Seconds of processor time by way, factorisation included and reading of the job not, and the voltages of every fault (not a number: chatters). */
export function campaign(net, faults) {
  const directory = mkdtempSync(join(tmpdir(), 'halfsplit-bench-'))
  try {
    const [job, out] = [join(directory, 'job.json'), join(directory, 'voltages')]
    writeFileSync(job, JSON.stringify({ nodes: net.nodes, elements: net.elements, faults }))
    const done = spawnSync('python3', [script, job, out], { encoding: 'utf8', env })
    if (done.error || done.status !== 0) throw new Error(`scipy failed: ${done.stderr ?? done.error}`)
    const bytes = readFileSync(out)
    const all = new Float64Array(bytes.buffer, bytes.byteOffset, bytes.length / 8)
    const nodes = net.nodes.length
    const voltages = faults.map((_, n) => all.subarray(n * nodes, (n + 1) * nodes))
    return { seconds: JSON.parse(done.stdout).seconds, voltages }
  } finally {
    rmSync(directory, { recursive: true, force: true })
  }
}
