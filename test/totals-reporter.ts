import type { Reporter } from "vitest/node"

/**
 * Prints `N passed, N failed, N skipped` as the very last line, and fails a run in which no test passed
 * (a filter that matches nothing would otherwise end well).
 */
export default class TotalsReporter implements Reporter {
  onTestRunEnd: NonNullable<Reporter["onTestRunEnd"]> = (modules, unhandled) => {
    const count = { passed: 0, failed: 0, skipped: 0 }
    for (const module of modules) {
      for (const test of module.children.allTests()) {
        const state = test.result().state
        count[state === "pending" ? "skipped" : state] += 1
      }
      if (module.errors().length > 0) count.failed += 1
    }
    if (count.passed === 0 || unhandled.length > 0 || count.failed > 0) process.exitCode = 1
    process.on("exit", () => {
      process.stdout.write(`${count.passed} passed, ${count.failed} failed, ${count.skipped} skipped\n`)
    })
  }
}
