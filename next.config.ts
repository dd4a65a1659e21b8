import type { NextConfig } from "next";

const config: NextConfig = {
  poweredByHeader: false,
  reactStrictMode: true,
  // The worker that renders letters and the core for the browser are bundles of their own (lib/cli/bundle.mjs).
  serverExternalPackages: ["better-sqlite3", "pg", "esbuild"],
};

export default config;
