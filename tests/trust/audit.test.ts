import { readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { ROOT } from "../cli/cli.ts";
import { advisoriesIn, signaturesIn } from "./audit/answers.ts";
import { type Lock, lockFindings, type Manifest } from "./audit/lock.ts";

const json = <Shape>(name: string): Shape => JSON.parse(readFileSync(join(ROOT, name), "utf8")) as Shape;
const [manifest, lock] = [json<Manifest>("package.json"), json<Lock>("package-lock.json")];

const HASH = `sha512-${"A".repeat(86)}==`;

test("the packages as they are written down are in order", () => {
  expect(lockFindings(manifest, lock)).toEqual([]);
});

test("tells a package without an integrity hash, a direct version that is a range, a script that is not named, another registry", () => {
  const allowScripts = { "better-sqlite3": true, esbuild: true, sly: true };
  const bad: Manifest = { dependencies: { ranged: "^1.0.0", moved: "2.0.0" }, devDependencies: { gone: "1.0.0" }, allowScripts };
  const packages: Lock["packages"] = {
    "": { dependencies: { ranged: "^1.0.0", moved: "1.9.0", left: "1.0.0" } },
    "node_modules/ranged": { version: "1.2.0" },
    "node_modules/moved": { version: "1.9.0", integrity: "sha1-aaaa" },
    "node_modules/a/node_modules/sly": { version: "1.0.0", integrity: HASH, hasInstallScript: true },
    "node_modules/far": { version: "1.0.0", integrity: HASH, resolved: "https://packages.elsewhere.example/far.tgz" },
    "node_modules/well": { version: "1.0.0", integrity: HASH, resolved: "https://registry.npmjs.org/well/-/well-1.0.0.tgz" },
    "node_modules/own": { link: true },
  };
  expect(lockFindings(bad, { packages }).map((line) => line.replace(/, so that.*/, ""))).toEqual([
    "ranged 1.2.0: no integrity hash (sha512) in the lock",
    "moved 1.9.0: no integrity hash (sha512) in the lock",
    "sly 1.0.0: runs a script when it is installed, and is not named in SCRIPTS",
    "far 1.0.0: comes from elsewhere than the registry",
    "ranged: given ^1.0.0 in package.json; wanted one exact version",
    "ranged: the lock has not the version ^1.0.0",
    "moved: 2.0.0 in package.json, 1.9.0 in the lock",
    "moved: the lock has not the version 2.0.0",
    "gone: 1.0.0 in package.json, nothing in the lock",
    "gone: the lock has not the version 1.0.0",
    "left: in the lock, not in package.json",
    "sly: may run a script by package.json, and is not named so in SCRIPTS",
  ]);
});

test("an answer of the registry is told as what it is: advisories, none, or that it tells nothing", () => {
  const of = (out: object | string, err = "") => ({ code: 1, out: typeof out === "string" ? out : JSON.stringify(out), err });
  const via = [{ title: "Reads too far", url: "https://advisories.example/1" }, "other"];
  expect(advisoriesIn(of({ vulnerabilities: { tar: { severity: "high", via, range: "<7" } } }))).toEqual({
    said: "findings",
    findings: ["tar <7: high: Reads too far https://advisories.example/1; by other"],
  });
  expect(advisoriesIn(of({ vulnerabilities: {} }))).toEqual({ said: "well" });
  const refused = "npm warn audit 405 Method Not Allowed - POST https://registry.example/-/npm/v1/security/advisories/bulk\n";
  expect(advisoriesIn(of({ message: "405", error: {} }, refused))).toEqual({ said: "nothing", why: "405 Method Not Allowed" });
  expect(advisoriesIn(of("", "npm error code ENOTFOUND"))).toEqual({ said: "nothing", why: "ENOTFOUND" });
  expect(advisoriesIn(of("", ""))).toEqual({ said: "nothing", why: "no answer that can be read" });
});

test("so are signatures", () => {
  const of = (out: object | string) => ({
    code: 0,
    out: typeof out === "string" ? out : JSON.stringify(out),
    err: "npm error code ENOTFOUND",
  });
  expect(signaturesIn(of({ invalid: [], missing: [] }))).toEqual({ said: "well" });
  expect(signaturesIn(of({ invalid: [{ name: "a", version: "1.0.0" }], missing: [{ name: "b", version: "2.0.0" }] }))).toEqual({
    said: "findings",
    findings: ["a 1.0.0: its signature is not the registry's", "b 2.0.0: it bears no signature though the registry signs"],
  });
  expect(signaturesIn(of("")).said).toBe("nothing");
});
