import { defineConfig } from "vitest/config";

const SLOW = ["tests/**/*.slow.test.ts", "tests/browser/**/*.test.ts"];
const slow = process.env["FRAMELIFE_TESTS"] === "slow";

export default defineConfig({
  test: {
    include: slow ? SLOW : ["tests/**/*.test.{ts,tsx}"],
    exclude: slow ? [] : SLOW,
    globalSetup: ".config/temporary-folder.ts",
    env: { TZ: "UTC", NO_COLOR: "1" },
    restoreMocks: true,
    maxWorkers: "100%",
    passWithNoTests: false,
    testTimeout: slow ? 1_200_000 : 60_000,
    hookTimeout: 120_000,
  },
});
