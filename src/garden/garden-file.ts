import { z } from "zod"
import { thenSchema } from "./acts.ts"
import { between, choice, day, EITHER_WAY, id, known, name, time, word, zone } from "./garden-file-words.ts"
import { readInvite } from "./invite.ts"
import { readCount, readMail, readMonthDay, readPhone, readShare } from "./read-words.ts"
import { readSize, SIZE_EXPECTED } from "./size.ts"

/*
 * The keys of a garden file, stated once: the reader, the nearest word for a mistyped key and the JSON Schema for editors
 * all follow from here. Every scalar reaches it as the words of the file.
 */

/** What is taken where the file does not say. */
export const DEFAULTS = {
  units: "metric",
  texts: { from: "08:00", to: "19:30", most: "2" },
  digest: { day: "sunday", at: "17:00" },
  kind: "raised",
  then: "leave",
} as const

const WEEKDAYS = ["monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"] as const

const frost = z
  .strictObject({
    last: word(
      readMonthDay,
      { title: "Last spring frost, MM-DD", expects: "a day as MM-DD" },
      { pattern: "^\\d{2}-\\d{2}$" },
    ),
    first: word(
      readMonthDay,
      { title: "First autumn frost, MM-DD", expects: "a day as MM-DD" },
      { pattern: "^\\d{2}-\\d{2}$" },
    ),
  })
  .meta({
    title: "Average frost days",
    description: "Omitted: taken from the normals.",
    expects: "{ last: MM-DD, first: MM-DD }",
  })

const month = z
  .strictObject({
    tmin_c: between(-70, 45, "Mean daily minimum", "C"),
    tmax_c: between(-60, 60, "Mean daily maximum", "C"),
    rain_mm: between(0, 3000, "Mean rain of the month", "mm"),
  })
  .meta({ title: "Normals of one month", expects: "{ tmin_c, tmax_c, rain_mm }" })

const normals = z
  .union([
    known("climates", "Id of a bundled climate"),
    z.array(month).length(12).meta({ title: "Twelve months, January first", expects: "twelve months, January first" }),
  ])
  .meta({
    title: "Climate",
    description: "The id of a bundled climate, or twelve monthly normals. Omitted: from the nearest stations.",
    expects: "the id of a bundled climate, or twelve months of { tmin_c, tmax_c, rain_mm }",
  })

const place = z
  .strictObject({
    latitude: between(-90, 90, "Latitude", "degrees", "North of the equator is positive, south negative."),
    longitude: between(
      -180,
      180,
      "Longitude",
      "degrees",
      "East of Greenwich is positive, west (all of the Americas) negative.",
    ),
    elev_m: between(
      -450,
      6000,
      "Height above the sea",
      "m",
      "Omitted: that of the weather stations around.",
    ).optional(),
    zone: zone("Time zone", "As Area/Place of the IANA database, so that summer time is known."),
    units: choice(["us", "metric"], {
      title: "Units",
      description: `How amounts are shown and read. Omitted: ${DEFAULTS.units}.`,
    }).optional(),
    dates: choice(["month-first", "day-first"], {
      title: "Order of dates",
      description: "How 5/6 is read and written. Omitted: month-first with us units, else day-first.",
    }).optional(),
    normals: normals.optional(),
    frost: frost.optional(),
  })
  .meta({ title: "Where the garden is", expects: "keys such as latitude, longitude and zone" })

const texts = z
  .strictObject({
    from: time("Not before", DEFAULTS.texts.from).optional(),
    to: time("Not after", DEFAULTS.texts.to).optional(),
    most: word(
      (text) => readCount(text, 1, 10),
      {
        title: "At most so many a day",
        description: `Omitted: ${DEFAULTS.texts.most}.`,
        expects: "a whole number from 1 to 10",
      },
      { type: "integer", minimum: 1, maximum: 10 },
    ).optional(),
  })
  .meta({
    title: "Hours and number a day, for nudges by text or mail",
    expects: '{ from: "08:00", to: "19:30", most: 2 }',
  })

const DIGEST_EXPECTED = '{ day: sunday, at: "17:00" }, or none'

const digest = z
  .union([
    z
      .strictObject({
        day: choice(WEEKDAYS, { title: "Weekday", description: `Omitted: ${DEFAULTS.digest.day}.` }).optional(),
        at: time("Hour", DEFAULTS.digest.at).optional(),
      })
      .meta({ title: "Day and hour" }),
    choice(["none"], { title: "No weekly mail", expects: DIGEST_EXPECTED }),
  ])
  .meta({
    title: "Weekly mail",
    description: `Omitted: ${DEFAULTS.digest.day} at ${DEFAULTS.digest.at} where there is a mail address. none: no weekly mail.`,
    expects: DIGEST_EXPECTED,
  })

