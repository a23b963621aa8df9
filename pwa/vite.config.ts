import type { Plugin } from "vite";
import { defineConfig } from "vitest/config";
import { squeeze, stamp } from "./scripts/manifest.mjs";

/** Once everything is in the folder: copies for the wire, and the list of files at the head of sw.js. */
function keptOnPhones(): Plugin {
  let folder = "";
  return {
    name: "kept-on-phones",
    apply: "build",
    configResolved: (config) => void (folder = config.build.outDir),
    closeBundle: {
      sequential: true,
      order: "post",
      handler() {
        squeeze(folder);
        stamp(folder);
      },
    },
  };
}

export default defineConfig({
  base: "/",
  oxc: { jsx: { runtime: "automatic", importSource: "preact" } },
  build: {
    target: "es2022",
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
    rollupOptions: {
      input: { index: "index.html", sw: "src/sw.ts" },
      output: { entryFileNames: ({ name }) => (name === "sw" ? "sw.js" : "assets/[name]-[hash].js") }, // the worker's address never changes
    },
  },
  worker: { format: "es" },
  plugins: [keptOnPhones()],
  test: { include: ["src/**/*.test.{ts,tsx}"] },
});
