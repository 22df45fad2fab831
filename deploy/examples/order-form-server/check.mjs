// Runs the built form server against the built service, as a customer's browser does.
//   node check.mjs PROGRAM
import assert from "node:assert/strict";
import { execFileSync, spawn } from "node:child_process";
import { chmodSync, mkdtempSync, readFileSync, rmSync } from "node:fs";
import { createServer } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { formServer } from "./dist/server.js";

const program = process.argv[2];
assert.ok(program, "say which program to start: node check.mjs PROGRAM");
const freePort = () => new Promise((resolve) => {
  const server = createServer().listen(0, "127.0.0.1", () => { const { port } = server.address(); server.close(() => resolve(port)); });
});
const folder = mkdtempSync(join(tmpdir(), "seamwright-form-"));
chmodSync(folder, 0o711); // started by root, the database runs as somebody else
const url = `http://127.0.0.1:${await freePort()}`;
const flags = ["--data-dir", folder, "--log-level", "error"];
const service = spawn(program, [...flags, "--listen", new URL(url).host], { stdio: ["ignore", "pipe", "inherit"] });
const ended = new Promise((resolve) => service.once("exit", resolve));
let form;
try {
  const key = await new Promise((resolve, reject) => {
    let said = "";
    service.stdout.on("data", (text) => {
      said += text;
      if (said.includes("serves on")) resolve(readFileSync(/export KEY=\$\(cat ([^)]+)\)/.exec(said)[1], "utf8").trim());
    });
    ended.then((code) => reject(new Error(`the service ended with ${code}`)));
    setTimeout(reject, 60_000, new Error("the service did not start in a minute")).unref();
  });
  form = formServer(url, key);
  await new Promise((resolve) => form.listen(0, "127.0.0.1", resolve));
  const at = `http://127.0.0.1:${form.address().port}`;
  const post = async (path, fields) => {
    const answer = await fetch(at + path, { method: "POST", body: new URLSearchParams(fields) });
    return { status: answer.status, text: await answer.text() };
  };

  const first = await fetch(at + "/");
  assert.equal(first.status, 200);
  assert.match(first.headers.get("content-security-policy"), /default-src 'none'/);
  const page = await first.text();
  assert.match(page, /<select name="wood">/);
  const option = (name) => new RegExp(`<select name="${name}"><option value="([^"]+)"`).exec(page)[1];
  const top = { shape: "straight", wood: option("wood"), thickness: option("thickness"), long1: "60", deep1: "25" };

  const price = await post("/price", top);
  assert.equal(price.status, 200, price.text);
  assert.match(price.text, /<strong>\d+\.\d\d/);

  const corner = await post("/price", { ...top, shape: "l", turns: "left", long2: "50", deep2: "25" });
  assert.equal(corner.status, 200, corner.text);
  assert.notEqual(corner.text, price.text);

  const wrong = await post("/price", { ...top, long1: "4000", wood: '"><script>alert(1)</script>' });
  assert.equal(wrong.status, 422);
  assert.match(wrong.text, /role="alert"/);
  assert.doesNotMatch(wrong.text, /<script/);
  assert.equal((await post("/price", { ...top, deep1: "broad" })).status, 422);

  const person = { name: "Ada Example <invented>", email: "ada@example.com", message: "<b>soon</b>", consent: "yes" };
  const unkept = await post("/request", { ...top, ...person, consent: "" });
  assert.equal(unkept.status, 422, "without consent nothing is kept");
  assert.match(unkept.text, /Ada Example &lt;invented&gt;/);
  const asked = await post("/request", { ...top, ...person });
  assert.equal(asked.status, 200, asked.text);
  assert.match(asked.text, /Thank you/);
  const quotes = await (await fetch(url + "/v1/quotes", { headers: { Authorization: `Bearer ${key}` } })).json();
  assert.deepEqual(quotes.items.map((q) => [q.status, q.origin, q.customer.name]), [["draft", "order_form", person.name]]);

  assert.equal((await post("/price", { ...top, long2: "x".repeat(30_000) })).status, 413);
  assert.equal((await fetch(at + "/nowhere")).status, 404);
  service.kill("SIGTERM");
  await ended;
  assert.equal((await post("/price", top)).status, 503, "a service that is away is said kindly");
  console.log("the order form's server works");
} finally {
  form?.close();
  form?.closeAllConnections();
  service.kill("SIGTERM");
  await ended;
  rmSync(folder, { recursive: true, force: true });
}
