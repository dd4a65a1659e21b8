import type { IncomingHttpHeaders, IncomingMessage } from "node:http";
import { describe, expect, test } from "vitest";
import { addressIn, comingOf, tellPages } from "../../lib/cli/front/coming.ts";
import { newMetrics } from "../../lib/cli/front/metrics.ts";
import { errorFields } from "../../lib/outside/logLine.ts";
import { proxiesOf } from "../../lib/usecases/settings.ts";

const PROXIES = proxiesOf("127.0.0.1, 10.0.0.0/8");
const NONE = proxiesOf("");

const request = (url: string, headers: IncomingHttpHeaders = {}, from = "127.0.0.1", method = "GET"): IncomingMessage =>
  ({ url, method, headers, socket: { remoteAddress: from } }) as unknown as IncomingMessage;

describe("where a request comes from", () => {
  test.each([
    ["198.51.100.7", undefined, "198.51.100.7"],
    // Nobody is believed who is no proxy of ours.
    ["198.51.100.7", "203.0.113.9", "198.51.100.7"],
    ["127.0.0.1", "203.0.113.9", "203.0.113.9"],
    // What stands left of the first address that is not ours, anybody can have written.
    ["127.0.0.1", "192.0.2.1, 203.0.113.9", "203.0.113.9"],
    ["127.0.0.1", "192.0.2.1, 203.0.113.9, 10.1.1.1", "203.0.113.9"],
    ["127.0.0.1", "10.1.1.1", "10.1.1.1"],
    ["127.0.0.1", "203.0.113.9, rubbish", "127.0.0.1"],
    ["127.0.0.1", "rubbish, 203.0.113.9", "203.0.113.9"],
    ["::ffff:127.0.0.1", "203.0.113.9", "203.0.113.9"],
    ["127.0.0.1", "2001:db8::5", "2001:db8::5"],
    ["127.0.0.1", "", "127.0.0.1"],
  ])("%s, which says %s: %s", (socket, forwarded, address) => {
    expect(addressIn(socket, forwarded, PROXIES)).toBe(address);
  });

  test("without proxies nothing that is said is believed", () => {
    const headers = { "x-forwarded-for": "203.0.113.9", "x-forwarded-proto": "https", "x-request-id": "told-by-somebody" };
    const coming = comingOf(request("/visits", headers), NONE);
    expect(coming).toMatchObject({ address: "127.0.0.1", secure: false, passedOn: true });
    expect(coming.number).toMatch(/^[0-9a-f-]{36}$/);
    expect(comingOf(request("/visits", headers), PROXIES)).toMatchObject({
      address: "203.0.113.9",
      secure: true,
      passedOn: false,
      number: "told-by-somebody",
    });
  });

  test.each(["short", "a b c d e f g h", "x".repeat(65), 'quoted"quoted"'])("a number that is none is replaced: %s", (number) => {
    expect(comingOf(request("/visits", { "x-request-id": number }), PROXIES).number).toMatch(/^[0-9a-f-]{36}$/);
  });

  test("what only we may tell the pages cannot be told by others", () => {
    const headers: IncomingHttpHeaders = {
      "x-forehail-address": "192.0.2.1",
      "x-forehail-path": "/people",
      "x-forwarded-host": "evil.example",
    };
    tellPages(headers, comingOf(request("/", headers, "198.51.100.7"), NONE));
    expect(headers).toMatchObject({ "x-forehail-address": "198.51.100.7", "x-forwarded-for": "198.51.100.7", "x-forwarded-proto": "http" });
    expect(headers).not.toHaveProperty("x-forehail-path");
    expect(headers).not.toHaveProperty("x-forwarded-host");
  });
});

const VISIT = "0b4e8f5e-3f0a-4b7e-9a55-2f4f5d9a1c3e";

test.each([
  ["GET", "/reply/abcSECRETabc?x=1", "/reply/[code]", undefined],
  ["GET", "/reply/open", "/reply/open", undefined],
  ["GET", "/visits/new", "/visits/new", undefined],
  ["GET", `/visits/${VISIT}/ask/sets/1`, "/visits/[visit]/ask/[...path]", VISIT],
  ["HEAD", `/visits/${VISIT}?said=words`, "/visits/[visit]", VISIT],
  ["GET", "/visits/Mara%20Quill", "/visits/[visit]", undefined],
  ["GET", "/whatever/Mara", "(none)", undefined],
  ["GET", "/_next/static/chunks/a.js", "/_next/static/[file]", undefined],
  ["GET", "/", "/", undefined],
])("%s %s is told as %s", (method, url, route, visit) => {
  expect(comingOf(request(url, {}, "127.0.0.1", method), NONE)).toMatchObject({ route, visit });
});

test("of an error nothing is told that somebody may have written", () => {
  const error = Object.assign(new Error('invalid input syntax for type integer: "MARKED"\n    at MARKED (x.js:1:1) MARKED'), {
    code: "22P02",
    detail: "Key (vessel)=(MARKED) already exists.",
    constraint: "sent_once",
  });
  const fields = errorFields(error);
  expect(JSON.stringify(fields)).not.toContain("MARKED");
  expect(fields).toMatchObject({ error: "Error", code: "22P02", constraint: "sent_once" });
  expect(String((fields["stack"] as readonly string[])[0])).toContain("coming.test.ts");
});

test("figures are in the text format of Prometheus", () => {
  const metrics = newMetrics();
  metrics.count({ method: "GET", route: "/visits/[visit]", status: 200, seconds: 0.2 });
  metrics.count({ method: "GET", route: "/visits/[visit]", status: 200, seconds: 200 });
  const text = metrics.text(3, { letters: { waiting: 1, atWork: 2, done: 4, failed: 5 }, databaseErrors: 6 });
  for (const line of [
    'forehail_requests_total{method="GET",route="/visits/[visit]",status="200"} 2',
    'forehail_request_seconds_bucket{route="/visits/[visit]",le="0.1"} 0',
    'forehail_request_seconds_bucket{route="/visits/[visit]",le="0.25"} 1',
    'forehail_request_seconds_bucket{route="/visits/[visit]",le="+Inf"} 2',
    'forehail_request_seconds_sum{route="/visits/[visit]"} 200.2',
    'forehail_request_seconds_count{route="/visits/[visit]"} 2',
    "forehail_requests_under_way 3",
    'forehail_letters{state="waiting"} 1',
    'forehail_letters_total{outcome="failed"} 5',
    "forehail_database_errors_total 6",
  ])
    expect(text).toContain(`${line}\n`);
  const names = text.split("\n").filter((line) => line !== "" && !line.startsWith("#"));
  expect(names.every((line) => /^[a-z_]+(\{[a-z_]+="[^"]*"(,[a-z_]+="[^"]*")*\})? -?[\d.e+-]+$/.test(line))).toBe(true);
});
