import { cutNote, run } from "./run.ts";
import type { Target } from "./target.ts";
import type { Scan } from "./types.ts";

const NAME = "plans.example.org";

/** What sslscan found that it should not. Pure. */
export const sslscanFindings = (text: string): readonly string[] => {
  const lines = text.split("\n").map((line) => line.trim().replaceAll(/\s+/g, " "));
  const accepted = lines.flatMap(
    (line) => /^(?:Preferred|Accepted) (TLSv1\.\d) \d+ bits ([A-Z0-9_-]+)/.exec(line)?.slice(1, 3).join(" ") ?? [],
  );
  return [
    ...(accepted.length === 0 ? ["no cipher suite was accepted: nothing was looked at"] : []),
    ...lines.filter((line) => /^(?:SSLv\d|TLSv1\.[01]) enabled/.test(line)),
    ...lines.filter((line) => /(?<!not )vulnerable to heartbleed|^Compression enabled|Insecure session renegotiation/i.test(line)),
    ...accepted
      .filter((suite) => !/GCM|CHACHA20|CCM/.test(suite) || /^TLSv1\.2 (?!ECDHE|DHE)/.test(suite))
      .map((suite) => `weak cipher suite ${suite}`),
  ];
};

export const sslscan = async ({ tls }: Target): Promise<readonly Scan[]> => {
  const ran = await run("sslscan", ["--no-colour", `--sni-name=${NAME}`, `127.0.0.1:${tls}`], 60);
  return [
    {
      scanner: "sslscan",
      at: "nginx by the recipe",
      seconds: ran.seconds,
      requests: null,
      findings: sslscanFindings(ran.out),
      notes: cutNote(ran),
    },
  ];
};
