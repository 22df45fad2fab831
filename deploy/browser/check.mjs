// Drives /, /docs, /order and the documents of a quote of the built service in a real browser, with access keys and without.
//   node check.mjs PROGRAM
// CHROMIUM names the browser (default /usr/bin/chromium). Screenshots go to a folder whose name is printed.
import assert from "node:assert/strict";
import { execFileSync, spawn } from "node:child_process";
import { chmodSync, mkdtempSync, readFileSync, rmSync } from "node:fs";
import { createServer } from "node:net";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { chromium } from "playwright-core";

const program = process.argv[2];
assert.ok(program, "say which program to start: node check.mjs PROGRAM");
const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const pictures = mkdtempSync(join(tmpdir(), "seamwright-pages-"));
const sizes = { desktop: { width: 1280, height: 900 }, phone: { width: 375, height: 812 } };

const freePort = () => new Promise((resolve, reject) => {
  const server = createServer().on("error", reject).listen(0, "127.0.0.1", () => {
    const { port } = server.address();
    server.close(() => resolve(port));
  });
});

// withService runs the program while work does, on a database of its own.
async function withService(flagsOf, work) {
  const folder = mkdtempSync(join(tmpdir(), "seamwright-data-"));
  chmodSync(folder, 0o711); // started by root, the database runs as somebody else
  const origin = `http://127.0.0.1:${await freePort()}`;
  const flags = ["--data-dir", folder, "--log-level", "error"];
  const service = spawn(program, [...flags, "--listen", new URL(origin).host, ...flagsOf(flags, origin)], { stdio: ["ignore", "pipe", "inherit"] });
  const ended = new Promise((resolve) => service.once("exit", resolve));
  try {
    await Promise.race([
      new Promise((resolve) => service.stdout.on("data", (text) => String(text).includes("serves on") && resolve())),
      ended.then((code) => { throw new Error(`the service ended with ${code}`); }),
      new Promise((_, reject) => setTimeout(reject, 60_000, new Error("the service did not start in a minute")).unref()),
    ]);
    await work(origin);
  } finally {
    service.kill("SIGTERM");
    await ended;
    rmSync(folder, { recursive: true, force: true });
  }
}

// A page with a watch on it: what it asks for and what it complains about. refusals are answers of 400 and more that the
// test provokes; the browser writes each to the console.
async function open(browser, origin, path, size) {
  const context = await browser.newContext({ viewport: sizes[size], reducedMotion: "reduce" });
  const page = await context.newPage();
  const complaints = [];
  page.on("console", (message) => {
    const provoked = /Failed to load resource.*status of (400|422)/.test(message.text());
    if (["error", "warning"].includes(message.type()) && !provoked) complaints.push(message.text());
  });
  page.on("pageerror", (error) => complaints.push(error.message));
  page.on("request", (request) => {
    if (!request.url().startsWith(origin + "/") && !request.url().startsWith("data:")) complaints.push("asked another address: " + request.url());
  });
  await page.goto(origin + path);
  return { page, async close() { assert.deepEqual(complaints, []); await context.close(); } };
}

async function sound(page, name) {
  await page.screenshot({ path: join(pictures, name + ".png"), fullPage: true });
  await accessible(page, name);
  await upright(page, name);
}

async function accessible(page, name) {
  // Evaluated by the debugger, which the page's policy does not bind.
  await page.evaluate(axe);
  const { violations } = await page.evaluate(() => globalThis.axe.run(document));
  const bad = violations.filter(({ impact }) => impact === "serious" || impact === "critical");
  assert.deepEqual(bad.map(({ id, nodes }) => [id, nodes.map(({ html }) => html)]), [], name);
}

async function upright(page, name) {
  const wider = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
  assert.equal(wider, 0, `${name} scrolls sideways by ${wider} px`);
}

const amount = (page) => page.locator("#amount").textContent();
const field = (page, side, label) => page.getByRole("group", { name: side, exact: true }).getByLabel(label);

async function priceOtherThan(page, old) {
  await page.waitForFunction((before) => {
    const now = document.getElementById("amount")?.textContent;
    return /\d/.test(now) && now !== before;
  }, old);
  return amount(page);
}

