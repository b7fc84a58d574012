import fc from "fast-check"
import { type MailParserOptions, simpleParser } from "mailparser"
import { describe, expect, it } from "vitest"
import { decodeText } from "../../src/channels/mail-charset.ts"
import { decodeWords, splitHead, structured } from "../../src/channels/mail-header.ts"
import { allParts, parseMail } from "../../src/channels/mail-mime.ts"
import { eml, SAMPLES, type Sample } from "./reply-of-samples.ts"

/** Samples on which a second reader, made by others, may rightly differ: it guesses less of what is broken or mislabelled. */
const BROKEN =
  /boundary|rubbish|nothing at all|returns only|base64 with|broken quoted|semicolon|unknown charset|called|cut in the middle|letter between two|UTF-16|mailbox line|in its head only|flowed/

const wellFormed = SAMPLES.filter((sample) => !BROKEN.test(sample.name))
const asOthersRead = (sample: Sample) =>
  simpleParser(sample.eml, {
    ignoreEmbedded: true,
    keepDeliveryStatus: true,
    skipTextToHtml: true,
    skipImageLinks: true,
    skipHtmlToText: true,
  } as MailParserOptions)
const letters = (text: string) => text.replace(/\s+/g, " ").trim()

describe("a mail taken apart, held against another reader (mailparser)", () => {
  it("is put to that test on most samples", () => {
    expect(wellFormed.length).toBeGreaterThan(180)
  })

  it.each(wellFormed)("has the same files attached: $name", async (sample) => {
    const others = await asOthersRead(sample)
    const ours = [...allParts(parseMail(sample.eml))].filter(
      (part) =>
        part.children.length === 0 && !(/^text\/(plain|html)$/.test(part.type) && part.disposition !== "attachment"),
    )
    const bytes = (list: { type: string; size: number }[]) =>
      list.map(({ type, size }) => withoutGuess(`${type} ${size}`)).sort()
    expect(bytes(ours.map((part) => ({ type: part.type, size: part.content().length })))).toEqual(
      bytes(others.attachments.map((each) => ({ type: each.contentType.toLowerCase(), size: each.size }))).map(
        withoutGuess,
      ),
    )
  })

  it.each(wellFormed)("has the same plain text: $name", async (sample) => {
    const others = await asOthersRead(sample)
    const ours = [...allParts(parseMail(sample.eml))]
      .filter((part) => part.type === "text/plain" && part.children.length === 0 && part.disposition !== "attachment")
      .map((part) => part.text())
      .join("\n")
    // The other reader keeps letters that nobody sees, and blanks of other kinds.
    expect(letters(ours)).toBe(letters((others.text ?? "").replace(/[\u200b\ufeff]/g, "")))
  })
})

/** The other reader guesses a picture's type from its name. */
function withoutGuess(line: string): string {
  return line.replace(/^(application\/octet-stream|image\/jpeg) /, "file ")
}

describe("headers", () => {
  it("unfold, keep their order, and pass over lines that are none", () => {
    const { headers, body } = splitHead(Buffer.from("A: 1\r\nno field\r\nB: x\r\n\ty\r\na: 2\r\n\r\nbody"))
    expect([...headers]).toEqual([
      ["a", ["1", "2"]],
      ["b", ["x y"]],
    ])
    expect(body.toString()).toBe("body")
  })

  it("decode their words as RFC 2047 shows it (section 8, examples)", () => {
    expect(decodeWords("=?ISO-8859-1?Q?a?=")).toBe("a")
    expect(decodeWords("=?ISO-8859-1?Q?a?= b")).toBe("a b")
    expect(decodeWords("=?ISO-8859-1?Q?a?= =?ISO-8859-1?Q?b?=")).toBe("ab")
    expect(decodeWords("=?ISO-8859-1?Q?a?=    =?ISO-8859-1?Q?b?=")).toBe("ab")
    expect(decodeWords("=?ISO-8859-1?Q?a_b?=")).toBe("a b")
    expect(decodeWords("=?ISO-8859-1?Q?a?= =?ISO-8859-2?Q?_b?=")).toBe("a b")
    expect(decodeWords("=?US-ASCII?Q?Keith_Moore?= <moore@cs.utk.edu>")).toBe("Keith Moore <moore@cs.utk.edu>")
  })

  it("decode their parameters as RFC 2231 shows it (sections 3 and 4, examples)", () => {
    const long = structured(
      'message/external-body; access-type=URL; URL*0="ftp://"; URL*1="cs.utk.edu/pub/moore/bulk-mailer/bulk-mailer.tar"',
    )
    expect(long.params.get("url")).toBe("ftp://cs.utk.edu/pub/moore/bulk-mailer/bulk-mailer.tar")
    const coded = structured("application/x-stuff; title*=us-ascii'en-us'This%20is%20%2A%2A%2Afun%2A%2A%2A")
    expect(coded.params.get("title")).toBe("This is ***fun***")
    const both = structured(
      "application/x-stuff; title*0*=us-ascii'en'This%20is%20even%20more%20; title*1*=%2A%2A%2Afun%2A%2A%2A%20; title*2=\"isn't it!\"",
    )
    expect(both.params.get("title")).toBe("This is even more ***fun*** isn't it!")
  })
})

describe("letters", () => {
  it("are UTF-8 where the bytes are, whatever they call themselves", () => {
    fc.assert(
      fc.property(
        fc.string({ unit: "grapheme" }),
        fc.constantFrom("utf-8", "us-ascii", "iso-8859-1", "windows-1252", "nonsense", ""),
        (said, label) => {
          const text = `ä${said}`
          expect(decodeText(Buffer.from(text, "utf8"), label)).toBe(decodeText(Buffer.from(text, "utf8"), "utf-8"))
        },
      ),
    )
  })

  it("are never lost for any bytes under any label: it never throws", () => {
    fc.assert(
      fc.property(
        fc.uint8Array({ maxLength: 200 }),
        fc.string({ maxLength: 20 }),
        (bytes, label) => typeof decodeText(bytes, label) === "string",
      ),
    )
  })
})

describe("any bytes at all", () => {
  it("are taken apart without a throw, and every part is bounded by the whole", () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...SAMPLES.map((sample) => sample.eml)),
        fc.nat(),
        fc.uint8Array({ minLength: 1, maxLength: 30 }),
        (mail, at, noise) => {
          const cut = mail.length === 0 ? 0 : at % mail.length
          const changed = Buffer.concat([
            mail.subarray(0, cut),
            noise,
            mail.subarray(Math.min(mail.length, cut + noise.length)),
          ])
          for (const part of allParts(parseMail(changed)))
            expect(part.content().length).toBeLessThanOrEqual(changed.length)
        },
      ),
      { numRuns: 1000 },
    )
  })

  it("are taken apart again the same way once they are put together as the standard says", () => {
    const words = fc
      .string({ unit: "grapheme", maxLength: 60 })
      .map((text) => text.replace(/[\p{C}\u2028\u2029]/gu, ""))
    fc.assert(
      fc.property(words, (said) => {
        const coded = eml({ encoding: "base64", body: Buffer.from(`x${said}`, "utf8").toString("base64") })
        expect(parseMail(coded).text()).toBe(decodeText(Buffer.from(`x${said}`, "utf8"), "utf-8"))
      }),
    )
  })
})
