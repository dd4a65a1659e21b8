import { monitorEventLoopDelay } from "node:perf_hooks";
import type { OfficeFigures } from "../../usecases/office.ts";
import { VERSIONS } from "./health.ts";

/** Upper ends of the classes of durations, in seconds. */
const CLASSES = [0.01, 0.05, 0.1, 0.25, 0.5, 1, 2.5, 5, 10, 30, 120] as const;

/** A request that was answered. */
export interface Answered {
  readonly method: string;
  readonly route: string;
  readonly status: number;
  readonly seconds: number;
}

type Labels = Readonly<Record<string, string | number>>;

const escaped = (text: string): string => text.replaceAll("\\", "\\\\").replaceAll('"', '\\"').replaceAll("\n", "\\n");

const labelled = (labels: Labels): string => {
  const pairs = Object.entries(labels).map(([name, value]) => `${name}="${escaped(String(value))}"`);
  return pairs.length === 0 ? "" : `{${pairs.join(",")}}`;
};

type Sample = readonly [labels: Labels, value: number, ending?: string];

const family = (name: string, type: "counter" | "gauge" | "histogram", help: string, samples: readonly Sample[]): string =>
  samples.length === 0
    ? ""
    : `# HELP ${name} ${help}\n# TYPE ${name} ${type}\n${samples.map(([labels, value, ending = ""]) => `${name}${ending}${labelled(labels)} ${value}\n`).join("")}`;

interface Durations {
  readonly counts: number[];
  sum: number;
}

const durationSamples = (route: string, { counts, sum }: Durations): readonly Sample[] => {
  let upTo = 0;
  const classes = counts.map((count, place): Sample => {
    upTo += count;
    return [{ route, le: CLASSES[place] ?? "+Inf" }, upTo, "_bucket"];
  });
  return [...classes, [{ route }, sum, "_sum"], [{ route }, upTo, "_count"]];
};

const officeText = ({ letters, databaseErrors }: OfficeFigures): string =>
  family("forehail_letters", "gauge", "Letters that wait for a worker or are laid out.", [
    [{ state: "waiting" }, letters.waiting],
    [{ state: "at work" }, letters.atWork],
  ]) +
  family("forehail_letters_total", "counter", "Letters laid out, or given up.", [
    [{ outcome: "done" }, letters.done],
    [{ outcome: "failed" }, letters.failed],
  ]) +
  family("forehail_database_errors_total", "counter", "Queries that the database refused.", [[{}, databaseErrors]]);

const NANO = 1e9;

/** Counts what is answered, and tells it in the text format of Prometheus. */
export const newMetrics = () => {
  const answered = new Map<string, { readonly labels: Labels; count: number }>();
  const durations = new Map<string, Durations>();
  const delay = monitorEventLoopDelay({ resolution: 20 });
  delay.enable();
  const count = ({ method, route, status, seconds }: Answered): void => {
    const key = `${method} ${status} ${route}`;
    const counted = answered.get(key) ?? { labels: { method, route, status }, count: 0 };
    counted.count += 1;
    answered.set(key, counted);
    const of = durations.get(route) ?? { counts: Array<number>(CLASSES.length + 1).fill(0), sum: 0 };
    const place = CLASSES.findIndex((end) => seconds <= end);
    const at = place < 0 ? CLASSES.length : place;
    of.counts[at] = (of.counts[at] ?? 0) + 1;
    of.sum += seconds;
    durations.set(route, of);
  };
  const machineText = (): string => {
    const { rss, heapUsed } = process.memoryUsage();
    const lag = [0.5, 0.99, 1].map((quantile): Sample => [{ quantile }, delay.percentile(quantile * 100) / NANO]);
    delay.reset();
    return (
      family("nodejs_eventloop_lag_seconds", "gauge", "How late the event loop was since it was last asked.", lag) +
      family("process_resident_memory_bytes", "gauge", "Memory of the process, its workers among it.", [[{}, rss]]) +
      family("nodejs_heap_size_used_bytes", "gauge", "Heap in use, without the workers.", [[{}, heapUsed]]) +
      family("process_start_time_seconds", "gauge", "When the process began, in seconds since 1970.", [
        [{}, Math.round(Date.now() / 1000 - process.uptime())],
      ])
    );
  };
  const text = (inFlight: number, office: OfficeFigures | undefined): string =>
    family("forehail_info", "gauge", "Which program this is.", [[VERSIONS, 1]]) +
    family(
      "forehail_requests_total",
      "counter",
      "Requests answered.",
      [...answered.values()].map(({ labels, count: many }) => [labels, many] as const),
    ) +
    family(
      "forehail_request_seconds",
      "histogram",
      "How long requests took.",
      [...durations].flatMap(([route, of]) => durationSamples(route, of)),
    ) +
    family("forehail_requests_under_way", "gauge", "Requests that are being answered.", [[{}, inFlight]]) +
    (office === undefined ? "" : officeText(office)) +
    machineText();
  return { count, text };
};

export type Metrics = ReturnType<typeof newMetrics>;