// What stands below is drawn in thin lines; what cannot stand so is marked at its field, and dashed in the plan.
async function below(page, size) {
  await page.getByRole("button", { name: "Add what stands below" }).click();
  const first = (name) => page.locator(`#f-base-0-${name}`);
  await first("from").fill("30");
  await first("to").fill("90");
  await page.locator("#plan polygon.below.cabinet").waitFor();
  assert.match(await page.locator("#plan svg").getAttribute("aria-label"), /Below side 1: Cabinet\./);
  await page.getByRole("button", { name: "Add what stands below" }).click();
  const second = (name) => page.locator(`#f-base-1-${name}`);
  await second("kind").selectOption("appliance");
  await second("from").fill("10");
  await second("to").fill("34");
  await second("to").blur();
  await wrong(page, second("from"), "number 1 reaches from 30 in to 90 in");
  assert.equal(await page.locator("#plan .refused").count(), 1, "the plan shows where it would stand");
  await sound(page, `order-below-${size}`);
  await second("to").fill("30");
  await page.locator("#plan polygon.below.appliance").waitFor();
  assert.equal(await page.locator("#plan polygon.below").count(), 2);
  assert.equal(await page.locator("#plan .refused").count(), 0);
  await page.getByRole("button", { name: "Remove stretch 1" }).click();
  assert.equal(await first("from").inputValue(), "10", "what follows moves up");
  await page.getByRole("button", { name: "Remove stretch 1" }).click();
  await page.locator("#plan .below").first().waitFor({ state: "detached" });
}

// Letters of the plan, in the order in which they are drawn.
const planTexts = (page) => page.locator("#plan text").allTextContents();

async function planWith(page, text) {
  await page.waitForFunction((wanted) => [...document.querySelectorAll("#plan text")].some((node) => node.textContent === wanted), text);
}

// What is empty takes no room: neither the places of errors nor those of hints.
async function noEmptyRows(page, name) {
  const empty = await page.evaluate(() => [...document.querySelectorAll(".error, .hint")]
    .filter((node) => !node.textContent.trim() && node.getClientRects().length && node.getBoundingClientRect().height > 0).map(({ className }) => className));
  assert.deepEqual(empty, [], `${name}: empty rows`);
}

// inSight holds that the plan and the price can be seen while one types into a field, and the field itself beside them.
async function inSight(page, field, name) {
  await field.focus();
  await field.scrollIntoViewIfNeeded();
  const height = page.viewportSize().height;
  const [plan, price, control] = [await page.locator("#plan").boundingBox(), await page.locator("#price").boundingBox(), await field.boundingBox()];
  for (const [what, box] of Object.entries({ plan, price, control })) {
    assert.ok(box.y >= -1 && box.y + box.height <= height + 1, `${name}: the ${what} is out of sight, from ${box.y} to ${box.y + box.height}`);
  }
  const apart = control.x >= plan.x + plan.width || control.x + control.width <= plan.x || control.y >= plan.y + plan.height || control.y + control.height <= plan.y;
  assert.ok(apart, `${name}: the plan covers the field`);
}

const wrong = async (page, field, text) => {
  const id = await field.getAttribute("id");
  await page.locator(`[id="${id}-error"]`).filter({ hasText: text }).waitFor();
  assert.equal(await field.getAttribute("aria-invalid"), "true", id);
  assert.match(await field.getAttribute("aria-describedby"), new RegExp(`${id}-error`));
  const [control, said] = [await field.boundingBox(), await page.locator(`[id="${id}-error"]`).boundingBox()];
  assert.ok(said.y >= control.y + control.height && said.y - control.y - control.height < 12, "the error stands under its field");
};

