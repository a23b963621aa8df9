import { defineConfig } from "vitest/config";

export default defineConfig({
  base: "/",
  oxc: { jsx: { runtime: "automatic", importSource: "preact" } },
  build: { target: "es2022", assetsInlineLimit: 0, modulePreload: { polyfill: false } },
  test: { include: ["src/**/*.test.{ts,tsx}"] },
});
