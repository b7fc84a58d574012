import { asInstant, HOUR_MS, type Instant, instantText } from "../values/instant.ts"
import { learnAway, noteTick, noticeAway } from "./away.ts"
import { deliverNext } from "./deliver.ts"
import { sendDigests } from "./digests.ts"
import { endHold, type House } from "./house.ts"
import type { Engine, Job, Worker } from "./needs.ts"
import { sendOverview } from "./overview.ts"
import { applyIncoming } from "./receive.ts"
import { replan } from "./replan.ts"
import { serveGardens, settleLook, waitingDigests } from "./rounds.ts"
import { reconcile, sendNext } from "./send.ts"
import { WAITS } from "./waits.ts"

/** So many people are put into words side by side: the database answers for one while another is thought about. */
const DELIVER_LANES = 4
const MOST_LANES = 200
/** After so many pieces of work in one job there are many more, and other workers are called. */
const CALL_AFTER = 25
/** So many jobs of one kind may be under way. */
const MOST_JOBS = 8
/** So many gardens are handed out by one call. */
const GARDENS_AT_ONCE = 1_000
/** Under this name the store remembers when the weather of all places was last asked for. */
const WEATHER_ROUND = "weather round"

/**
 * One of several workers on one store. What `tick` does alone is cut into jobs here, which an engine hands to whoever is
 * free. A job is a hint: what there is to do stands in the store, and a job that comes twice, or to two, finds the rest.
 */
export function openWorker(house: House, clock?: { again(): Promise<void> }): Worker {
  return {
    async beat() {
      await clock?.again()
      await learn(house)
    },
    minute: (engine) => minute(house, house.clock.now(), engine),
    do: (job, engine) => doJob(house, job, engine),
  }
}

/** The minute that one of all workers has: small things, and what work there is. */
async function minute(house: House, now: Instant, engine: Engine): Promise<void> {
  await noticeAway(house, now)
  await applyIncoming(house, now)
  await serveGardens(house)
  await handGardens(house, now, engine)
  if (await isWeatherDue(house, now)) await engine.hand([{ kind: "weather" }])
  if (house.hold.reason === null) {
    await reconcile(house, now)
    await engine.hand([
      { kind: "deliver", lane: 0 },
      { kind: "send", lane: 0 },
    ])
  }
  await noteTick(house, now)
}

async function handGardens(house: House, now: Instant, engine: Engine): Promise<void> {
  for (;;) {
    const due = await house.store.claimGardens(now, WAITS.gardenJobLeaseMs, GARDENS_AT_ONCE)
    if (due.length > 0) await engine.hand(due.map((garden) => ({ kind: "replan", garden })))
    if (due.length < GARDENS_AT_ONCE) return
  }
}

/** What a worker has to know of what the others did: their last minute, a hold that was ended, a long silence that is over. */
async function learn(house: House): Promise<void> {
  await house.shelf.refresh?.()
  house.memory.lastTick = asInstant((await house.store.recall("tick")) ?? "") ?? house.memory.lastTick
  await learnAway(house)
  await endHold(house)
}

async function doJob(house: House, job: Job, engine: Engine): Promise<void> {
  if (job.kind === "replan") return lookAfterOne(house, job.garden, engine)
  if (job.kind === "weather") return askWeather(house, engine)
  if (house.hold.reason !== null) return
  switch (job.kind) {
    case "digest": {
      const garden = house.shelf.byId(job.garden)
      if (!garden) return
      await sendDigests(house, garden, house.clock.now(), job.person)
      return sendOverview(house, garden, house.clock.now())
    }
    case "deliver":
      await inLanes(house, DELIVER_LANES, job, engine, (now) => deliverNext(house, now))
      return engine.hand([{ kind: "send", lane: job.lane }])
    case "send":
      return inLanes(house, sendLanes(house), job, engine, async (now) => (await sendNext(house, now)) !== null)
    default:
      return job satisfies never
  }
}

async function lookAfterOne(house: House, id: string, engine: Engine): Promise<void> {
  if (!house.shelf.byId(id)) await house.shelf.refresh?.()
  const garden = house.shelf.byId(id)
  // Its file has not come to this worker yet, or is gone: the garden comes round again where it is served.
  if (!garden) return
  const now = house.clock.now()
  await replan(house, garden, now)
  house.memory.errors.delete(`garden ${id}`)
  if (house.hold.reason === null) {
    const people = await waitingDigests(house, garden, now)
    if (people.length > 0) await engine.hand(people.map(({ id: person }) => ({ kind: "digest", garden: id, person })))
  }
  await settleLook(house, id, now)
}

/** As many messages at once as the channel takes that takes fewest. */
function sendLanes({ text, mail }: House): number {
  return Math.min(MOST_LANES, ...[text, mail].flatMap((channel) => (channel === null ? [] : [channel.atOnce ?? 1])))
}

/** Does pieces of work side by side until there is none, or the engine wants the job back. */
async function inLanes(
  house: House,
  lanes: number,
  job: Job & { lane: number },
  engine: Engine,
  next: (now: Instant) => Promise<boolean>,
): Promise<void> {
  let pieces = 0
  let now = house.clock.now()
  const lane = async () => {
    while (engine.goOn() && (await next(now))) {
      pieces += 1
      // What is asked for at the same instant goes to the database together.
      if (house.clock.now() - now > 1000) now = house.clock.now()
      if (pieces % CALL_AFTER === 0) await engine.hand(helpFor(job, pieces))
    }
  }
  await Promise.all(Array.from({ length: lanes }, lane))
}

/** What was put into words can be sent meanwhile; and where there is much to do, others are called. */
function helpFor(job: Job & { lane: number }, pieces: number): Job[] {
  const others = Array.from({ length: MOST_JOBS - 1 }, (_, i) => ({ ...job, lane: i + 1 }))
  return [
    ...(job.kind === "deliver" ? [{ kind: "send", lane: job.lane } as const] : []),
    ...(job.lane === 0 && pieces === CALL_AFTER ? others : []),
  ]
}

async function isWeatherDue(house: House, now: Instant): Promise<boolean> {
  if (!house.weather) return false
  const last = asInstant((await house.store.recall(WEATHER_ROUND)) ?? "")
  return last === null || now - last >= HOUR_MS || now < last
}

/** Asks for the weather of every place once, so that nobody who plans has to wait for it. */
async function askWeather(house: House, engine: Engine): Promise<void> {
  const { weather } = house
  if (!weather) return
  await house.store.remember(WEATHER_ROUND, instantText(house.clock.now()))
  const asked = new Set<string>()
  for (const { place } of house.shelf.all()) {
    const name = `${place.latitude},${place.longitude},${place.elev_m},${place.zone}`
    if (asked.has(name)) continue
    asked.add(name)
    if (!engine.goOn()) return
    const { latitude: lat, longitude: lon, elev_m, zone } = place
    // A place whose weather cannot be had is planned with normals, and health says so.
    await weather.daily({ lat, lon, elev_m, zone }, house.clock.now()).catch(() => null)
  }
}