// Everything wrong is marked at once, also while a field cannot be read, stays marked after Send, and is seen in the plan.
async function wrongs(page, size) {
  const send = page.getByRole("button", { name: "Send the request" });
  const [deep, other] = [field(page, "Side 1", /^Depth/), field(page, "Side 2", /^Depth/)];
  await page.getByRole("button", { name: "Add an opening" }).click();
  const opening = (name) => page.locator(`#f-openings-0-${name}`);
  await noEmptyRows(page, `order-opening-${size}`);
  await opening("long").fill("30");
  await opening("deep").fill("18");
  await opening("from_left").fill("10");
  await planWith(page, "Sink");
  assert.equal(await page.locator("#plan .opening").count(), 1);
  await sound(page, `order-opening-${size}`);

  await deep.fill("abc");
  await other.fill("250");
  await opening("from_left").fill("90");
  await wrong(page, deep, "Write a number");
  await wrong(page, other, "250 in is outside of what we make: 8 to 36 in");
  await wrong(page, opening("from_left"), "at most 66-1/2 in");
  assert.equal(await page.locator("#plan .refused").count(), 1, "the plan shows the opening where it is");
  assert.equal(await amount(page), "No price yet");
  await sound(page, `order-errors-${size}`);

  await send.click();
  await page.waitForFunction(() => document.activeElement.id === "f-sides-0-deep"); // the first in the page's order
  await wrong(page, deep, "Write a number");
  await wrong(page, other, "outside of what we make");
  await wrong(page, opening("from_left"), "at most 66-1/2 in");
  await page.locator("#f-contact-contact-name-error").filter({ hasText: "Write your name" }).waitFor();
  await page.locator("#consent-error").filter({ hasText: "cannot answer" }).waitFor();
  await sound(page, `order-refused-${size}`);

  await deep.fill("25");
  await other.fill("24");
  await opening("from_left").fill("62");
  await page.locator("#f-openings-0-error").filter({ hasText: "at least 3 in from the corner" }).waitFor();
  assert.equal(await page.locator("#f-sides-error").textContent(), "", "the corner is not to blame");
  assert.ok((await planTexts(page)).includes("24"), "the plan is of the sides that are typed");
  await page.getByLabel("Name").fill("Robin Example");
  await page.getByLabel("E-mail").fill("robin@example.com");
  await page.getByLabel(/may keep/).check();
  assert.equal(await page.locator("#f-contact-contact-name-error").textContent(), "", "an error goes once its field is filled in");
  await send.click();
  await page.locator("#sent").filter({ hasText: "Nothing was sent yet" }).waitFor();
  assert.match(await page.locator("#f-openings-0-error").textContent(), /at least 3 in from the corner/, "marked after Send as well");
  await sound(page, `order-corner-${size}`);
  await page.getByRole("button", { name: "Remove opening 1" }).click();
  await priceOtherThan(page, "");
}

// Three tapes give the angle of a corner, and say how sure it is.
async function tapes(page, size) {
  await page.locator(".tapes summary").first().click();
  const tape = async (...lengths) => {
    for (const [i, name] of ["along_first", "along_second", "across"].entries()) await page.locator(`#tape-0-${name}`).fill(lengths[i]);
  };
  await tape("10", "10", "40");
  await page.locator("#tape-0-error").filter({ hasText: "under 20 in" }).waitFor();
  await tape("48", "36", "60 1/4");
  await page.locator("#tape-0-says").filter({ hasText: "The corner is 90.5°, give or take 0.4° when each reading is within 1/16 in." }).waitFor();
  await sound(page, `order-tape-${size}`);
  await page.getByRole("button", { name: "Use 90.5°" }).click();
  assert.equal(await page.locator("#f-corners-0-angle").inputValue(), "90.5");
  await page.locator("#f-corners-0-angle").fill("40");
  await wrong(page, page.locator("#f-corners-0-angle"), "Write an angle from 60 to 150 degrees");
  await page.locator("#f-corners-0-angle").fill("90");
  await priceOtherThan(page, "");
}

async function order(browser, origin, size) {
  const { page, close } = await open(browser, origin, "/order", size);
  const first = await priceOtherThan(page, "");
  await planWith(page, "84");
  assert.equal(await page.locator("#plan .wall").count(), 2);
  assert.equal(await page.locator("#plan .front").count(), 1);
  assert.deepEqual(await page.locator("#view text").allTextContents(), ["1", "2"], "the view from the room, with the sides by their numbers");
  await noEmptyRows(page, `order-${size}`);
  await sound(page, `order-${size}`);

  await field(page, "Side 1", /^Length/).fill("96 1/2");
  const second = await priceOtherThan(page, first);
  await planWith(page, "96-1/2");
  await inSight(page, field(page, "Side 1", /^Length/), `order-${size}`);
  await inSight(page, field(page, "Side 2", /^Depth/), `order-${size}`);
  if (size === "phone") {
    const [low] = [await page.locator("#plan").boundingBox()];
    await page.getByRole("button", { name: "Larger plan" }).click();
    await page.waitForFunction((before) => document.getElementById("plan").offsetHeight > 2 * before, low.height);
    await page.screenshot({ path: join(pictures, "order-large-phone.png") });
    await page.getByRole("button", { name: "Smaller plan" }).click();
  }
  await wrongs(page, size);
  await tapes(page, size);
  await below(page, size);

  await page.getByRole("radio", { name: "Millimetres" }).check();
  await page.waitForFunction(() => document.getElementById("f-sides-0-long").value === "2451");
  await planWith(page, "2451");
  await sound(page, `order-mm-${size}`);
  await page.getByRole("radio", { name: "Inches" }).check();
  await page.waitForFunction(() => document.getElementById("f-sides-0-long").value === "96.5");
  await page.getByRole("radio", { name: /U-shaped/ }).check();
  await page.getByRole("radio", { name: "To the left" }).check();
  await page.waitForFunction(() => document.querySelectorAll("#plan .wall").length === 3);
  await priceOtherThan(page, second);
  await sound(page, `order-u-${size}`);
  await page.getByRole("radio", { name: /L-shaped/ }).check();
  await page.waitForFunction(() => document.querySelectorAll("#plan .wall").length === 2);
  await page.waitForLoadState("networkidle"); // nothing moves any more

  await page.getByRole("button", { name: "Send the request" }).click();
  await page.locator("#sent strong").waitFor({ timeout: 5000 }).catch(async (error) => {
    throw new Error(`no reference, but: ${await page.locator("#sent").textContent()} ${await page.locator(".error:not(:empty)").allTextContents()}`, { cause: error });
  });
  assert.match(await page.locator("#sent strong").textContent(), /^form_[a-z0-9]{20,}$/);
  await sound(page, `order-sent-${size}`);
  await close();
}

