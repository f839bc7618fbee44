import { defineConfig } from "vitest/config";

const slow = "tests/**/*.slow.test.ts";
const browser = "tests/browser/**/*.test.ts";

export default defineConfig({
  test: {
    include: ["tests/**/*.test.{ts,tsx}"],
    exclude: process.env["FRAMELIFE_TESTS"] === "all" ? [] : [slow, browser],
    env: { TZ: "UTC", NO_COLOR: "1" },
    restoreMocks: true,
    passWithNoTests: false,
    testTimeout: 60_000,
    hookTimeout: 120_000,
  },
});
