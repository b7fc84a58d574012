import { understand } from "../../src/replies/understand.ts"
import { contextFor, readGardens } from "../replies/gardens.ts"
import { Dice, plainReply, slipped } from "../replies/mutate.ts"

/**
 * How long a reply takes to understand, beside a plain pass of regular expressions over the same texts. Each text is read
 * three times and its best time counts, so that other work on the machine does not.
 */
const FIXTURES = new URL("../fixtures/replies/", import.meta.url)
const gardens = ["fresh-1", "fresh-2"].flatMap((name) =>
  Object.values(readGardens(new URL(`${name}-contexts.json`, FIXTURES))),
)
const PLAIN = [
  /\b(?:done|finished)\b/i,
  /\b(?:cut|mowed|chopped)\b/i,
  /\bwatered\b/i,
  /\b(?:snooze|remind)\b/i,
  /\bskip\b/i,
  /\b(?:bloom|flower)(?:s|ing)?\b/i,
  /\b(?:up|sprouted)\b/i,
  /\bstop\b/i,
  /\b\d+\b/,
  /\b(?:mon|tue|wed|thu|fri|sat|sun)[a-z]*\b/i,
  /\b\d{1,2}\/\d{1,2}\b/,
  /\bnot\b|n't\b/i,
]

const dice = new Dice(20260513)
const TEXTS = 20_000
const texts = Array.from({ length: TEXTS }, () => {
  const garden = dice.pick(gardens)
  return { text: slipped(dice, plainReply(dice, garden)), context: contextFor(garden, "2026-05-13T09:30") }
})

function measure(read: (text: string, index: number) => unknown): number[] {
  const times: number[] = []
  texts.forEach(({ text }, index) => {
    let best = Number.POSITIVE_INFINITY
    for (let i = 0; i < 3; i += 1) {
      const from = performance.now()
      read(text, index)
      best = Math.min(best, performance.now() - from)
    }
    // The first texts only warm the run-time up.
    if (index >= TEXTS / 10) times.push(best)
  })
  return times.sort((a, b) => a - b)
}

function row(name: string, times: readonly number[]): void {
  const at = (share: number): string =>
    (times[Math.min(times.length - 1, Math.floor(times.length * share))] as number).toFixed(4)
  console.log(`${name.padEnd(28)} p50 ${at(0.5)} ms   p99 ${at(0.99)} ms   p99.9 ${at(0.999)} ms   most ${at(1)} ms`)
}

const letters = texts.reduce((sum, { text }) => sum + text.length, 0)
console.log(`${TEXTS} mutated replies, ${(letters / TEXTS).toFixed(0)} characters on average`)
const MEGABYTE = 2 ** 20
const heap = (): number => process.memoryUsage().heapUsed / MEGABYTE
const before = heap()
const read = measure((text, index) => understand(text, (texts[index] as (typeof texts)[number]).context))
const plain = measure((text) => PLAIN.map((pattern) => pattern.test(text)))
console.log(
  `memory: ${(process.memoryUsage().rss / MEGABYTE).toFixed(0)} MiB resident, the heap ${before.toFixed(0)} MiB before and ${heap().toFixed(0)} MiB after 3 times ${TEXTS} texts`,
)
row("understood", read)
row("regular expressions alone", plain)
console.log(
  `a reply takes ${((read[read.length >> 1] as number) / (plain[plain.length >> 1] as number) || 0).toFixed(0)} times as long as the expressions alone`,
)