// inGerman looks at the page in German: no English word is seen, a measure is read and refused with the language's comma.
async function inGerman(browser, origin, size) {
  const { page, close } = await open(browser, origin, "/order?language=de", size);
  await priceOtherThan(page, "");
  assert.equal(await page.evaluate(() => document.documentElement.lang), "de");
  const noEnglish = async () => assert.doesNotMatch(await page.locator("main").innerText(), /\b(the|and|with|that|which|are|is|of|than|when|side|corner)\b/i);
  await page.getByRole("button", { name: "Ausschnitt hinzufügen" }).click();
  await noEnglish();
  const deep = field(page, "Seite 2", /^Tiefe/);
  await deep.fill("2000,5");
  await wrong(page, deep, "2000,5 mm liegt außerhalb dessen, was wir fertigen: 204 bis 914 mm");
  await noEnglish();
  await sound(page, `order-german-${size}`);

  // Errors of every kind at once, before and after it is sent.
  const [long, opening] = [field(page, "Seite 1", /^Länge/), (name) => page.locator(`#f-openings-0-${name}`)];
  await opening("long").fill("560");
  await opening("deep").fill("440");
  await opening("from_left").fill("1900");
  await long.fill("abc");
  await long.blur();
  const marked = async () => {
    await wrong(page, long, "Schreiben Sie eine Zahl, etwa 25,5");
    await wrong(page, deep, "liegt außerhalb dessen, was wir fertigen");
    await wrong(page, opening("from_left"), "höchstens");
    assert.equal(await page.locator("#plan .refused").count(), 1);
    await noEnglish();
  };
  await marked();
  assert.equal(await amount(page), "Noch kein Preis");
  await page.getByRole("button", { name: "Anfrage senden" }).click();
  await page.locator("#sent").filter({ hasText: "Noch wurde nichts gesendet" }).waitFor();
  await marked();
  await page.locator("#f-contact-contact-name-error").filter({ hasText: "Schreiben Sie Ihren Namen" }).waitFor();
  await page.locator("#f-contact-contact-email-error").filter({ hasText: "eine E-Mail-Adresse oder eine Telefonnummer" }).waitFor();
  await page.locator("#consent-error").filter({ hasText: "Ohne dies kann die Werkstatt nicht antworten" }).waitFor();
  await sound(page, `order-german-refused-${size}`);

  await long.fill("2130");
  await deep.fill("630");
  await opening("from_left").fill("1500");
  await page.locator("#f-openings-0-error").filter({ hasText: /mindestens .* mm/ }).waitFor();
  await noEnglish();
  await sound(page, `order-german-corner-${size}`);
  await close();
}

