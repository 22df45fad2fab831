// Sends calls again that were lost on the way, came too fast, or met a service that is away for a moment.

/** How often a call is sent again; what rests begin with (it doubles), and the longest the service can ask for, in milliseconds. */
const mostRetries = 4;
const firstRest = 200;
const longestRest = 30_000;

const passing = new Set([429, 502, 503, 504]);

const rest = (ms: number) => new Promise<void>((resolve) => setTimeout(resolve, ms));

/** How long the service asks to wait (Retry-After, in seconds or as a date), else as usual; in milliseconds. */
export function asked(header: string | null, usual: number, now: number): number {
  if (header === null || header.trim() === "") return usual;
  const seconds = /^\d+$/.test(header.trim()) ? Number(header) : (Date.parse(header) - now) / 1000;
  return Number.isNaN(seconds) ? usual : Math.min(Math.max(seconds * 1000, 0), longestRest);
}

/**
 * Sends a request, and again while that may help: at most four times. A write gets an Idempotency-Key of its own, unless the caller
 * gave one, so that it is done once however often it is sent. Each try has the whole time.
 */
export async function persistent(request: Request, timeout: number): Promise<Response> {
  const body = request.body === null ? null : await request.arrayBuffer();
  const headers = new Headers(request.headers);
  const reads = request.method === "GET" || request.method === "HEAD";
  if (!reads && !headers.has("Idempotency-Key")) headers.set("Idempotency-Key", crypto.randomUUID());
  for (let tries = 0; ; tries++) {
    let wait = firstRest * 2 ** tries;
    try {
      const signal = AbortSignal.any([request.signal, AbortSignal.timeout(timeout)]);
      const answer = await fetch(request.url, { method: request.method, headers, body, signal });
      if (tries === mostRetries || !passing.has(answer.status)) return answer;
      wait = asked(answer.headers.get("Retry-After"), wait, Date.now());
      await answer.body?.cancel();
    } catch (lost) {
      if (tries === mostRetries || request.signal.aborted) throw lost;
    }
    await rest(wait);
  }
}
