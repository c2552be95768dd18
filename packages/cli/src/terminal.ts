import { createInterface } from 'node:readline'
import { type Io, mayColour } from './io.js'

/** The process's own streams, clock and terminal. */
export function terminal(): Io {
  const { stdin, stdout, stderr, env } = process
  // Whoever reads us may have seen enough (`| head`): that is no mistake.
  stdout.on('error', (error: NodeJS.ErrnoException) => {
    if (error.code !== 'EPIPE') throw error
    process.exit()
  })
  const colour = mayColour(env, stdout.isTTY)
  return {
    out: (text) => void stdout.write(text),
    err: (text) => void stderr.write(text),
    colour,
    interactive: Boolean(stdin.isTTY && stdout.isTTY),
    lines,
    now: () => new Date().toISOString(),
    working: () => working(stderr),
    ...(stderr.isTTY ? { progress: progressOn(stderr) } : {}),
  }
}

/** Time between two showings [ms]: often enough for an eye. */
const SHOWN_EVERY_MS = 200

function progressOn(stream: NodeJS.WriteStream): (share: number) => void {
  // Short work shows nothing at all.
  let next = Date.now() + SHOWN_EVERY_MS
  let shown = ''
  return (share) => {
    const done = share >= 1
    if (!done && Date.now() < next) return
    next = Date.now() + SHOWN_EVERY_MS
    const text = done ? '' : `running, ${Math.floor(share * 100)} % done`
    stream.write(`\r${text.padEnd(shown.length)}${done ? '\r' : ''}`)
    shown = text
  }
}

const WORKING = 'working ...'

/** Says that an answer takes a moment; at a terminal the word goes away again. */
function working(stream: NodeJS.WriteStream): () => void {
  stream.write(stream.isTTY ? WORKING : `halfsplit: ${WORKING}\n`)
  return () => void (stream.isTTY && stream.write(`\r${' '.repeat(WORKING.length)}\r`))
}

/** Asks for one line at a time; ends with the input (Ctrl-D) or Ctrl-C. */
async function* lines(prompt: () => string): AsyncGenerator<string> {
  const reader = createInterface({ input: process.stdin, output: process.stdout })
  const ask = () => {
    const text = prompt()
    const last = text.lastIndexOf('\n') + 1
    process.stdout.write(text.slice(0, last))
    reader.setPrompt(text.slice(last))
    reader.prompt()
  }
  try {
    ask()
    for await (const line of reader) {
      yield line
      ask()
    }
    process.stdout.write('\n')
  } finally {
    reader.close()
  }
}
