// Holds the built client against a service that loses answers and refuses: node check.mjs
import assert from "node:assert/strict";
import { createServer } from "node:http";
import { open } from "./dist/index.js";
import { asked } from "./dist/retry.js";

const seen = [];
let plan = []; // what becomes of the calls that come next; then they are answered
const server = createServer((request, response) => {
  let body = "";
  request.on("data", (part) => { body += part; });
  request.on("end", () => {
    seen.push({ method: request.method, key: request.headers["idempotency-key"], auth: request.headers.authorization, body });
    const next = plan.shift();
    if (next === "lose") return void request.socket.destroy();
    response.writeHead(next ?? 200, { "Content-Type": "application/json", ...(next === 503 && { "Retry-After": "0" }) });
    response.end("{}");
  });
});
await new Promise((resolve) => server.listen(0, "127.0.0.1", resolve));
const at = `http://127.0.0.1:${server.address().port}`;
const call = async (what, options = {}) => {
  seen.length = 0;
  plan = what;
  return (await open(at, { key: "k", ...options }).POST("/v1/quotes", { body: { reference: "ü" } })).response.status;
};
try {
  assert.equal(await call(["lose", 503, "lose"]), 200);
  assert.equal(seen.length, 4);
  assert.ok(seen[0].key, "a write has a key of its own");
  assert.deepEqual(new Set(seen.map((s) => JSON.stringify(s))).size, 1, "each time the very same call");
  assert.equal(seen[0].auth, "Bearer k");
  const first = seen[0].key;
  assert.equal(await call([]), 200);
  assert.notEqual(seen[0].key, first, "another write has another key");

  assert.equal(await call([422, 200]), 422);
  assert.equal(seen.length, 1, "a refusal that will not pass is not sent again");
  assert.equal(await call([503, 503, 503, 503, 503, 503]), 503);
  assert.equal(seen.length, 5, "four times more, and no more");
  await assert.rejects(call(["lose"], { retries: false }));
  assert.equal(seen.length, 1);
  assert.equal(seen[0].key, undefined);

  seen.length = 0;
  plan = [503];
  const own = await open(at).POST("/v1/quotes", { body: {}, params: { header: { "Idempotency-Key": "mine" } } });
  assert.equal(own.response.status, 200);
  assert.deepEqual(seen.map((s) => s.key), ["mine", "mine"], "the caller's own key stays");
  seen.length = 0;
  plan = ["lose"];
  assert.equal((await open(at).GET("/v1/quotes")).response.status, 200);
  assert.deepEqual(seen.map((s) => s.key), [undefined, undefined], "a reading has none");

  assert.equal(asked(null, 7, 0), 7);
  assert.equal(asked("3", 7, 0), 3000);
  assert.equal(asked("999999", 7, 0), 30_000);
  assert.equal(asked("Thu, 01 Jan 1970 00:00:02 GMT", 7, 0), 2000);
  assert.equal(asked("soon", 7, 0), 7);
  console.log("the client sends lost calls again, and each write is one");
} finally {
  server.closeAllConnections();
  server.close();
}