// byKeyboard sends a request without a pointer.
async function byKeyboard(browser, origin) {
  const { page, close } = await open(browser, origin, "/order", "desktop");
  const first = await priceOtherThan(page, "");
  const to = async (id) => {
    for (let i = 0; i < 60; i++) {
      await page.keyboard.press("Tab");
      if (await page.evaluate((wanted) => document.activeElement.matches(wanted), id)) return;
    }
    assert.fail(`${id} is not reached by Tab`);
  };
  await to(".skip");
  await page.keyboard.press("Enter");
  await to("[name=f-shape]");
  await page.keyboard.press("ArrowRight");
  await page.locator("#f-sides-2-long").waitFor();
  await priceOtherThan(page, first);
  await to("#f-wood");
  await page.keyboard.press("ArrowDown");
  await to("#f-contact-contact-name");
  await page.keyboard.type("Kim Example");
  await to("#f-contact-contact-phone");
  await page.keyboard.type("+1 555 0100");
  await to("#consent");
  await page.keyboard.press("Space");
  await to("button[type=submit]");
  await page.keyboard.press("Enter");
  await page.locator("#sent strong").waitFor();
  assert.equal(await page.evaluate(() => document.activeElement.id), "sent");
  await close();
}

// Only the newest answer counts: the first one is held back until the second is there.
async function newestWins(browser, origin) {
  const { page, close } = await open(browser, origin, "/order", "desktop");
  const first = await priceOtherThan(page, "");
  let held = 0;
  await page.route("**/v1/order-form/estimates*", async (route) => {
    if (held++ === 0) await new Promise((resolve) => setTimeout(resolve, 1500));
    await route.continue().catch(() => {}); // aborted by the page
  });
  const long = field(page, "Side 1", /^Length/);
  await long.fill("100");
  await page.waitForRequest("**/v1/order-form/estimates*");
  await long.fill("60");
  await priceOtherThan(page, first);
  await page.waitForTimeout(2000);
  assert.match(await page.locator("#details").textContent(), /60 by 25/);
  await planWith(page, "60");
  assert.equal(held, 2);
  await close();
}

async function docs(browser, origin, operation, size) {
  const { page, close } = await open(browser, origin, "/docs", size);
  const block = page.locator(`[id$="-${operation}"]`);
  await block.locator(".opblock-summary-control").click();
  await block.getByRole("button", { name: /Try it out/ }).click();
  await block.getByRole("button", { name: "Execute" }).click();
  await block.locator(".live-responses-table .response-col_status", { hasText: "200" }).waitFor();
  await page.screenshot({ path: join(pictures, `docs-${size}.png`) });
  await upright(page, `docs-${size}`);
  await close();
}

// Words that are cut in two by a line's end, drawings apart.
const torn = (page) => page.evaluate(() => {
  const words = [], range = document.createRange(), texts = document.createTreeWalker(document.querySelector("main"), NodeFilter.SHOW_TEXT);
  while (texts.nextNode()) {
    const node = texts.currentNode;
    if (node.parentElement.closest("svg, style, pre, .hidden")) continue;
    for (const { 0: word, index } of node.data.matchAll(/[^\s\-–—/]+/g)) {
      range.setStart(node, index);
      range.setEnd(node, index + word.length);
      if (new Set([...range.getClientRects()].filter(({ width }) => width > 0.5).map(({ top }) => Math.round(top))).size > 1) words.push(word);
    }
  }
  return words;
});

// What slides sideways and has no shadow at its ends, or cannot be reached by the keyboard.
const slidesUnseen = (page) => page.evaluate(() => [...document.querySelectorAll(".table, .picture")]
  .filter((box) => box.scrollWidth > box.clientWidth + 1 && (!getComputedStyle(box).backgroundAttachment.includes("local") || box.tabIndex < 0))
  .map((box) => box.getAttribute("aria-label") ?? box.className));

