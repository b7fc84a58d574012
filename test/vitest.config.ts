import { defineConfig } from "vitest/config"

const root = new URL("..", import.meta.url).pathname

export default defineConfig({
  root,
  test: {
    reporters: ["default", "./test/totals-reporter.ts"],
    coverage: { provider: "v8", include: ["src/**/*.ts"], reportsDirectory: "node_modules/.coverage" },
    projects: [
      {
        extends: true,
        test: { name: "unit", include: ["test/**/*.test.ts"], testTimeout: 20_000 },
      },
      {
        // Suites that need minutes, a browser, a real server or the real program in a child process.
        extends: true,
        test: {
          name: "slow",
          include: ["test/**/*.slow.ts"],
          testTimeout: 900_000,
          hookTimeout: 300_000,
          fileParallelism: false,
        },
      },
    ],
  },
})
