import { describe, expect, it } from "vitest"
import { understand } from "../../src/replies/understand.ts"
import { contextFor, readGardens } from "./gardens.ts"

/** Texts by the kinds of failure that people meet (invented, no source), in a garden with a cut and an emergence check open. */
const garden = readGardens(new URL("../fixtures/replies/fresh-1-contexts.json", import.meta.url)).ridge
const read = (text: string) => {
  if (!garden) throw new Error("no garden ridge")
  return understand(text, contextFor(garden, "2026-06-17T19:05"))
}
const acts = (text: string) => read(text).acts.map((act) => act.act)

const STOPS = [
  "stop",
  "STOP",
  "Stop.",
  "stop!!",
  "stop thanks",
  "Stop. Thank you",
  "stop please",
  "please stop",
  "PLEASE STOP",
  "stopall",
  "unsubscribe",
  "Unsubscribe me",
  "cancel",
  "end",
  "quit",
  "revoke",
  "opt out",
  "optout",
  "opt-out",
  "please opt me out",
  "stop texting me",
  "stop sending these",
  "please stop sending text reminders",
  "stop these texts",
  "no more texts",
  "no more texts please",
  "take me off",
  "take me off your list",
  "take me off this list please",
  "remove me",
  "remove me from this list",
  "leave me alone",
  "don't text me",
  "dont text me again",
  "do not text me",
  "stop messaging me",
  "quit texting me",
  "no mas",
  "no más mensajes",
  "STOP STOP STOP",
]
const NO_STOPS = [
  "we have to stop this from going to seed",
  "the rain won't stop",
  "stop by tomorrow and look",
  "did the rye stop growing?",
  "stopped raining finally",
  "cut it before the end of the week",
  "at the end of the bed",
  "barn end is patchy",
  "the end is near for the buckwheat",
  "I quit for today, too hot",
  "cancel the cut on barn",
  "don't stop reminding me",
  "never stop",
  "bus stop flooded",
  "we stopped the mower twice",
  "weekend is fine",
  "not going to quit now",
  "the creek bed ends at the fence",
  "can you stop the rye from heading",
  "when does it end",
  "stop the water",
  "full stop",
]
const REACTED = ["Liked", "Loved", "Disliked", "Laughed at", "Emphasized", "Questioned"]
const OURS = [
  "3) Cut Barn bed by Fri 19 Jun, before seed drops. Leave the roots in. Reply DONE 3 or SNOOZE 3.",
  "4) Creek bed should be showing green by now. Reply UP 4.",
  "Noted: bloom on Barn bed. Not right? Reply UNDO.",
  "To stop texts reply STOP",
]
const AUTO = [
  "I'm driving right now. I'll get back to you later.",
  "I'm driving with Do Not Disturb turned on. I'll see your message when I get where I'm going.",
  "I'm currently driving and can't text.",
  "Sorry, I can't talk right now. What's up?",
  "Can't talk now. Call you later?",
  "I'm in a meeting. I'll text you later.",
]
const IDIOMS = [
  "oh great, it's done for",
  "the mower is done for",
  "I'm done for today",
  "well that's me done in",
  "cut it out",
  "the deer need to cut it out",
  "it killed it, great crop of weeds",
  "cut me some slack",
  "blooming hot today",
  "bloomin' slugs",
  "short cut through the plot",
  "clean cut kid",
  "prices cut at the seed store",
  "done and dusted, said nobody ever",
  "up to my knees in mud",
  "what's up",
  "I give up",
  "up late",
  "seed catalog came",
]
const NOT_YET = [
  "not done",
  "not done yet",
  "haven't done 3",
  "I have not cut barn",
  "didn't cut barn",
  "barn not cut yet",
  "no cut yet",
  "not yet",
  "nope not yet",
  "still not done with 3",
  "will cut tomorrow",
  "going to cut barn on friday",
  "about to mow barn",
  "haven't had time to cut",
  "never got to 3",
  "couldn't cut barn, rain",
  "not cut",
  "no",
  "nah",
  "not even close to done",
]
const ELSEWHERE = [
  "la semana que viene te cuento",
  "demasiada lluvia hoy",
  "das Wetter ist schlecht",
  "morgen vielleicht",
  "il pleut trop",
  "on verra demain",
  "è tutto bagnato",
  "domani vediamo",
  "det regnar för mycket",
  "vi får se i morgon",
]
const STORY =
  "So we had the whole family over and the kids wanted to see the beds, my brother cut his finger on the old mower of all things, then my aunt said " +
  "her bed had been done years ago by a man who sowed clover everywhere and it bloomed like mad, and we were up half the night. Anyway lovely evening, " +
  "the rye at the neighbours looks great too."

describe("a wish to end the texts", () => {
  it.each(STOPS)("is heard in %j (P11, P13)", (text) => expect(acts(text)).toEqual(["stop"]))
  it.each(["stop", "end", "quit", "cancel", "revoke", "optout", "opt out", "unsubscribe", "stopall"])(
    "is heard in every casing and with blanks around: %s (P13)",
    (word) => {
      for (const text of [
        word.toUpperCase(),
        ` ${word} `,
        `${word}.`,
        word[0]?.toUpperCase() + word.slice(1),
        `"${word}"`,
        `${word}\n`,
      ])
        expect(acts(text), JSON.stringify(text)).toEqual(["stop"])
    },
  )
  it.each(NO_STOPS)("is not in %j (P12)", (text) => expect(acts(text)).not.toContain("stop"))
})

describe("what a phone sends by itself", () => {
  it("reactions that quote our texts do nothing, in straight and curly quotes (P18)", () => {
    for (const verb of REACTED)
      for (const ours of OURS)
        for (const [open, close] of [
          ['"', '"'],
          ["“", "”"],
          ["«", "»"],
        ]) {
          const reaction = read(`${verb} ${open}${ours}${close}`)
          expect(reaction.acts, verb).toEqual([])
          expect(reaction.ask, verb).toBeNull()
        }
    for (const ours of OURS)
      for (const text of [
        `Reacted 👍 to “${ours}”`,
        `Removed a like from “${ours}”`,
        `Removed a heart from "${ours}"`,
        `👍 to "${ours}"`,
      ])
        expect(acts(text), text).toEqual([])
  })
  it.each(["Liked an image", "Loved an image", "Laughed at an image", "Emphasized an image", "Reacted ❤️ to an image"])(
    "%s is courtesy (P19)",
    (text) => expect(read(text)).toMatchObject({ acts: [], ask: null }),
  )
  it.each(AUTO)("%j is no answer (P21)", (text) => expect(acts(text)).toEqual([]))
})

describe("words that look like deeds", () => {
  it.each(IDIOMS)("%j does nothing (P24)", (text) => {
    for (const act of acts(text)) expect(["tell", "measure"]).toContain(act)
  })
  it.each(NOT_YET)("%j settles nothing (P29)", (text) => {
    for (const act of ["done", "cut", "sowed", "planted"]) expect(acts(text)).not.toContain(act)
  })
  it.each(ELSEWHERE)("%j, in another language, does nothing (P23)", (text) => expect(acts(text)).toEqual([]))
  it("a long story does nothing (P25)", () => {
    for (const act of ["done", "cut", "sowed", "planted", "stop", "skip"]) expect(acts(STORY)).not.toContain(act)
  })
})
