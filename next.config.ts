import type { NextConfig } from "next";

const config: NextConfig = {
  poweredByHeader: false,
  // The server in front of the pages compresses what leaves it (lib/cli/pages.ts).
  compress: false,
  reactStrictMode: true,
  // The worker that renders letters and the core for the browser are bundles of their own (lib/cli/bundle.mjs).
  // A write with a file may be as large as its rule says (lib/access/rules.ts); the framework would cut it off at 10 MB without a word.
  experimental: { proxyClientMaxBodySize: 41 * 1024 * 1024 },
  serverExternalPackages: ["better-sqlite3", "pg", "esbuild", "ical-generator", "write-excel-file"],
};

export default config;
