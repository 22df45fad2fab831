// A client of a seamwright service: every path, parameter, body and answer is typed as the specification says.
import createClient, { type Client } from "openapi-fetch";
import type { components, paths } from "./schema.js";

export type { components, paths };
export type Schemas = components["schemas"];
export type Seamwright = Client<paths>;

export interface Options {
  /** Access key. */
  key?: string;
  /** Longest time for one call, in milliseconds; 20 s when left out. */
  timeout?: number;
}

/** Opens a client; nothing is called yet. */
export function open(baseUrl: string, { key, timeout = 20_000 }: Options = {}): Seamwright {
  const client = createClient<paths>({ baseUrl, fetch: (request: Request) => fetch(request, { signal: AbortSignal.timeout(timeout) }) });
  client.use({
    onRequest({ request }) {
      if (key !== undefined) request.headers.set("Authorization", `Bearer ${key}`);
      return request;
    },
  });
  return client;
}
