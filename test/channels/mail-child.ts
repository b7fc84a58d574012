/**
 * A bot's inbox in a process of its own, that kills itself between two steps: `node mail-child.ts URL FOLDER [STEP]`. Keeps
 * what it is handed in a store in FOLDER, and ends by itself once the mailbox was looked at with nothing to kill for.
 */
import { imapInbox } from "../../src/channels/mail-imap.ts"
import { openStore } from "../../src/store/open.ts"
import { instantOf } from "../../src/values/instant.ts"
import { FROM, SECRETS } from "./mail-message.ts"

const [url = "", folder = "", dieAt = ""] = process.argv.slice(2)
const store = await openStore({ folder })
const inbox = imapInbox({
  url,
  from: FROM,
  secrets: SECRETS,
  peopleAt: (address) => (address === "ines@example.org" ? ["acre/ines"] : []),
  recipientOf: async () => "ines@example.org",
  onMail: async (incoming) => void (await store.keepIncoming(incoming)),
  memory: store,
  now: () => instantOf(Date.now()),
  log: { info: () => {}, warn: () => {} },
  step: (name) => {
    if (name === dieAt) process.kill(process.pid, "SIGKILL")
  },
})
inbox.start()
const waiting = setInterval(async () => {
  const { lastLook, error } = inbox.state()
  if (lastLook === null && error === null) return
  clearInterval(waiting)
  await inbox.stop()
  await store.close()
  process.exit(error === null ? 0 : 1)
}, 20)