const person = z
  .strictObject({
    id: id("Id", "Names this person in the log; keep it once it is in use."),
    name: name("Name", "Omitted: the id.").optional(),
    phone: word(
      readPhone,
      { title: "Phone", description: "With + and country code.", expects: "a phone in E.164, such as +17175550142" },
      { ...EITHER_WAY },
    ).optional(),
    email: word(readMail, { title: "Mail address", expects: "a mail address" }, { format: "email" }).optional(),
    zone: zone("Time zone of this person", "Quiet hours follow it. Omitted: the garden's.").optional(),
    minds: z
      .array(
        word(
          (text) => ({ value: text }),
          { title: "Id of a bed of this file", expects: "the id of a bed" },
          EITHER_WAY,
        ),
      )
      .meta({ title: "Beds this person minds", description: "Omitted: all beds.", expects: "a list of ids of beds" })
      .optional(),
    by: choice(["text", "mail", "both"], {
      title: "How nudges come",
      description: "Omitted: text if there is a phone, else mail.",
    }).optional(),
    texts: texts.optional(),
    digest: digest.optional(),
  })
  .meta({ title: "A person", expects: "keys such as id, name, phone and email" })

const species = z
  .union([
    z
      .record(
        z.string(),
        word(
          readShare,
          { title: "Share of seed weight" },
          { type: ["number", "string"], exclusiveMinimum: 0, maximum: 100 },
        ),
      )
      .meta({
        title: "Species with their shares of seed weight",
        description: "In percent or as fractions; they add up to 100 or to 1.",
        ids: "species",
      }),
    z
      .array(known("species", "Species"))
      .min(1)
      .meta({ title: "Species in equal shares of seed weight", expects: "at least one species" }),
  ])
  .meta({
    title: "What is sown",
    expects: "shares such as { hairy-vetch: 40, winter-rye: 60 }, or a list such as [oats, field-pea]",
  })

const next = z
  .strictObject({
    crop: known("crops", "Food crop that comes next"),
    wanted: day("Day on which it is to go in", "Omitted: when the bed is ready.").optional(),
  })
  .meta({ title: "What comes next", expects: "{ crop: tomato, wanted: YYYY-MM-DD }" })

const sowing = z
  .strictObject({
    sown: day("Day it was sown", "Either sown or planned.").optional(),
    planned: day("Day it is to be sown", "Not sown yet. Either sown or planned.").optional(),
    species,
    then: choice(thenSchema.options, {
      title: "What becomes of the tops after the cut",
      description: `Omitted: ${DEFAULTS.then}.`,
    }).optional(),
    next: next.optional(),
  })
  .meta({ title: "A sowing", expects: "keys such as sown, species and next" })

const bed = z
  .strictObject({
    id: id("Id", "Names this bed in replies and in the log; keep it once it is in use."),
    name: name("Name", "Omitted: the id.").optional(),
    also: z
      .array(name("Other word for it", "A word for this bed in replies."))
      .meta({ title: "Other words for it in replies", expects: "a list of words" })
      .optional(),
    kind: choice(["raised", "plot", "greenhouse"], {
      title: "Kind of bed",
      description: `Omitted: ${DEFAULTS.kind}.`,
    }).optional(),
    size: word(
      (text) => {
        const size = readSize(text)
        return "m2" in size ? { value: size.m2 } : size
      },
      { title: "Size", description: "With its unit: 4 x 8 ft, 1.2 x 2.4 m, 32 sq ft, 3 m2.", expects: SIZE_EXPECTED },
    ),
    sowings: z.array(sowing).meta({ title: "Sowings", expects: "a list of sowings" }).optional(),
  })
  .meta({ title: "A bed", expects: "keys such as id, name, size and sowings" })

export const gardenFileSchema = z
  .strictObject({
    garden: name("Name of the garden", "Omitted: the file's name.").optional(),
    place,
    people: z.array(person).meta({ title: "People", expects: "a list of people" }).optional(),
    beds: z.array(bed).min(1).meta({ title: "Beds", expects: "a list of at least one bed" }),
    invite: word(readInvite, {
      title: "Invite word",
      description:
        "Whoever texts it is asked for a name and a first bed, and has a garden of their own here. Omitted: nobody can join by text.",
      expects: "one word, such as rootwork",
    }).optional(),
    // Where a JSON file names its schema for editors; a YAML file does so in a comment.
    $schema: z.string().meta({ title: "Schema, for editors", expects: "the path of the schema" }).optional(),
  })
  .meta({ title: "Garden file of Ryebell", expects: "keys such as garden, place, people and beds" })

export type GardenFile = z.output<typeof gardenFileSchema>
export type BedInFile = GardenFile["beds"][number]
export type PersonInFile = NonNullable<GardenFile["people"]>[number]
export type SowingInFile = NonNullable<BedInFile["sowings"]>[number]
