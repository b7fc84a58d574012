import { afterEach, describe, expect, it } from "vitest"
import { sendDue } from "../../src/bot/send.ts"
import { retryWait } from "../../src/bot/waits.ts"
import { addMs } from "../../src/values/instant.ts"
import { aHouse } from "../bot/given-house.ts"
import { aGarden } from "../given.ts"
import { drawer } from "../stand-ins/carrier-book.ts"
import type { Knobs } from "../stand-ins/carrier-faults.ts"
import { aCarrier, INES, START } from "./sms-given.ts"

const MINUTE = 60_000
const HOUR = 60 * MINUTE
/** Under what a day may cost. */
const COUNT = 40

const open: Awaited<ReturnType<typeof aCarrier>>[] = []
afterEach(async () => {
  for (const each of open.splice(0)) await each.carrier.close()
})

/**
 * Sends so many texts to one phone, one a minute, by a program that is started anew every now and then: how often the
 * carrier took each. `reports`: the carrier's reports come in.
 */
async function sendThrough(
  knobs: Partial<Knobs>,
  seed: number,
  words: (n: number) => string,
  reports: boolean,
): Promise<Map<string, number>> {
  const given = await aCarrier({ carrier: { seed }, sms: { wait: (attempt) => retryWait(attempt, 0.5) } })
  open.push(given)
  Object.assign(given.carrier.knobs, knobs)
  const { house } = aHouse(aGarden())
  house.text = given.channel
  const draw = drawer(seed)
  const taken = () => given.carrier.taken
  for (let minute = 0; minute < 20 * 60; minute += 1) {
    if (minute < COUNT)
      await house.store.queue([
        {
          key: `answer:${minute}`,
          garden: "acre",
          person: "ines",
          kind: "service",
          channel: "text",
          to: INES,
          text: words(minute),
          told: [],
          notBefore: given.clock.now,
          goodUntil: addMs(START, 100 * HOUR),
        },
      ])
    // Only what was written down is known to a program that starts anew.
    if (draw() < 0.2) house.text = given.again()
    await sendDue(house, given.clock.now)
    if (reports) for (const each of taken()) await given.again().confirm(each.key as string, each.sid)
    given.later(MINUTE)
    if (minute > COUNT && (await house.store.depth()).outgoing === 0) break
  }
  expect((await house.store.depth()).outgoing).toBe(0)
  return new Map(
    Array.from({ length: COUNT }, (_, i) => [
      `answer:${i}`,
      taken().filter((each) => each.key === `answer:${i}`).length,
    ]),
  )
}

const KNOBS: [string, Partial<Knobs>][] = [
  ["answers that are lost", { lostAfter: 0.2 }],
  ["calls that are lost", { lostBefore: 0.2 }],
  ["gateways that break", { broken: 0.2, tooMany: 0.1 }],
  ["a list that cannot be read half the time", { lostAfter: 0.15, lostBefore: 0.15, listFails: 0.5 }],
  ["a list that lags", { lostAfter: 0.15, lostBefore: 0.15, listLagMs: MINUTE }],
  ["all of it", { lostAfter: 0.1, lostBefore: 0.1, broken: 0.1, tooMany: 0.05, listFails: 0.3, listLagMs: MINUTE }],
]
const notOnce = (counts: Map<string, number>) => [...counts].filter(([, count]) => count !== 1)

describe("texts through a carrier that fails, by a program that starts anew now and then (D1, D2, D3)", () => {
  it.each(KNOBS)("%s: each is taken once", async (_, knobs) => {
    for (const seed of [1, 2, 3])
      expect(notOnce(await sendThrough(knobs, seed, (n) => `${n} Water.`, false))).toEqual([])
  })

  it.each(KNOBS)("%s: of texts of the very same words, each is taken once where reports come in", async (_, knobs) => {
    for (const seed of [1, 2]) expect(notOnce(await sendThrough(knobs, seed, () => "Noted.", true))).toEqual([])
  })

  it.each(KNOBS)(
    "%s: without reports their number is right, though nobody can say which is which",
    async (_, knobs) => {
      for (const seed of [1, 2]) {
        const counts = await sendThrough(knobs, seed, () => "Noted.", false)
        expect([...counts.values()].reduce((a, b) => a + b, 0)).toBe(COUNT)
      }
    },
  )
})
