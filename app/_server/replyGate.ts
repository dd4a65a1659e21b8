import { markOfPage } from "../../lib/access/replyLink.ts";
import { type Route, tooLargeOnReply } from "../../lib/access/rules.ts";
import type { Act } from "../../lib/store/store.ts";
import type { Office } from "../../lib/usecases/office.ts";
import { see } from "./gate.ts";
import { theOffice } from "./office.ts";
import { readBody, type Unread } from "./readForm.ts";
import { markIn } from "./replyCookie.ts";
import { type AtReply, replyAt } from "./replyDoor.ts";
import { notReadPage, shutPage } from "./replyPages.tsx";

type Context = { readonly params: Promise<Readonly<Record<string, string | readonly string[]>>> };
type Handler = (request: Request, context: Context) => Promise<Response>;
type Params = Readonly<Record<string, string | readonly string[]>>;

/** Whoever reads a page of the reply whose link his browser keeps open. */
export const readOfReply =
  (
    _route: Extract<Route, `GET /reply${string}`>,
    show: (at: AtReply, params: Params, query: URLSearchParams, request: Request) => Promise<Response>,
  ): Handler =>
  async (request, { params }) => {
    const office = await theOffice();
    const mark = markIn(request, office);
    const at = mark === null ? null : await replyAt(office, await office.store.link(mark));
    return at === null ? shutPage() : show(at, await params, new URL(request.url).searchParams, request);
  };

/** What a page of the reply has sent. */
export interface ReplyWriting {
  readonly at: AtReply;
  readonly form: FormData;
  readonly params: Params;
  readonly request: Request;
  readonly by: Act;
  /** Writes into the office's log what was done, under the recipient's name. */
  readonly log: (act: string, detail?: string) => Promise<void>;
}

/** Whether the browser says that another site sends this; one that says nothing is believed, since the page's seal is asked for besides. */
const fromElsewhere = (request: Request): boolean => {
  const site = request.headers.get("sec-fetch-site");
  return site !== null && site !== "same-origin" && site !== "none";
};

const SMALL = 512 * 1024;
const TINY = 4096;

/** A write of somebody of whom nothing is known yet; null in place of a form that is none, too large, or sent by another site. */
export const writeOfStranger =
  (
    _route: "POST /reply/open",
    act: (office: Office, form: FormData | null) => Promise<Response>,
  ): ((request: Request) => Promise<Response>) =>
  async (request) => {
    const form = fromElsewhere(request) ? null : await readBody(request, TINY);
    return act(await theOffice(), form?.ok === true ? form.value : null);
  };

/** A file that was too large is told on the page of files, where there is room for another. */
const fileNotRead = (request: Request, unread: Unread | undefined): Response | Promise<Response> => {
  const bytes = Number(request.headers.get("content-length") ?? 0);
  return unread?.status === 413 && bytes > 0 ? see(tooLargeOnReply(bytes)) : notReadPage(unread);
};

/**
 * A write of whoever has a page of the reply open. The page's own seal lets it in, not the cookie: it is sent by no other site, and what is
 * typed outlives the cookie. Pages of the reply send no origin, since they are told to send no referrer.
 */
export const writeOfReply =
  (route: Extract<Route, `POST /reply${string}`>, act: (writing: ReplyWriting) => Promise<Response>, most = SMALL): Handler =>
  async (request, { params }) => {
    const office = await theOffice();
    if (fromElsewhere(request)) return shutPage();
    const form = await readBody(request, most);
    if (!form.ok) return route === "POST /reply/files" ? fileNotRead(request, form.faults[0]) : notReadPage(form.faults[0]);
    const mark = markOfPage(String(form.value.get("token") ?? ""), office.secret, office.clock());
    const at = mark === null ? null : await replyAt(office, await office.store.link(mark));
    if (at === null) return shutPage();
    const { recipient } = at.link;
    const when = office.world.now();
    const log = (done: string, detail = ""): Promise<void> =>
      office.store.audit({ who: recipient, when, act: done, subject: at.sent.visit, detail });
    return act({ at, form: form.value, params: await params, request, by: { who: recipient, when }, log });
  };
