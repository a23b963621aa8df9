/** Tests against a running server, started from tests/device: CORNERWISE_PYTHON says with which Python. */
import { defineConfig } from "vitest/config";

export default defineConfig({ test: { include: ["src/**/*.device.ts"], testTimeout: 120_000, hookTimeout: 60_000 } });
