import { mkdtempSync, readFileSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { passedWords } from "./forward.ts";
import { cutNote, run } from "./run.ts";
import type { Target } from "./target.ts";
import type { Scan } from "./types.ts";

/** Files that lie about on many servers and should be served by none; our own among them. */
const WORDS: readonly string[] = [
  ...[
    ".git/HEAD",
    ".git/config",
    ".gitignore",
    ".svn/entries",
    ".hg/store",
    ".env",
    ".env.local",
    ".env.production",
    ".npmrc",
    ".DS_Store",
    ".htaccess",
    ".ci/run",
  ],
  ...[
    "package.json",
    "package-lock.json",
    "tsconfig.json",
    "next.config.ts",
    "next.config.js",
    "biome.json",
    "proxy.ts",
    "README.md",
    "DEVELOPERS.md",
    "LICENSE",
  ],
  ...[
    ".next/BUILD_ID",
    ".next/server/app-paths-manifest.json",
    "_next/BUILD_ID",
    "_next/server/pages-manifest.json",
    "_next/static/../server/middleware.js",
  ],
  ...[
    "_next/static/chunks/",
    "_next/data/x.json",
    "_next/image?url=%2Fetc%2Fpasswd&w=64&q=75",
    "_next/webpack-hmr",
    "__nextjs_original-stack-frame",
    "_next/mcp",
  ],
  ...[
    "backup.sql",
    "backup.zip",
    "dump.sql",
    "db.sqlite",
    "office.db",
    "data/office.db",
    "outbox/",
    "office.db-wal",
    "backup.tar.gz",
    "core",
    "core.dump",
    "node_modules/next/package.json",
  ],
  ...[
    "lib/access/seal.ts",
    "fixtures/service/forehail.env.example",
    "tests/",
    "app/",
    "server-status",
    "server-info",
    "nginx_status",
    "phpinfo.php",
    "wp-login.php",
    "admin",
    "admin/",
    "api",
    "api/auth/get-session",
  ],
  ...[
    "api/auth/sign-up/email",
    "api/auth/sign-in/email",
    "api/auth/admin/list-users",
    "api/auth/ok",
    "graphql",
    "swagger.json",
    "openapi.json",
    "actuator/health",
    "debug",
    "metrics",
    "ready",
    "robots.txt",
    "sitemap.xml",
  ],
  ...[
    "..%2f..%2fetc%2fpasswd",
    "%2e%2e/%2e%2e/etc/passwd",
    "....//....//etc/passwd",
    ".well-known/security.txt",
    "crossdomain.xml",
    "favicon.ico",
    "index.html~",
    "sign-in.bak",
    "sign-in.map",
  ],
];

interface Result {
  readonly status?: number;
  readonly length?: number;
  readonly input?: Readonly<Record<string, string>>;
}

/** What ffuf was given an answer for. Pure. */
export const ffufFindings = (text: string): readonly string[] =>
  ((JSON.parse(text) as { readonly results?: readonly Result[] }).results ?? []).map(
    ({ status, length, input }) => `${status} for /${(input?.["FUZZ"] ?? "").replaceAll(/[A-Za-z0-9_-]{16,}/g, "…")} (${length} bytes)`,
  );

/** ffuf with words of our own, as nobody and as an inspector. */
export const ffuf = async ({ by }: Target): Promise<readonly Scan[]> => {
  const folder = mkdtempSync(join(tmpdir(), "forehail-ffuf-"));
  const [words, report] = [join(folder, "words"), join(folder, "report.json")];
  const maps = [...(await (await fetch(`${by.nobody.url}/sign-in`)).text()).matchAll(/\/_next\/static\/[^"\\]+?\.(?:js|css)/g)].map(
    ([path]) => `${path.slice(1)}.map`,
  );
  writeFileSync(words, [...WORDS, ...new Set(maps)].join("\n"));
  const scans: Scan[] = [];
  for (const as of ["nobody", "inspector"] as const) {
    by[as].passed();
    const ran = await run(
      "ffuf",
      ["-s", "-w", words, "-u", `${by[as].url}/FUZZ`, "-mc", "200-299,401,403,500-599", "-t", "4", "-of", "json", "-o", report],
      60,
    );
    const passed = by[as].passed();
    const own = passed.requests === 0 ? ["ffuf asked for nothing"] : ffufFindings(readFileSync(report, "utf8"));
    const { findings, notes } = passedWords(passed);
    scans.push({
      scanner: "ffuf",
      at: `${as}: ${WORDS.length + new Set(maps).size} words`,
      seconds: ran.seconds,
      requests: passed.requests,
      findings: [...own, ...findings],
      notes: [...notes, ...cutNote(ran)],
    });
  }
  return scans;
};
