// A client of a seamwright service: every path, parameter, body and answer is typed as the specification says.
import createClient, { type Client } from "openapi-fetch";
import { persistent } from "./retry.js";
import type { components, paths } from "./schema.js";

export type { components, paths };
export type Schemas = components["schemas"];
export type Seamwright = Client<paths>;

export interface Options {
  /** Access key. */
  key?: string;
  /** Longest time for one try of a call, in milliseconds; 20 s when left out. */
  timeout?: number;
  /** Send calls again by themselves that were lost, came too fast, or met a service that is away, each write under an Idempotency-Key of its own; true when left out. */
  retries?: boolean;
}

/** Opens a client; nothing is called yet. */
export function open(baseUrl: string, { key, timeout = 20_000, retries = true }: Options = {}): Seamwright {
  const once = (request: Request) => fetch(request, { signal: AbortSignal.timeout(timeout) });
  const client = createClient<paths>({ baseUrl, fetch: retries ? (request: Request) => persistent(request, timeout) : once });
  client.use({
    onRequest({ request }) {
      if (key !== undefined) request.headers.set("Authorization", `Bearer ${key}`);
      return request;
    },
  });
  return client;
}
