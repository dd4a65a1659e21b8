import { expect, test } from "vitest";
import { brokenPage, lightPage } from "../../lib/cli/lightPage.ts";

const made = (body: string): string =>
  `<html><head><link rel="preload" as="script" href="/a.js"/><script src="/a.js" async="" nonce="n1"></script></head><body>${body}<script nonce="n1" id="_R_">(self.__next_f=[]).push([0])</script><script src="/b.js" nonce="n1" async=""></script><script src="/old.js" noModule="" nonce="n1"></script></body></html>`;

test("a page on which nothing comes alive keeps its text and no script", () => {
  expect(lightPage(made("<p>&lt;script&gt; is told as text</p>"))).toBe(
    "<html><head></head><body><p>&lt;script&gt; is told as text</p></body></html>",
  );
});

test("a live page keeps its data, and its scripts are named to the one that waits", () => {
  expect(lightPage(made('<div data-live="/wake.js">x</div>'))).toBe(
    '<html><head><script src="/wake.js" data-scripts="/a.js /b.js" nonce="n1" defer></script></head><body><div data-live="/wake.js">x</div><script nonce="n1" id="_R_">(self.__next_f=[]).push([0])</script></body></html>',
  );
});

test("what the framework did not make stays as it is", () => {
  const letter = "<html><body><script>1</script></body></html>";
  expect(lightPage(letter)).toBe(letter);
  expect(brokenPage(letter, "n-1")).toBeNull();
});
