import { beforeEach, describe, expect, it } from "vitest"
import type { NewOutgoing, Outgoing, Store } from "../../../src/bot/needs.ts"
import { GARDEN, LEASE, nudge, plus, SENT, START, sent } from "../../store/samples.ts"

/** Messages to people: queued once, tried by one, settled by that try. */
export function outboxContract(current: () => Store): void {
  describe("messages to people", () => {
    let store: Store
    beforeEach(() => {
      store = current()
    })

    const claimed = async (minutes = 0): Promise<Outgoing> => {
      const message = await store.claimOutgoing(plus(minutes), LEASE)
      if (!message) throw new Error("nothing was waiting")
      return message
    }

    it("are there once for one key, however often they are queued (D3)", async () => {
      const answers = await Promise.all(
        Array.from({ length: 100 }, (_, i) => store.queue([nudge("k1", { text: `text ${i}` })])),
      )
      expect(answers.flat()).toEqual(["k1"])
      expect(await store.outgoing("k1")).toMatchObject({
        text: "text 0",
        state: "waiting",
        attempts: 0,
        carrierId: null,
        fate: null,
      })
      expect(await store.depth()).toMatchObject({ outgoing: 1 })
    })

    it("come back as they were queued", async () => {
      const mail = nudge("k1", {
        channel: "mail",
        to: "ines@example.org",
        subject: "South bed",
        html: "<p>Cut</p>",
        enclosures: [{ name: "beds.png", type: "image/png", base64: "AAEC", cid: "beds" }],
        headers: { "In-Reply-To": "<1@example.org>" },
        answers: 4,
      })
      expect(await store.queue([mail, nudge("k2")])).toEqual(["k1", "k2"])
      expect(await store.outgoing("k1")).toEqual({
        ...mail,
        state: "waiting",
        attempts: 0,
        dueAt: mail.notBefore,
        carrierId: null,
        fate: null,
        lastError: null,
      })
      expect(await store.outgoing("k9")).toBeNull()
    })

    it("go out earliest first, not before their time, marked and counted", async () => {
      await store.queue([
        nudge("second"),
        nudge("first", { notBefore: plus(-5) }),
        nudge("third"),
        nudge("later", { notBefore: plus(5) }),
      ])
      expect(await claimed()).toMatchObject({ key: "first", state: "sending", attempts: 1 })
      expect(await claimed()).toMatchObject({ key: "second" })
      expect(await claimed()).toMatchObject({ key: "third" })
      expect(await store.claimOutgoing(START, LEASE)).toBeNull()
      expect(await store.depth()).toMatchObject({ outgoing: 4 })
    })

    it("go out before others where they answer somebody", async () => {
      await store.queue([
        nudge("first", { notBefore: plus(-5) }),
        nudge("answer", { kind: "answer" }),
        nudge("stop", { kind: "service", notBefore: plus(-1) }),
      ])
      expect(await claimed()).toMatchObject({ key: "stop" })
      expect(await claimed()).toMatchObject({ key: "answer" })
      expect(await claimed()).toMatchObject({ key: "first" })
    })

    it("are handed to one of a hundred who ask at once", async () => {
      await store.queue([nudge("k1")])
      const answers = await Promise.all(Array.from({ length: 100 }, () => store.claimOutgoing(START, LEASE)))
      expect(answers.filter((answer) => answer !== null)).toHaveLength(1)
    })

    it("settled a hundred times at once count once, with their entries", async () => {
      await store.queue([nudge("k1")])
      await claimed()
      const answers = await Promise.all(
        Array.from({ length: 100 }, () => store.settleOutgoing("k1", 1, SENT, [sent("cut")])),
      )
      expect(answers.filter(Boolean)).toHaveLength(1)
      expect(await store.entries(GARDEN)).toHaveLength(1)
      expect(await store.outgoing("k1")).toMatchObject({ state: "sent", carrierId: "SM1", lastError: null })
      expect(await store.depth()).toMatchObject({ outgoing: 0 })
    })

    it("wait for their next try after a failure that may pass, and a late outcome of the first counts no more (D6)", async () => {
      await store.queue([nudge("k1")])
      await claimed()
      expect(
        await store.settleOutgoing("k1", 1, { is: "later", dueAt: plus(4), code: "429", text: "slow down" }, []),
      ).toBe(true)
      expect(await store.outgoing("k1")).toMatchObject({
        state: "waiting",
        dueAt: plus(4),
        lastError: "429: slow down",
      })
      expect(await store.claimOutgoing(plus(3), LEASE)).toBeNull()
      expect(await claimed(4)).toMatchObject({ key: "k1", attempts: 2 })
      expect(await store.settleOutgoing("k1", 1, SENT, [sent("cut")])).toBe(false)
      expect(await store.entries(GARDEN)).toEqual([])
    })

    it("left in sending are told of when the lease is over, and nobody sends them before they are settled (D1)", async () => {
      await store.queue([nudge("k1")])
      await claimed()
      expect(await store.unsettledOutgoing(plus(0.5))).toEqual([])
      expect(await store.unsettledOutgoing(plus(1))).toMatchObject([{ key: "k1", state: "sending", attempts: 1 }])
      expect(await store.claimOutgoing(plus(60), LEASE)).toBeNull()
      expect(
        await store.settleOutgoing(
          "k1",
          1,
          { is: "later", dueAt: plus(60), code: "not-taken", text: "the carrier has none" },
          [],
        ),
      ).toBe(true)
      expect(await claimed(60)).toMatchObject({ attempts: 2 })
    })

    it("of unknown outcome stay in sending until the carrier is to be asked", async () => {
      await store.queue([nudge("k1")])
      await claimed()
      await store.settleOutgoing("k1", 1, { is: "unknown", dueAt: plus(15), code: "timeout", text: "no answer" }, [])
      expect(await store.claimOutgoing(plus(20), LEASE)).toBeNull()
      expect(await store.unsettledOutgoing(plus(14))).toEqual([])
      expect(await store.unsettledOutgoing(plus(15))).toMatchObject([
        { key: "k1", dueAt: plus(15), lastError: "timeout: no answer" },
      ])
      expect(await store.settleOutgoing("k1", 1, SENT, [])).toBe(true)
      expect(await store.unsettledOutgoing(plus(99))).toEqual([])
    })

    it("by mail that are at an end keep their words, and nothing of pictures, HTML, headers and links (X7)", async () => {
      const link = "https://bell.example.org/season/Z2FyZGVuL2luZXM.c9BSBtbkkURqMCVNXscYuQ"
      const long = (key: string): NewOutgoing => ({
        ...nudge(key),
        channel: "mail",
        kind: "digest",
        text: `South bed\u0000 is up: ${link}`,
        html: `<a href="${link}">page</a>`,
        enclosures: [{ name: "season.png", type: "image/png", base64: "iVBORw0KGgo=" }],
        headers: { "List-Unsubscribe": `<${link}>` },
      })
      await store.queue(["k1", "k2", "k3", "k4"].map(long))
      for (let i = 0; i < 4; i += 1) expect((await claimed()).html).toContain(link)
      await store.settleOutgoing("k1", 1, SENT, [])
      await store.settleOutgoing("k2", 1, { is: "failed", code: "550", text: "no such mailbox" }, [])
      await store.settleOutgoing("k3", 1, { is: "dropped", code: "stopped", text: "said STOP" }, [])
      await store.settleOutgoing("k4", 1, { is: "later", dueAt: plus(10), code: "451", text: "busy" }, [])
      for (const key of ["k1", "k2", "k3"]) {
        const kept = await store.outgoing(key)
        expect(kept).toMatchObject({
          to: long(key).to,
          told: long(key).told,
          text: "South bed\u0000 is up: https://bell.example.org/season/***",
        })
        expect([kept?.html, kept?.enclosures, kept?.headers]).toEqual([undefined, undefined, undefined])
      }
      expect(await store.outgoing("k4")).toMatchObject(long("k4"))
      expect(await store.queue([long("k1")])).toEqual([])
    })

    it("that failed or were dropped are at an end", async () => {
      await store.queue([nudge("k1"), nudge("k2")])
      await claimed()
      await claimed()
      await store.settleOutgoing("k1", 1, { is: "failed", code: "30006", text: "landline" }, [])
      await store.settleOutgoing("k2", 1, { is: "dropped", code: "stopped", text: "said STOP" }, [])
      expect(await store.outgoing("k1")).toMatchObject({ state: "failed", lastError: "30006: landline" })
      expect(await store.outgoing("k2")).toMatchObject({ state: "dropped" })
      expect(await store.claimOutgoing(plus(999), LEASE)).toBeNull()
      expect(await store.settleOutgoing("k1", 1, SENT, [])).toBe(false)
      expect(await store.queue([nudge("k1")])).toEqual([])
    })
  })
}
