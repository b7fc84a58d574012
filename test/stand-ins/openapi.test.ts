import { describe, expect, it } from "vitest"
import { type Asked, type Description, description, wrongWith, wrongWithAnswer, wrongWithRequest } from "./openapi.ts"

/** A description made up for this test, with each thing that the published ones use. */
const API: Description = {
  paths: {
    "/beds/{bed}/crops.json": {
      get: {
        operationId: "list",
        parameters: [
          { name: "bed", in: "path", required: true, schema: { type: "string", pattern: "^B[0-9]{2}$" } },
          { name: "from", in: "query", required: true, schema: { type: "string", format: "date" } },
          { name: "most", in: "query", schema: { type: "integer", minimum: 1, maximum: 100 } },
          {
            name: "columns",
            in: "query",
            style: "form",
            explode: false,
            schema: { type: "array", items: { enum: ["name", "sown"] } },
          },
        ],
        responses: { "200": { content: { json: { schema: { $ref: "#/components/schemas/Crop" } } } } },
      },
      post: {
        operationId: "add",
        parameters: [],
        requestBody: {
          content: {
            "application/x-www-form-urlencoded": {
              schema: {
                required: ["Name"],
                properties: { Name: { type: "string", maxLength: 5 }, Now: { type: "boolean" } },
              },
            },
          },
        },
        responses: { default: {} },
      },
    },
  },
  components: {
    schemas: {
      Crop: {
        type: "object",
        required: ["name"],
        properties: {
          name: { type: "string" },
          sown: { type: "string", nullable: true, format: "date-time-rfc-2822" },
          heights: { type: "array", items: { type: ["number", "null"] } },
          kind: { oneOf: [{ type: "integer" }, { const: "grass" }] },
        },
      },
    },
  },
}

const get = (path: string, query = ""): Asked => ({
  method: "GET",
  path,
  query: new URLSearchParams(query),
  headers: {},
})
const post = (form: string): Asked => ({
  ...get("/beds/B01/crops.json"),
  method: "POST",
  form: new URLSearchParams(form),
})

describe("requests held against a description", () => {
  it("that are as described pass", () => {
    expect(wrongWithRequest(API, get("/beds/B01/crops.json", "from=2026-05-01&most=7&columns=name,sown"))).toEqual([])
    expect(wrongWithRequest(API, post("Name=rye&Now=true&Unlisted=1"))).toEqual([])
  })

  it.each([
    ["another path", get("/beds/B01", "from=2026-05-01")],
    ["a path that does not match", get("/beds/XX/crops.json", "from=2026-05-01")],
    ["a query left out", get("/beds/B01/crops.json")],
    ["a query that nobody described", get("/beds/B01/crops.json", "from=2026-05-01&cache=1")],
    ["a day that is none", get("/beds/B01/crops.json", "from=today")],
    ["a number out of range", get("/beds/B01/crops.json", "from=2026-05-01&most=101")],
    ["a number that is none", get("/beds/B01/crops.json", "from=2026-05-01&most=many")],
    ["a column that is none", get("/beds/B01/crops.json", "from=2026-05-01&columns=name,price")],
    ["a form key left out", post("Now=true")],
    ["a form value too long", post("Name=barley")],
    ["a form value of another type", post("Name=rye&Now=soon")],
    ["another method", { ...get("/beds/B01/crops.json", "from=2026-05-01"), method: "DELETE" }],
  ])("%s does not", (_, asked) => {
    expect(wrongWithRequest(API, asked)).toHaveLength(1)
  })
})

describe("answers held against a description", () => {
  const wrong = (body: unknown) => wrongWithAnswer(API, "GET", "/beds/B01/crops.json", 200, body)

  it("that are as described pass", () => {
    expect(wrong({ name: "rye", sown: null, heights: [1, null], kind: "grass", more: 1 })).toEqual([])
    expect(wrong({ name: "rye", sown: "Thu, 24 Aug 2023 05:01:45 +0000", kind: 3 })).toEqual([])
  })

  it.each([
    {},
    { name: 3 },
    { name: "rye", sown: "today" },
    { name: "rye", heights: ["tall"] },
    { name: "rye", kind: "legume" },
    [],
    null,
  ])("%j does not", (body) => {
    expect(wrong(body).length).toBeGreaterThan(0)
  })

  it("with a status that nobody described do not", () => {
    expect(wrongWithAnswer(API, "GET", "/beds/B01/crops.json", 418, {})).toHaveLength(1)
  })
})

const published = ["twilio-messages-openapi.json", "open-meteo-openapi.json", "nws-openapi.json"].map(
  (name) => [name, description(name)] as const,
)

describe.runIf(published.every(([, api]) => api !== null))("the published descriptions", () => {
  it.each(published)("%s: each example of an answer passes its own schema", (_, api) => {
    let count = 0
    for (const operations of Object.values(api?.paths ?? {}))
      for (const operation of Object.values(operations))
        for (const response of Object.values(operation.responses ?? {}))
          for (const media of Object.values(response.content ?? {}) as {
            schema?: object
            examples?: Record<string, { value: unknown }>
          }[])
            for (const [name, { value }] of Object.entries(media.examples ?? {})) {
              count += 1
              expect(wrongWith(api as Description, media.schema as never, value, name)).toEqual([])
            }
    expect(count).toBeGreaterThan(1)
  })
})
