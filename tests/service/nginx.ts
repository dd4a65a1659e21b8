import { type ChildProcess, execFileSync, spawn } from "node:child_process";
import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { connect } from "node:tls";
import { ROOT, scratch } from "../cli/cli.ts";
import { freePort } from "../port.ts";

const NAME = "plans.example.org";

export interface Front {
  readonly port: number;
  readonly stop: () => Promise<void>;
}

const certificateIn = (folder: string): void => {
  const to = ["-keyout", join(folder, "key.pem"), "-out", join(folder, "fullchain.pem")];
  const of = ["-subj", `/CN=${NAME}`, "-days", "2"];
  execFileSync("openssl", ["req", "-x509", "-newkey", "ec", "-pkeyopt", "ec_paramgen_curve:prime256v1", "-nodes", ...to, ...of], {
    stdio: "ignore",
  });
};

/** The recipe as it is, but for ports and where the certificate lies. */
const recipe = (
  folder: string,
  ports: { readonly plain: number; readonly tls: number; readonly copies: readonly [number, number] },
): string => {
  const swaps: readonly (readonly [RegExp, string])[] = [
    [/127\.0\.0\.1:3001/, `127.0.0.1:${ports.copies[0]}`],
    [/127\.0\.0\.1:3002/, `127.0.0.1:${ports.copies[1]}`],
    [/listen 80;/, `listen 127.0.0.1:${ports.plain};`],
    [/listen 443 ssl/, `listen 127.0.0.1:${ports.tls} ssl`],
    [/listen \[::\]:80;/, ""],
    [/listen \[::\]:443 ssl http2;/, ""],
    [/\/etc\/ssl\/forehail\/fullchain/, `${folder}/fullchain`],
    [/\/etc\/ssl\/forehail\/key/, `${folder}/key`],
  ];
  return swaps.reduce(
    (text, [from, to]) => {
      if (!from.test(text)) throw new Error(`the recipe has no ${from.source}`);
      return text.replace(from, to);
    },
    readFileSync(join(ROOT, "fixtures/service/nginx.conf"), "utf8"),
  );
};

const opens = (port: number): Promise<boolean> =>
  new Promise((done) => {
    const socket = connect({ port, host: "127.0.0.1", rejectUnauthorized: false }, () => done(socket.end() !== undefined));
    socket.on("error", () => done(false));
  });

/** nginx with the recipe of `fixtures/service` in front of two copies, on loopback. */
export const startNginx = async (copies: readonly [number, number]): Promise<Front> => {
  const folder = scratch();
  const [plain, tls] = [await freePort(), await freePort()];
  certificateIn(folder);
  const own = ["client_body", "proxy", "fastcgi", "uwsgi", "scgi"].map((name) => `${name}_temp_path ${folder}/${name};`).join(" ");
  const conf = join(folder, "nginx.conf");
  const user = process.getuid?.() === 0 ? "user root;" : "";
  writeFileSync(
    conf,
    `${user} daemon off; worker_processes 1; pid ${folder}/pid; error_log ${folder}/errors;\nevents {}\nhttp { ${own} access_log off;\n${recipe(folder, { plain, tls, copies })} }\n`,
  );
  const program = existsSync("/usr/sbin/nginx") ? "/usr/sbin/nginx" : "nginx";
  const child: ChildProcess = spawn(program, ["-p", folder, "-e", `${folder}/errors`, "-c", conf], {
    stdio: ["ignore", "ignore", "inherit"],
  });
  for (let tried = 0; !(await opens(tls)); tried += 1) {
    if (child.exitCode !== null || tried > 200)
      throw new Error(`nginx did not start: ${existsSync(`${folder}/errors`) ? readFileSync(`${folder}/errors`, "utf8") : ""}`);
    await new Promise((again) => setTimeout(again, 50));
  }
  const ended = new Promise<void>((done) => child.once("exit", () => done()));
  return {
    port: tls,
    stop: async () => {
      child.kill("SIGTERM");
      await ended;
    },
  };
};
