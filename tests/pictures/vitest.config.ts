/** `npm run pictures` takes the README's pictures anew. Never part of `npm test`. */
import { defineConfig } from "vitest/config";

export default defineConfig({
  test: {
    include: ["tests/pictures/*.shot.ts"],
    testTimeout: 600_000,
    hookTimeout: 600_000,
    reporters: ["verbose"],
  },
});
