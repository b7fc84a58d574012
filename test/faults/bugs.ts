import { NO_FAULTS, USUAL_FAULTS } from "./carrier-faults.ts"
import type { Verdict } from "./judge.ts"
import { NO_POST_FAULTS, USUAL_POST } from "./post.ts"
import type { WorldOptions } from "./scene.ts"
import type { StepName } from "./steps.ts"

/** A change of one place in the source, made as the program is loaded. `from` must stand there exactly once. */
export type Plant = { file: string; from: string; to: string }

/** A bug as somebody might write it one day, and under which heading the judge must find it. */
export type Bug = { is: string; plants: readonly Plant[]; run: keyof typeof RUNS; caught: keyof Verdict }

function kills(...steps: StepName[]): Pick<WorldOptions, "strikes"> {
  return { strikes: steps.map((step) => ({ step, nth: 1, action: "kill" as const })) }
}

/** Short runs in which a program without bugs is found clean, and each bug has its chance. */
export const RUNS = {
  kills: {
    seed: 101,
    gardens: ["acre.yaml", "hill.yaml"],
    carrier: { ...USUAL_FAULTS, lostBefore: 0.1, lostAfter: 0.2, tooMany: 0.3, inboundTwice: 0.5, listFails: 0 },
    post: USUAL_POST,
    calmDays: 2,
    quietDays: 2,
    strikes: [
      ...kills("request accepted", "answer committed", "claimed", "request written", "response read").strikes,
      { step: "answer in tx", nth: 2, action: "kill" },
    ],
  },
  calm: {
    seed: 102,
    gardens: ["acre.yaml", "hill.yaml"],
    carrier: { ...NO_FAULTS, inboundTwice: 0.5 },
    post: NO_POST_FAULTS,
    calmDays: 26,
    quietDays: 1,
    strikes: [],
  },
  week: {
    seed: 107,
    gardens: ["acre.yaml"],
    carrier: NO_FAULTS,
    post: NO_POST_FAULTS,
    calmDays: 3,
    quietDays: 1,
    strikes: [],
  },
  spring: {
    seed: 108,
    gardens: ["acre.yaml"],
    carrier: NO_FAULTS,
    post: NO_POST_FAULTS,
    calmDays: 50,
    quietDays: 1,
    strikes: [],
  },
  away: {
    seed: 103,
    gardens: ["acre.yaml"],
    carrier: USUAL_FAULTS,
    post: NO_POST_FAULTS,
    downtime: true,
    downtimes: [0, 30 * 3_600_000, 3 * 3_600_000],
    quietDays: 1,
    ...kills("tick", "tick", "tick"),
  },
  unlisted: {
    seed: 104,
    gardens: ["acre.yaml"],
    carrier: { ...NO_FAULTS, listFails: 1 },
    post: NO_POST_FAULTS,
    quietDays: 2,
    listNever: true,
    ...kills("200 sent", "200 sent", "200 sent"),
  },
  stop: {
    seed: 105,
    gardens: ["acre.yaml", "hill.yaml"],
    carrier: { ...NO_FAULTS, inboundTwice: 0.2 },
    post: NO_POST_FAULTS,
    stops: true,
    calmDays: 45,
    quietDays: 1,
    strikes: [],
  },
  silentStop: {
    seed: 106,
    gardens: ["acre.yaml"],
    carrier: { ...NO_FAULTS, stopSilently: 0.15 },
    post: NO_POST_FAULTS,
    calmDays: 10,
    quietDays: 1,
    strikes: [],
  },
} as const satisfies Record<string, WorldOptions>

