import { readFile } from "node:fs/promises"
import { openBot } from "../../src/assemble.ts"
import { viewNow } from "../../src/bot/known.ts"
import type { Channel, Outgoing } from "../../src/bot/needs.ts"
import type { RunningBot, World } from "../../src/cli/command.ts"
import { openHandbook } from "../../src/handbook/open.ts"
import { readSettings } from "../../src/settings.ts"
import type { Instant } from "../../src/values/instant.ts"
import { localDay } from "../../src/values/zone.ts"
import { arm, step } from "./step.ts"
import { wasCalled } from "./stepped-store.ts"
import type { Strike } from "./steps.ts"

/**
 * The process that is killed: the whole bot as `ryebell run` builds it out of its settings, with two differences. Its
 * clock is the harness's, and its minutes come when the harness says so.
 */
export type Order =
  | { do: "open"; env: Record<string, string>; now: number }
  | { do: "clock"; now: number }
  | { do: "arm"; strike: Strike | null }
  | { do: "tick"; now: number }
  | { do: "rest" }
  | { do: "plans" }
  | { do: "links" }
  | { do: "heap" }
  | { do: "close" }

const handbook = openHandbook(new URL("../../shared/", import.meta.url))
let now = 0 as Instant
let bot: RunningBot | null = null

function running(): RunningBot {
  if (!bot) throw new Error("the bot is not open")
  return bot
}

async function open(env: Record<string, string>): Promise<unknown> {
  const settings = readSettings(env)
  const clock = { now: () => now }
  const line = (text: string) => {
    if (text.startsWith("The garden file was read again")) step("reload swapped")
  }
  const read = (file: string) => readFile(file, "utf8")
  const world = { settings, clock, handbook: () => handbook, read, out: line, err: line } as unknown as World
  bot = await openBot(world, { example: false, endHold: false, isFirst: false, terminal: { line } })
  const { house } = bot
  if (house.text) house.text = stepped(house.text)
  if (house.mail) house.mail = stepped(house.mail)
  return { notices: bot.notices, hold: house.hold.reason }
}

function stepped(channel: Channel): Channel {
  return {
    ...channel,
    async send(message: Outgoing, at: Instant) {
      wasCalled(message.key)
      step("calling")
      const outcome = await channel.send(message, at)
      step("response read")
      return outcome
    },
  }
}

async function follow(order: Order): Promise<unknown> {
  switch (order.do) {
    case "open":
      now = order.now as Instant
      return open(order.env)
    case "clock":
      now = order.now as Instant
      return null
    case "arm":
      return arm(order.strike)
    case "tick":
      now = order.now as Instant
      step("tick")
      return running().desk.tick()
    case "rest":
      return running().desk.rest()
    case "plans": {
      const { house } = running()
      const views = await Promise.all(house.shelf.all().map((garden) => viewNow(house, garden, now)))
      return views.map(({ garden, plan, reminders }) => ({ garden: garden.id, plan, reminders }))
    }
    case "links": {
      const { house } = running()
      return house.shelf
        .all()
        .flatMap((garden) => garden.people.map((person) => house.links?.(garden, person) ?? null))
        .map((links) => ({ ...links, day: localDay(now, house.shelf.all()[0]!.place.zone) }))
    }
    case "heap":
      globalThis.gc?.()
      return process.memoryUsage().heapUsed
    case "close": {
      await running().close()
      bot = null
      return null
    }
    default:
      return order satisfies never
  }
}

process.on("message", ({ id, order }: { id: number; order: Order }) => {
  follow(order).then(
    (answer) => process.send?.({ id, answer: answer ?? null }),
    (error) => process.send?.({ id, error: error instanceof Error ? (error.stack ?? error.message) : String(error) }),
  )
})
process.on("disconnect", () => process.exit(0))
process.send?.({ ready: true })
