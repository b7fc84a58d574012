import { replyOf } from "../../src/channels/reply-of.ts"
import { SAMPLES } from "../channels/reply-of-samples.ts"

/**
 * How long mails take to read, and how the time grows with what was made to be slow: a reader that goes back over what it
 * has read takes a hundred times as long for ten times the length, one that does not takes ten times (failure X16).
 */
const PLAIN = "From: a@example.org\nContent-Type: text/plain; charset=utf-8\n\n"
const HTML = "From: a@example.org\nContent-Type: text/html; charset=utf-8\n\n"
const KB = 1000
const filled = (head: string, piece: string) => (size: number) => Buffer.from(head + piece.repeat(size / piece.length))

const SLOW: Record<string, (size: number) => Buffer> = {
  "on x at x, one line": filled(PLAIN, "on x at x "),
  "on x at x, lines": filled(PLAIN, "on x at x\n"),
  "wrote, lines": filled(PLAIN, "On 2026 at 7:00 x wrote:\n"),
  "labels, lines": filled(PLAIN, "From: a@b 2026\n"),
  dashes: filled(PLAIN, "-----a"),
  angles: filled(PLAIN, ">"),
  "blank lines": filled(PLAIN, "\n"),
  "opened tags": filled(HTML, "<div>"),
  "tags that never end": filled(HTML, '<a b="'),
  "comments that never end": filled(HTML, "<!--"),
  "words in a subject": filled("Subject: ", "=?utf-8?q?a?="),
  parameters: filled("Content-Type: text/plain; ", 'a="\\";'),
  "soft breaks": filled("Content-Type: text/plain\nContent-Transfer-Encoding: quoted-printable\n\n", "= "),
}

function best(runs: number, work: () => unknown): number {
  let least = Number.POSITIVE_INFINITY
  for (let i = 0; i < runs; i += 1) {
    const from = performance.now()
    work()
    least = Math.min(least, performance.now() - from)
  }
  return least
}

const times = SAMPLES.map(({ eml }) => best(5, () => replyOf(eml))).sort((a, b) => a - b)
const at = (share: number): string =>
  (times[Math.min(times.length - 1, Math.floor(times.length * share))] as number).toFixed(3)
console.log(
  `${SAMPLES.length} mails as people's programs write them: p50 ${at(0.5)} ms   p99 ${at(0.99)} ms   most ${at(1)} ms`,
)
for (const [name, make] of Object.entries(SLOW)) {
  const [small, large] = [best(5, () => replyOf(make(20 * KB))), best(5, () => replyOf(make(200 * KB)))]
  console.log(
    `${name.padEnd(24)} 20 kB ${small.toFixed(1).padStart(6)} ms   200 kB ${large.toFixed(1).padStart(6)} ms   ${(large / small).toFixed(0).padStart(3)} times for 10 times the length`,
  )
}
