import { type ChildProcessWithoutNullStreams, spawn } from "node:child_process"

/** Seconds that two processes of one kind take together, from their common start. */
export async function race(file: string, args: string[]): Promise<number> {
  const path = new URL(`./${file}`, import.meta.url).pathname
  const children = [0, 1].map(() => spawn(process.execPath, [path, ...args]))
  await Promise.all(children.map((child) => said(child, "ready")))
  const began = performance.now()
  const ends = children.map((child) => said(child, "sent"))
  for (const child of children) child.stdin.write("go\n")
  await Promise.all(ends)
  return (performance.now() - began) / 1000
}

function said(child: ChildProcessWithoutNullStreams, word: string): Promise<void> {
  return new Promise((resolve, reject) => {
    child.stdout.on("data", (chunk) => String(chunk).includes(word) && resolve())
    child.stderr.on("data", (chunk) => process.stderr.write(chunk))
    child.once("exit", (status) =>
      status === 0 ? resolve() : reject(new Error(`a worker ended with status ${status}`)),
    )
  })
}
