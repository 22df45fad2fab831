import { createServer, type IncomingMessage, type Server, type ServerResponse } from "node:http";
import { open, type Schemas, type Seamwright } from "seamwright-client";
import { readOrder } from "./order.js";
import { formPage, pricePage, thanksPage, troublePage } from "./pages.js";

const largestForm = 20_000;
const headers = {
  "Content-Type": "text/html; charset=utf-8",
  "Content-Security-Policy": "default-src 'none'; form-action 'self'; frame-ancestors 'none'; base-uri 'none'",
  "X-Content-Type-Options": "nosniff",
  "Referrer-Policy": "no-referrer",
  "Cache-Control": "no-store",
};

interface Answer {
  status: number;
  page: string;
}

class TooLarge extends Error {}

/** Reads a form, up to a size. */
async function readForm(request: IncomingMessage): Promise<URLSearchParams> {
  let text = "";
  request.setEncoding("utf8");
  for await (const part of request) {
    text += String(part);
    if (text.length > largestForm) throw new TooLarge();
  }
  return new URLSearchParams(text);
}

/** What a refusal says, each line with the field that it is about. */
const reasons = (p: Schemas["Problem"]): string[] =>
  p.errors.length === 0 ? [p.detail] : p.errors.map((e) => `${e.pointer.replace(/^(\/top)?\//, "").replaceAll("/", " ")}: ${e.detail}`);

const busy = (response: Response): Answer => ({ status: 503, page: troublePage(`Our calculator does not answer (${response.status}). Please try again in a moment.`) });

const refused = (status: number) => status === 400 || status === 422;

/** Answers a browser's request. The access key stays here: the browser only ever sees pages. */
export async function answer(service: Seamwright, method: string, path: string, sent: URLSearchParams): Promise<Answer> {
  const units = "in";
  const form = await service.GET("/v1/order-form", { params: { query: { units } } });
  if (form.data === undefined) return busy(form.response);
  if (method === "GET" && path === "/") return { status: 200, page: formPage(form.data, sent) };
  if (method !== "POST" || (path !== "/price" && path !== "/request")) return { status: 404, page: troublePage("There is no such page.") };

  const { order, wrong } = readOrder(sent, units);
  if (wrong.length > 0) return { status: 422, page: formPage(form.data, sent, wrong) };
  const estimate = await service.POST("/v1/order-form/estimates", { body: order });
  if (estimate.error !== undefined && refused(estimate.response.status)) return { status: 422, page: formPage(form.data, sent, reasons(estimate.error)) };
  if (estimate.data === undefined) return busy(estimate.response);
  if (path === "/price") return { status: 200, page: pricePage(form.data, estimate.data, sent) };

  const contact = { name: sent.get("name") ?? "", ...(sent.get("email") ? { email: sent.get("email") ?? "" } : {}) };
  const message = sent.get("message");
  const asked = await service.POST("/v1/order-form/requests", {
    body: { top: order, contact, consent: (sent.get("consent") === "yes") as true, ...(message ? { message } : {}) },
  });
  if (asked.error !== undefined && refused(asked.response.status)) return { status: 422, page: pricePage(form.data, estimate.data, sent, reasons(asked.error)) };
  if (asked.data === undefined) return busy(asked.response);
  return { status: 200, page: thanksPage(estimate.data.summary) };
}

/** A server of the form, over a service. */
export function formServer(serviceUrl: string, key: string): Server {
  const service = open(serviceUrl, { key });
  const send = (response: ServerResponse, { status, page }: Answer) => response.writeHead(status, headers).end(page);
  return createServer((request, response) => {
    const path = new URL(request.url ?? "/", "http://form").pathname;
    readForm(request)
      .then((sent) => answer(service, request.method ?? "", path, sent))
      .then((a) => send(response, a))
      .catch((error: unknown) => {
        if (error instanceof TooLarge) return send(response, { status: 413, page: troublePage("That is too much text.") });
        console.error(error);
        return send(response, { status: 503, page: troublePage("Our calculator cannot be reached. Please try again in a moment.") });
      });
  });
}
