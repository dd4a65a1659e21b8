import { expect, test } from "vitest";
import { routeOf } from "../../lib/access/rules.ts";
import { ANSWERS, answerOf, openIn } from "./scan/answers.ts";
import { sslscanFindings } from "./scan/encryption.ts";
import { passedWords } from "./scan/forward.ts";
import { ffufFindings } from "./scan/hidden.ts";
import { nmapFindings } from "./scan/nmap.ts";
import { slowFindings } from "./scan/slow.ts";
import { sqlmapFindings } from "./scan/sqlmap.ts";
import { wapitiFindings } from "./scan/wapiti.ts";

test("what a scanner prints is read for what is wrong, and only for that", () => {
  const nmap =
    "8443/tcp open  ssl/http nginx\n| http-methods: \n|   Supported Methods: GET HEAD POST TRACE\n|_  Potentially risky methods: TRACE\n| ssl-enum-ciphers: \n|_  least strength: A\n";
  expect(nmapFindings(nmap)).toEqual(["http-methods: Potentially risky methods: TRACE"]);
  const csrf =
    "| http-csrf: \n|   Found the following possible CSRF vulnerabilities: \n|     Path: http://127.0.0.1:36825/visits\n|     Form id: q\n|_    Form action: /visits/import\n|_http-dombased-xss: Couldn't find any DOM based XSS.\n";
  expect(nmapFindings(csrf)).toEqual([
    "http-csrf: Found the following possible CSRF vulnerabilities:",
    "http-csrf: Form action: /visits/import",
  ]);
  expect(answerOf("http-csrf: Form action: /visits/import")).toBeNull();
  // What is answered as a search takes nothing that is sent.
  expect(["/visits", "/rulebook"].map((path) => routeOf("POST", path))).toEqual([null, null]);
  const ssl =
    "TLSv1.0   enabled\nTLSv1.2   enabled\nTLSv1.2 not vulnerable to heartbleed\nPreferred TLSv1.3  128 bits  TLS_AES_128_GCM_SHA256\nAccepted  TLSv1.2  256 bits  AES256-SHA\n";
  expect(sslscanFindings(ssl)).toEqual(["TLSv1.0 enabled", "weak cipher suite TLSv1.2 AES256-SHA"]);
  expect(sslscanFindings("ERROR: could not connect")).toHaveLength(1);
  expect(ffufFindings('{"results":[{"input":{"FUZZ":".git/HEAD"},"status":200,"length":23}]}')).toEqual(["200 for /.git/HEAD (23 bytes)"]);
  const wapiti = {
    vulnerabilities: { "SQL Injection": [{ method: "GET", path: "/visits?q=%27", parameter: "q", info: "SQL  Injection\nin q" }] },
    anomalies: {},
  };
  expect(wapitiFindings(JSON.stringify(wapiti))).toEqual(["SQL Injection: GET /visits (q): SQL Injection in q"]);
  expect(slowFindings("service available:   YES\nservice available:   NO\n")).toEqual([
    "slowhttptest could not reach the server 1 times of 2",
  ]);
  expect(slowFindings("service available:   YES\n")).toEqual([]);
  expect(slowFindings("")).toHaveLength(1);
});

test("what sqlmap takes back itself is no finding, what it proves is", () => {
  const thought = "[10:41:01] [INFO] GET parameter 'q' appears to be 'AND boolean-based blind' injectable\n";
  expect(sqlmapFindings(thought)).toHaveLength(1);
  expect(sqlmapFindings(`${thought}[10:41:09] [WARNING] false positive or unexploitable injection point detected\n`)).toEqual([]);
  expect(sqlmapFindings("[10:41:01] [CRITICAL] all tested parameters do not appear to be injectable.\n")).toEqual([]);
  expect(sqlmapFindings("Parameter: q (GET)\n")).toEqual(["Parameter: q (GET)"]);
});

test("a program that fails under a scanner is a finding", () => {
  const passed = {
    requests: 3,
    statuses: new Map([
      [500, 1],
      [200, 2],
    ]),
    failed: ["500 at POST /visits/import"],
    signedOut: 0,
  };
  expect(passedWords(passed)).toEqual({ findings: ["the program failed: 500 at POST /visits/import"], notes: ["answers 200: 2, 500: 1"] });
});

test("what has no answer is open, and no answer fits whatever comes", () => {
  const scan = { scanner: "x", at: "y", seconds: 1, requests: 1, findings: ["SQL Injection: GET /visits (q)", "known one"], notes: [] };
  expect(openIn([scan], [{ finding: /^known/, answer: "it is" }])).toEqual(["SQL Injection: GET /visits (q)"]);
  for (const one of [
    "SQL Injection: GET /visits (q): found",
    "the program failed: 500 at POST /visits",
    "Command execution: POST /x",
    "200 for /.git/HEAD (23 bytes)",
    "TLSv1.0 enabled",
  ])
    expect(answerOf(one), one).toBeNull();
  for (const { answer } of ANSWERS) expect(answer.length).toBeGreaterThan(20);
});