export const BUGS: Record<string, Bug> = {
  "answered-before-kept": {
    is: "the carrier is told that a message is taken before it is kept",
    plants: [
      {
        file: "web/twilio-hooks.ts",
        from: "const kept = await needs.keep(dated)",
        to: 'const kept = await new Promise<"new">((resolve) => { resolve("new"); setTimeout(() => void needs.keep(dated).catch(() => {}), 50) })',
      },
    ],
    run: "unlisted",
    caught: "repliesLost",
  },
  "repeat-applied": {
    is: "a webhook that comes twice is applied twice",
    plants: [
      {
        file: "store/sqlite/inbox.ts",
        from: "on conflict (id) do nothing",
        to: "on conflict (id) do update set applied = 0",
      },
    ],
    run: "calm",
    caught: "repliesDoubled",
  },
  "applied-in-two-parts": {
    is: "the entries of a reply and the mark that it is applied are two transactions",
    plants: [
      {
        file: "store/sqlite.ts",
        from: `      write("keep", () => {
        if (!inbox.markApplied(id)) return []
        outbox.queue(outgoing)
        return log.append(entries, seen)
      }),`,
        to: `{
        const kept = write("keep", () => { outbox.queue(outgoing); return log.append(entries, seen) })
        write("keep", () => void inbox.markApplied(id))
        return kept
      },`,
      },
    ],
    run: "kills",
    caught: "repliesDoubled",
  },
  "words-tidied": {
    is: "the words of a reply are trimmed before they are kept",
    plants: [
      {
        file: "bot/read-reply.ts",
        from: "text: incoming.text,\n    acts",
        to: "text: incoming.text.trim(),\n    acts",
      },
    ],
    run: "calm",
    caught: "repliesLost",
  },
  "no-catching-up": {
    is: "what people sent while the program was away is not read from the carrier's list",
    plants: [
      {
        file: "channels/sms-list.ts",
        from: "  const { messages } = await client()\n  const found: Incoming[] = []",
        to: "  const { messages } = await client()\n  if (messages) return []\n  const found: Incoming[] = []",
      },
    ],
    run: "away",
    caught: "repliesLost",
  },
  "sent-before-sending": {
    is: "a text is recorded as sent before it is sent",
    plants: [
      {
        file: "bot/send.ts",
        from: "  const outcome = await weighed(house, message, await outcomeOf(house, message, channel, now), now)\n",
        to: `  const early: SendOutcome = { is: "sent", carrierId: null }
  if (message.attempts === 1)
    await house.store.settleOutgoing(message.key, message.attempts, early, entriesFor(message, early, channel?.via ?? "cli", now))
  const outcome = await weighed(house, message, await outcomeOf(house, message, channel, now), now)\n`,
      },
    ],
    run: "kills",
    caught: "textsLost",
  },
  "passing-for-final": {
    is: "a carrier that asks to slow down is taken for a refusal",
    plants: [{ file: "channels/sms-codes.ts", from: '[20429, "passing"', to: '[20429, "words"' }],
    run: "kills",
    caught: "textsLost",
  },
  "never-asked": {
    is: "a text of which nothing is known is sent again without asking the carrier",
    plants: [
      {
        file: "bot/send.ts",
        from: "const answer = channel?.wasTaken ? await channel.wasTaken(message).catch(() => null) : null",
        to: "const answer = channel ? { taken: false, carrierId: null } : null",
      },
    ],
    run: "kills",
    caught: "textsDoubled",
  },
  "sending-forgotten": {
    is: "after a restart a text whose try never came back waits like a new one",
    plants: [
      {
        file: "store/sqlite/outbox.ts",
        from: "update outgoing set lease_until = due_at where state = 'sending'",
        to: "update outgoing set state = 'waiting', lease_until = null where state = 'sending'",
      },
    ],
    run: "kills",
    caught: "textsDoubled",
  },
  "stop-unheard": {
    is: "a stop is logged and changes nothing",
    plants: [
      {
        file: "garden/history.ts",
        from: 'channelsOf(entry.by, reading)[channelOf(entry)] = "stopped"',
        to: 'channelsOf(entry.by, reading)[channelOf(entry)] = "open"',
      },
    ],
    run: "stop",
    caught: "afterStop",
  },
  "carriers-stop-unheard": {
    is: "the carrier's word that a person said stop counts as a passing failure",
    plants: [{ file: "channels/sms-codes.ts", from: '[21610, "stopped"', to: '[21610, "passing"' }],
    run: "silentStop",
    caught: "afterStop",
  },
  "sent-at-night": {
    is: "what is due goes out when its day begins",
    plants: [
      {
        file: "bot/replan.ts",
        from: "instantAt(reminder.speaks, person.texts.from, person.zone)",
        to: "instantAt(reminder.speaks, 0, person.zone)",
      },
      { file: "wording/parcel.ts", from: "if (openSlot(person, local, spoken) === null)", to: "if (!person)" },
    ],
    run: "calm",
    caught: "outsideHours",
  },
  "no-number-a-day": {
    is: "one text for each thing that is due, however many a day",
    plants: [
      { file: "wording/parcel.ts", from: "if (within(1).length >= person.texts.most)", to: "if (!person)" },
      {
        file: "wording/parcel.ts",
        from: "if (openSlot(person, local, spoken) === null)",
        to: "if (local.minutes < person.texts.from || local.minutes > person.texts.to - 30)",
      },
      {
        file: "wording/parcel.ts",
        from: "else may.push(reminder)",
        to: 'else if (may.length === 0) may.push(reminder)\n    else held.push(heldUntil(reminder, "room", local.day))',
      },
    ],
    run: "spring",
    caught: "overCap",
  },
  "digest-by-the-hour": {
    is: "the weekly mail is known by its hour and not by its week",
    plants: [
      {
        file: "bot/digests.ts",
        // biome-ignore lint/suspicious/noTemplateCurlyInString: it is source text
        from: "key: `digest:${view.garden.id}:${person.id}:${weekOf(day)}`",
        // biome-ignore lint/suspicious/noTemplateCurlyInString: it is source text
        to: "key: `digest:${view.garden.id}:${person.id}:${weekOf(day)}:${Math.floor(now / 3_600_000)}`",
      },
      { file: "bot/digests.ts", from: "await house.store.remember(markOf(garden, person), weekOf(day))", to: "" },
    ],
    run: "week",
    caught: "mailsDoubled",
  },
  "plan-of-the-start": {
    is: "a running program keeps the plan of the day on which it started",
    plants: [
      {
        file: "bot/known.ts",
        from: "const on = localDay(now, garden.place.zone)",
        to: "const on = house.memory.views.get(garden.id)?.view.on ?? localDay(now, garden.place.zone)",
      },
    ],
    run: "week",
    caught: "plansUnequal",
  },
  "phones-in-the-log": {
    is: "the operator's log names whom a message that failed was for",
    plants: [
      {
        file: "bot/send.ts",
        from: "{ key: message.key, channel: message.channel, is:",
        to: "{ key: message.key, whom: message.to, channel: message.channel, is:",
      },
      {
        file: "logging.ts",
        from: "  return PRIVATE.reduce((text, [pattern, instead]) => text.replace(pattern, instead), plain)",
        to: "  return sentence",
      },
    ],
    run: "kills",
    caught: "leaked",
  },
}