// The front page, and a quote's documents as pages, at both sizes; pictures of the drawings that a quote has.
async function papers(browser, origin) {
  const estimate = JSON.parse(readFileSync(new URL("../../testdata/requests/l_desk.json", import.meta.url), "utf8"));
  const made = await fetch(origin + "/v1/quotes", { method: "POST", headers: { "Content-Type": "application/json" },
    body: JSON.stringify({ reference: "Harbour studio (invented)", customer: { name: "A customer (invented)" }, estimate }) });
  assert.equal(made.status, 201, await made.clone().text());
  const quote = `/v1/quotes/${(await made.json()).id}`;
  const documents = { front: "/", "shop-sheet": `${quote}/shop-sheet.html`, offer: `${quote}/offer.html` };
  for (const view of ["shop-sheet", "offer", "installation", "care"]) documents[`${view}-de`] = `${quote}/${view}.html?language=de`; // longer words
  for (const size of Object.keys(sizes)) {
    for (const [name, path] of Object.entries(documents)) {
      const { page, close } = await open(browser, origin, path, size);
      await page.locator("h1").first().waitFor();
      await page.screenshot({ path: join(pictures, `${name}-${size}.png`), fullPage: true });
      await upright(page, `${name}-${size}`);
      assert.deepEqual(await torn(page), [], `${name}-${size}: words are torn`);
      assert.deepEqual(await slidesUnseen(page), [], `${name}-${size}: slides sideways and does not show it`);
      const cut = await page.evaluate(() => [...document.querySelectorAll(".columns .picture")].filter((box) => box.scrollWidth > box.clientWidth + 1).length);
      assert.equal(cut, 0, `${name}-${size}: a picture for half a page is cut off`);
      const shown = await page.content();
      await close();
      // A document's policy lets no script run at all, not even the checker's: a copy of it is checked.
      const copy = await browser.newPage({ viewport: sizes[size] });
      await copy.setContent(shown);
      await accessible(copy, `${name}-${size}`);
      await copy.close();
    }
    const narrow = size === "phone" ? "?width=phone" : "";
    for (const name of ["plan", "seam", "season", "comparison"]) {
      const { page, close } = await open(browser, origin, `${quote}/${name}.svg${narrow}`, size);
      await page.screenshot({ path: join(pictures, `${name}-${size}.png`) });
      await close();
    }
  }
}

// What a shop writes is text wherever it shows.
async function hostile(browser, origin) {
  const script = "<script>document.title='broken'</script><img src=x onerror=alert(1)> שלום \u202eabc 🪵";
  const long = "W".repeat(190) + "🪵 end";
  const change = async (path, edit) => {
    const answer = await fetch(origin + path);
    assert.equal(answer.status, 200);
    const body = edit(await answer.json());
    const put = await fetch(origin + path, { method: "PUT", body: JSON.stringify(body),
      headers: { "Content-Type": "application/json", "If-Match": answer.headers.get("ETag") } });
    assert.equal(put.status, 200, await put.text());
  };
  await change("/v1/settings/form_intro", () => ({ value: script }));
  await change("/v1/settings/form_included", () => ({ value: long }));
  let shown;
  for (let i = 0; i < 50 && !(shown?.texts.intro.includes("<script>") && shown.texts.included === long); i++) { // served within a second
    shown = await (await fetch(origin + "/v1/order-form")).json();
    await new Promise((resolve) => setTimeout(resolve, 100));
  }
  for (const size of Object.keys(sizes)) {
    const { page, close } = await open(browser, origin, "/order", size);
    await priceOtherThan(page, "");
    assert.equal(await page.locator("#intro").textContent(), shown.texts.intro);
    assert.ok(shown.texts.intro.includes("<script>"), "the service keeps the text as it is");
    assert.ok((await page.locator("#details").textContent()).includes(long));
    assert.notEqual(await page.title(), "broken");
    await sound(page, `hostile-${size}`);
    await close();
  }
}

const browser = await chromium.launch({ executablePath: process.env.CHROMIUM || "/usr/bin/chromium", args: ["--no-sandbox"] });
try {
  console.log("screenshots:", pictures);
  await withService((flags, origin) => {
    const out = execFileSync(program, ["keys", "add", ...flags, "--name", "order page", "--publishable", "--origins", origin], { encoding: "utf8" });
    return ["--order-page-key", /seam_public_\w+/.exec(out)[0], "--form-limit", "600"];
  }, async (origin) => {
    assert.equal((await fetch(origin + "/v1/order-form")).status, 401, "keys are on");
    await docs(browser, origin, "getHealth", "desktop");
    await order(browser, origin, "desktop");
    await order(browser, origin, "phone");
    await inGerman(browser, origin, "desktop");
    await inGerman(browser, origin, "phone");
    await byKeyboard(browser, origin);
    console.log("with keys: passed");
  });
  await withService(() => [], async (origin) => {
    const { page, close } = await open(browser, origin, "/order", "phone");
    await page.getByRole("heading", { name: "This page has no key yet" }).waitFor();
    await sound(page, "order-locked-phone");
    await close();
    console.log("with keys, but none for the page: passed");
  });
  await withService(() => ["--no-auth"], async (origin) => {
    await docs(browser, origin, "getOrderForm", "desktop");
    await docs(browser, origin, "getOrderForm", "phone");
    await order(browser, origin, "desktop");
    await newestWins(browser, origin);
    await papers(browser, origin);
    await hostile(browser, origin);
    console.log("without keys: passed");
  });
} finally {
  await browser.close();
}
