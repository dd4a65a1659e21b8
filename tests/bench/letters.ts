import { spawnSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { resolve } from "node:path";
import { monitorEventLoopDelay } from "node:perf_hooks";
import { pathToFileURL } from "node:url";
import PDFDocument from "pdfkit";
import { success } from "../../lib/kernel/result.ts";
import type { Block, Letter } from "../../lib/letter/blocks.ts";
import { letterOf } from "../../lib/letter/letter.ts";
import { pdfOf } from "../../lib/letter/pdf/document.tsx";
import { openRenderer } from "../../lib/letter/render.ts";
import { newPlanner } from "../../lib/plan/plan.ts";
import { rulebook } from "../../lib/rulebook/rulebook.ts";
import { planFile } from "../../lib/usecases/planFile.ts";

const find = createRequire(import.meta.url).resolve;
const REGULAR = find("@expo-google-fonts/source-sans-3/400Regular/SourceSans3_400Regular.ttf");
const STRONG = find("@expo-google-fonts/source-sans-3/600SemiBold/SourceSans3_600SemiBold.ttf");
const WIDTH = 499;
const SIDE = 48;
/** Made by `run.mjs`, which bundles the program first. */
const worker = pathToFileURL(resolve("node_modules/.cache/forehail/worker.mjs"));

/** A row of a letter as the peer draws it: texts with their widths, bold or not. */
type Cells = readonly { readonly text: string; readonly width: number; readonly strong?: boolean }[];

const rowsOf = (block: Block): readonly Cells[] => {
  const whole = (text: string, strong = false): Cells => [{ text, width: WIDTH, strong }];
  switch (block.kind) {
    case "heading":
      return [whole(block.text, true)];
    case "subheading":
      return [whole(block.text, true), ...(block.note === undefined ? [] : [whole(block.note)])];
    case "paragraph":
      return [whole(block.text)];
    case "asks":
      return block.lines.map(({ who, what, by }) => [
        { text: who, width: 85, strong: true },
        { text: what, width: 310 },
        { text: by, width: 104 },
      ]);
    case "bullets":
      return block.items.map((text) => whole(text));
    case "form":
    case "formMark":
      return [];
    case "never":
      return [whole(block.acts.join("   "))];
    case "labelled":
      return block.items.map(({ label, text }) => whole(`${label}  ${text}`));
    case "facts":
      return block.groups.map(({ label, facts }) => [
        { text: block.where, width: 80, strong: true },
        { text: `${label} ${facts.map(({ name, value }) => `${name} ${value}`).join("; ")}`, width: 419 },
      ]);
    case "table":
      return [block.columns.map(({ title }) => title), ...block.rows].map((row) =>
        block.columns.map(({ share }, place) => ({ text: row[place] ?? "", width: (WIDTH * share) / 100, strong: place === 0 })),
      );
    case "protection":
      return [
        [
          { text: `${block.refs} ${block.name}\n${block.where} ${block.state}\n${block.proves}`, width: 158, strong: true },
          { text: [block.how, ...block.does, ...block.lines.map(({ label, text }) => `${label}: ${text}`)].join("\n"), width: 341 },
        ],
      ];
    case "signature":
      return [whole(block.text)];
    case "drawings":
    case "newPage":
      return [];
    // The sheets that are carried aboard are no letters.
    default:
      return [];
  }
};

/** The same letter drawn by the library below the layout: same words, typeface, columns and page breaks by hand. */
const byHand = (letter: Letter): Promise<number> =>
  new Promise((done) => {
    const document = new PDFDocument({ size: "A4", margin: SIDE });
    let bytes = 0;
    document.on("data", (chunk) => {
      bytes += chunk.length;
    });
    document.on("end", () => done(bytes));
    document.registerFont("regular", REGULAR).registerFont("strong", STRONG).fontSize(9);
    let y = SIDE;
    for (const cells of letter.blocks.flatMap(rowsOf)) {
      const heights = cells.map(({ text, width, strong }) =>
        document.font(strong === true ? "strong" : "regular").heightOfString(text, { width: width - 8 }),
      );
      const height = Math.max(...heights) + 5;
      if (y + height > document.page.height - SIDE) {
        document.addPage();
        y = SIDE;
      }
      let x = SIDE;
      for (const { text, width, strong } of cells) {
        document.font(strong === true ? "strong" : "regular").text(text, x, y, { width: width - 8 });
        x += width;
      }
      y += height;
      document
        .moveTo(SIDE, y - 2)
        .lineTo(SIDE + WIDTH, y - 2)
        .stroke();
    }
    document.end();
  });

const pagesIn = (pdf: Uint8Array): number =>
  Buffer.from(pdf)
    .toString("latin1")
    .match(/\/Type \/Page\b/g)?.length ?? 0;
const median = (values: readonly number[]): number => [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? 0;

const timed = async (run: () => Promise<unknown>, times: number): Promise<readonly number[]> => {
  const found: number[] = [];
  for (let n = 0; n < times; n += 1) {
    const start = performance.now();
    await run();
    found.push(performance.now() - start);
  }
  return found;
};

const mib = (bytes: number): string => `${(bytes / 1024 / 1024).toFixed(0)} MiB`;

/** Letters: against the same drawn by hand, two hundred in a row, what the event loop feels, the first of a process. */
export const letters = async (): Promise<void> => {
  const read = async () => success(readFileSync("fixtures/visits/old-mechanical.json", "utf8"));
  const result = await planFile(newPlanner(rulebook), { read }, "visit");
  if (!result.ok) return;
  const whole = letterOf({ plan: result.value.plan, read: result.value.read, rulebook, units: "metric" });
  // As many blocks as fill three pages.
  let letter = whole;
  for (let count = whole.blocks.length; count > 0; count -= 1) {
    letter = { ...whole, blocks: whole.blocks.slice(0, count) };
    if (pagesIn(await pdfOf(letter)) <= 3) break;
  }
  await timed(() => byHand(letter), 5);
  await timed(() => pdfOf(letter), 5);
  const [hand, ours] = [median(await timed(() => byHand(letter), 20)), median(await timed(() => pdfOf(letter), 20))];
  console.log(
    `\nLetter of three pages, warm: ${ours.toFixed(0)} ms, the same by hand in pdfkit ${hand.toFixed(0)} ms: ${(ours / hand).toFixed(1)} ×  wanted ≤ 4 ×, aimed at 2.5 ×`,
  );
  const renderer = openRenderer({ timeout: 60_000, memory: 512 }, worker);
  await renderer.render(letter);
  const delay = monitorEventLoopDelay({ resolution: 2 });
  const memory: number[] = [];
  for (let n = 1; n <= 200; n += 1) {
    if (n === 11) delay.enable();
    const pdf = await renderer.render(letter);
    if (!pdf.ok) throw new Error(pdf.faults.join());
    if (n % 50 === 0) memory.push(process.memoryUsage().rss);
  }
  delay.disable();
  await renderer.close();
  console.log(`Two hundred letters in a row: resident after 50, 100, 150, 200: ${memory.map(mib).join(", ")}  wanted no growth`);
  console.log(
    `Event loop meanwhile: longest gap ${(delay.max / 1e6).toFixed(1)} ms, 99 % under ${(delay.percentile(99) / 1e6).toFixed(1)} ms  wanted ≤ 50 ms`,
  );
  const first = Array.from({ length: 5 }, () => {
    const start = performance.now();
    const ran = spawnSync(process.execPath, ["tests/bench/first.mjs", worker.href], {
      input: JSON.stringify(letter),
      encoding: "utf8",
      env: { ...process.env, NODE_ENV: "production" },
    });
    if (ran.status !== 0) throw new Error(ran.stderr);
    return performance.now() - start;
  });
  console.log(
    `First letter of a process, from its start: median ${median(first).toFixed(0)} ms, worst ${Math.max(...first).toFixed(0)} ms  wanted ≤ 2 s`,
  );
};
