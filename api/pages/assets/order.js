// An example order form. It knows nothing of the shop: fields, choices and limits are drawn from the JSON Schema that
// GET /v1/order-form returns, price and plan come from POST /v1/order-form/estimates. All text is inserted as text.
"use strict";

const $ = (id) => document.getElementById(id);
const key = document.querySelector('meta[name="order-page-key"]')?.content;
const waitFor = 350; // ms after the last key, before a price is asked for
const values = new Map(); // what was typed or chosen, by JSON pointer
const touched = new Set(); // pointers of fields that were left once
const shown = new Map(); // where errors stand, by pointer: {control, error, box}
let form; // the answer of GET /v1/order-form
let units = "in";
let openings = 0;
let asked = 0; // requests for a price so far: only the newest answer counts
let running = null; // the AbortController of the newest
let timer = 0;

// element makes an element; strings among its children become text.
function element(name, attributes = {}, ...children) {
  const node = document.createElement(name);
  for (const [attribute, value] of Object.entries(attributes)) {
    if (value !== undefined && value !== false) node.setAttribute(attribute, value === true ? "" : value);
  }
  node.append(...children);
  return node;
}

const idOf = (pointer) => "f" + pointer.replaceAll("/", "-");

async function call(method, path, body, signal) {
  const headers = { Accept: "application/json" };
  if (key) headers.Authorization = "Bearer " + key;
  if (body) headers["Content-Type"] = "application/json";
  const answer = await fetch(path, { method, headers, signal, body: body && JSON.stringify(body) });
  const data = await answer.json().catch(() => ({}));
  return { ok: answer.ok, status: answer.status, wait: Number(answer.headers.get("Retry-After")) || 0, data };
}

// refused says in plain words why a call that has no faulty field was refused.
function refused(answer) {
  switch (answer.status) {
    case 401: return "The key of this page is not known to the service, or has ended. The shop must give the page a new one.";
    case 403: return `The key of this page may not be used from ${location.origin}. The shop must make a publishable key bound to this address.`;
    case 429: return "Too many questions in a short time. This goes on by itself in a moment.";
    default: return answer.data.detail || "The service cannot answer at the moment. Try again later.";
  }
}

/* ---- what the schema says ---- */

// ordered lists an object's properties in the order in which a person should be asked.
function ordered(schema) {
  const rank = (name) => {
    const place = (schema.required || []).indexOf(name);
    return schema.properties[name]["x-order"] ?? (place < 0 ? 200 : 100 + place);
  };
  return Object.keys(schema.properties).sort((a, b) => rank(a) - rank(b) || (a < b ? -1 : 1));
}

// ruleOf is what the schema says of a property for the shape that is chosen, beside what it says always.
function ruleOf(name) {
  for (const rule of form.schema.allOf || []) {
    const conditions = Object.entries(rule.if.properties);
    if (conditions.every(([property, wanted]) => values.get("/" + property) === wanted.const)) return rule.then.properties[name] || {};
  }
  return {};
}

const sides = () => ruleOf("sides").minItems ?? 1;

function choicesOf(schema, pointer) {
  if (schema.oneOf) return schema.oneOf.map((one) => [one.const, one.title]);
  if (schema.enum) return schema.enum.map((one) => [one, one]);
  const most = /^\/openings\/\d+\/side$/.test(pointer) ? sides() : schema.maximum;
  return Array.from({ length: most - schema.minimum + 1 }, (_, i) => [String(schema.minimum + i), String(schema.minimum + i)]);
}

// start is what a field has before anything was chosen. Measures begin with an example that lies within the limits.
function start(pointer, schema) {
  if (schema.default !== undefined) return String(schema.default);
  if (pointer === "/shape") return schema.oneOf[Math.min(1, schema.oneOf.length - 1)].const;
  if (schema.oneOf || schema.enum || schema.type === "integer") return choicesOf(schema, pointer)[0]?.[0] ?? "";
  if (schema.minimum === undefined || !schema.minimum) return "";
  const step = units === "mm" ? 10 : 1;
  return String(Math.max(schema.minimum, Math.floor((schema.maximum * 0.7) / step) * step));
}

// numberOf reads a measure as people write it: 25.5, 25,5, 25 1/2 or 25-1/2. NaN: it is none.
function numberOf(text) {
  const parts = /^(\d+(?:[.,]\d+)?)?(?:(?:^|[\s-]+)(\d+)\s*\/\s*([1-9]\d*))?$/.exec(text.trim());
  if (!parts || !text.trim()) return NaN;
  const whole = Number((parts[1] || "0").replace(",", "."));
  return Math.round((whole + (parts[2] ? parts[2] / parts[3] : 0)) * 1e6) / 1e6;
}

/* ---- fields ---- */

function remember(pointer, schema) {
  if (!values.has(pointer)) values.set(pointer, start(pointer, schema));
  return values.get(pointer);
}

function hintOf(schema) {
  const { minimum, maximum } = schema;
  if (schema.type !== "number" || !minimum || maximum === undefined) return "";
  return `${minimum} to ${maximum}`;
}

// labelled puts a label before a control, and behind it a place that holds a hint or an error.
function labelled(pointer, title, control, hint = "") {
  const id = idOf(pointer);
  control.id = id;
  control.setAttribute("aria-describedby", `${id}-hint ${id}-error`);
  const error = element("p", { class: "error", id: id + "-error" });
  const box = element("div", { class: "field" }, element("label", { for: id }, title), control,
    element("div", { class: "says" }, element("p", { class: "hint", id: id + "-hint" }, hint), error));
  shown.set(pointer, { control, error });
  return box;
}

function listen(control, pointer, changed) {
  control.addEventListener("input", () => {
    values.set(pointer, control.value);
    changed?.();
    later();
  });
  control.addEventListener("blur", () => {
    touched.add(pointer);
    if (pointer.startsWith("/") && !pointer.startsWith("/contact")) mark([...own(), ...served]); // what the service said stays: nothing may jump under a finger
  });
}

function measureField(pointer, schema, required) {
  const control = element("input", { type: "text", inputmode: units === "mm" ? "decimal" : "text", maxlength: 20, "aria-required": required });
  control.value = remember(pointer, schema);
  listen(control, pointer);
  return labelled(pointer, schema.title + (required || /without it/.test(schema.title) ? "" : " (may stay empty)"), control, hintOf(schema));
}

function selectField(pointer, schema) {
  const control = element("select", {}, ...choicesOf(schema, pointer).map(([value, title]) => element("option", { value }, title)));
  control.value = remember(pointer, schema);
  if (control.selectedIndex < 0 && control.options.length) control.selectedIndex = 0;
  values.set(pointer, control.value);
  listen(control, pointer);
  return labelled(pointer, schema.title, control);
}

// radioField lets one choose among a few at a glance.
function radioField(pointer, title, choices, changed) {
  const id = idOf(pointer);
  const error = element("p", { class: "error", id: id + "-error" });
  const options = element("div", { class: "options" });
  for (const [value, name] of choices) {
    const input = element("input", { type: "radio", name: id, value });
    input.checked = values.get(pointer) === value;
    listen(input, pointer, changed);
    options.append(element("label", {}, input, element("span", {}, name)));
  }
  const box = element("fieldset", { id, tabindex: -1, "aria-describedby": id + "-error" }, element("legend", {}, title), options, error);
  shown.set(pointer, { control: box, error });
  return box;
}

function group(pointer, title, ...children) {
  const id = idOf(pointer);
  const error = element("p", { class: "error", id: id + "-error" });
  const box = element("fieldset", { id, tabindex: -1, "aria-describedby": id + "-error" }, element("legend", {}, title), error, ...children);
  shown.set(pointer, { control: box, error });
  return box;
}

function fieldsOf(pointer, schema) {
  const required = schema.required || [];
  return element("div", { class: "fields" }, ...ordered(schema).map((name) => {
    const one = schema.properties[name], at = `${pointer}/${name}`;
    return one.oneOf || one.enum || one.type === "integer" ? selectField(at, one) : measureField(at, one, required.includes(name));
  }));
}

/* ---- the form ---- */

function draw() {
  for (const at of shown.keys()) if (!at.startsWith("/contact")) shown.delete(at); // the contact fields are drawn once
  const { properties } = form.schema;
  const parts = [$("top-title")];
  let rest = null; // neighbouring choices share one frame
  for (const name of ordered(form.schema)) {
    const schema = properties[name], pointer = "/" + name;
    const plain = schema.enum || (schema.oneOf && schema.oneOf.length > 3);
    if (!plain) rest = null;
    if (name === "units") {
      values.set(pointer, units);
      parts.push(radioField(pointer, schema.title, [["in", "Inches"], ["mm", "Millimetres"]], changeUnits));
    } else if (schema.type === "array") {
      parts.push(element("div", { id: "list-" + name }));
    } else if (plain) {
      if (!rest) {
        rest = element("div", { class: "fields" });
        parts.push(element("fieldset", {}, element("legend", {}, "Wood and finish"), rest));
      }
      rest.append(selectField(pointer, schema));
    } else {
      remember(pointer, schema);
      const box = radioField(pointer, schema.title, choicesOf(schema, pointer), drawLists);
      parts.push(box);
    }
  }
  $("top").replaceChildren(...parts);
  drawLists();
}

// drawLists draws what depends on the shape: sides, corners, openings. What was typed is kept.
function drawLists() {
  for (const pointer of [...shown.keys()]) {
    if (/^\/(sides|corners|openings)/.test(pointer)) shown.delete(pointer);
  }
  for (const [name, schema] of Object.entries(form.schema.properties)) {
    if (schema.type !== "array") continue;
    const place = $("list-" + name), at = "/" + name;
    const single = { sides: "Side", corners: "Corner", openings: "Opening" }[name] || schema.title;
    const count = name === "openings" ? openings : name === "corners" ? sides() - 1 : sides();
    const items = Array.from({ length: count }, (_, i) => {
      const title = name === "corners" ? `Between side ${i + 1} and side ${i + 2}` : `${single} ${i + 1}`;
      const fields = fieldsOf(`${at}/${i}`, schema.items);
      const box = group(`${at}/${i}`, title, fields);
      if (name === "openings") box.append(button(`Remove opening ${i + 1}`, () => removeOpening(i)));
      return box;
    });
    if (name === "openings" && openings < schema.maxItems) {
      items.push(element("p", { class: "hint" }, "For a sink, a hob or the like."), button("Add an opening", addOpening, "add"));
    }
    place.replaceChildren(...(items.length ? [group(at, schema.title, ...items)] : []));
  }
  const turns = $(idOf("/turns"));
  if (turns) turns.hidden = sides() < 2;
}

function button(text, action, id) {
  const node = element("button", { type: "button", id }, text);
  node.addEventListener("click", action);
  return node;
}

function addOpening() {
  openings++;
  drawLists();
  $(idOf(`/openings/${openings - 1}`)).querySelector("select, input").focus();
  later();
}

function removeOpening(gone) {
  const names = Object.keys(form.schema.properties.openings.items.properties);
  openings--;
  for (let i = gone; i <= openings; i++) {
    for (const name of names) {
      const from = `/openings/${i + 1}/${name}`, to = `/openings/${i}/${name}`;
      if (values.has(from)) values.set(to, values.get(from));
      else values.delete(to);
      if (touched.has(from)) touched.add(to);
      else touched.delete(to);
    }
  }
  for (const name of names) {
    values.delete(`/openings/${openings}/${name}`);
    touched.delete(`/openings/${openings}/${name}`);
  }
  drawLists();
  $("add").focus();
  later();
}

async function changeUnits() {
  const wanted = values.get("/units");
  if (wanted === units) return;
  const factor = wanted === "mm" ? 25.4 : 1 / 25.4;
  const thickness = form.schema.properties.thickness.enum.indexOf(values.get("/thickness"));
  const answer = await call("GET", "/v1/order-form?units=" + wanted).catch(() => null);
  if (!answer?.ok) {
    say("", answer ? refused(answer) : "The service does not answer. Try again.");
    values.set("/units", units);
    draw();
    return;
  }
  for (const [pointer, text] of values) {
    if (!/^\/(sides|openings)\/\d+\/(?!side$|for$)/.test(pointer) || Number.isNaN(numberOf(text))) continue;
    const exact = numberOf(text) * factor;
    values.set(pointer, String(wanted === "mm" ? Math.round(exact) : Math.round(exact * 16) / 16));
  }
  form = answer.data;
  units = wanted;
  values.set("/thickness", form.schema.properties.thickness.enum[Math.max(0, thickness)] ?? "");
  draw();
  $(idOf("/units")).querySelector("input:checked").focus();
  later();
}

/* ---- what is sent, and what is wrong with it ---- */

// read makes the request of what was typed, and lists what cannot be sent.
function read() {
  const wrong = [];
  const one = (pointer, schema, required) => {
    const text = (values.get(pointer) ?? "").trim();
    if (schema.oneOf || schema.enum || schema.const) return text;
    if (!text && !required) return undefined;
    const value = numberOf(text);
    if (Number.isNaN(value)) wrong.push({ pointer, detail: text ? "Write a number, such as 25.5 or 25 1/2." : "Write a number here." });
    return value;
  };
  const body = {};
  for (const [name, schema] of Object.entries(form.schema.properties)) {
    if (schema.type !== "array") {
      if (name !== "turns" || sides() > 1) body[name] = one("/" + name, schema, true);
      continue;
    }
    const count = name === "openings" ? openings : name === "corners" ? sides() - 1 : sides();
    if (!count) continue;
    body[name] = Array.from({ length: count }, (_, i) => Object.fromEntries(Object.entries(schema.items.properties)
      .map(([field, inner]) => [field, one(`/${name}/${i}/${field}`, inner, (schema.items.required || []).includes(field))])
      .filter(([, value]) => value !== undefined)));
  }
  return { body, wrong };
}

// own is what the page itself finds wrong in fields that one has left.
function own() {
  return read().wrong.filter(({ pointer }) => touched.has(pointer));
}

// mark shows errors beside their fields, and takes the others away. It returns those that belong to no field.
function mark(errors, within = "") {
  const homeless = [];
  const texts = new Map();
  for (const { pointer = "", detail } of errors) {
    let at = pointer;
    while (at && !shown.has(at)) at = at.slice(0, at.lastIndexOf("/"));
    if (at) texts.set(at, [...(texts.get(at) || []), detail]);
    else homeless.push(detail);
  }
  for (const [pointer, { control, error }] of shown) {
    if (within === "" && pointer.startsWith("/contact")) continue;
    const text = (texts.get(pointer) || []).join(" ");
    if (error.textContent !== text) error.textContent = text;
    const hint = $(idOf(pointer) + "-hint");
    if (hint) hint.hidden = text !== "";
    if (control.matches("input, select, textarea")) {
      if (text) control.setAttribute("aria-invalid", "true");
      else control.removeAttribute("aria-invalid");
    }
  }
  return homeless;
}

/* ---- price and plan ---- */

function later() {
  clearTimeout(timer);
  running?.abort();
  timer = setTimeout(price, waitFor);
}

function say(amount, word) {
  if ($("amount").textContent !== amount) $("amount").textContent = amount;
  if ($("word").textContent !== word) $("word").textContent = word;
}

function withoutPrice(word) {
  say("No price yet", word);
  $("plan").classList.add("old");
  $("details").style.minHeight = $("details").offsetHeight + "px"; // what stands below does not jump
  $("details").replaceChildren(element("p", { class: "hint" }, "As soon as there is a price, it stands here."));
}

let served = []; // what the service last found wrong

async function price() {
  clearTimeout(timer);
  running?.abort();
  const mine = ++asked;
  const { body, wrong } = read();
  if (wrong.length) {
    mark(own());
    withoutPrice(wrong.some(({ pointer }) => touched.has(pointer)) ? "Look at the marked fields." : "Some measures are still to be filled in.");
    return;
  }
  running = new AbortController();
  let answer;
  try {
    answer = await call("POST", "/v1/order-form/estimates", body, running.signal);
  } catch (error) {
    if (mine === asked && error.name !== "AbortError") {
      withoutPrice("The service does not answer. This tries again by itself.");
      timer = setTimeout(price, 5000);
    }
    return;
  }
  if (mine !== asked) return;
  served = answer.ok ? [] : answer.data.errors || [];
  const homeless = mark(served);
  if (answer.ok) {
    showPrice(answer.data);
    return;
  }
  if (answer.status === 429) timer = setTimeout(price, 1000 * Math.max(1, answer.wait));
  if (answer.data.errors?.length) withoutPrice(homeless.join(" ") || "Look at the marked fields.");
  else withoutPrice(refused(answer));
}

function showPrice(answer) {
  const money = new Intl.NumberFormat("en", { style: "currency", currency: answer.currency });
  const { total, deposit, from, to, includes_tax: withTax } = answer.price;
  const tax = withTax ? "with tax" : "without tax";
  say(total === null ? `${money.format(from)} to ${money.format(to)}` : money.format(total),
    answer.working_days === null ? `${tax}; we name the day once the wood has rested` : `${tax}; made in about ${answer.working_days} working days`);
  $("plan").classList.remove("old");
  drawPlan(answer);
  const list = (title, texts) => texts.length ? [element("h3", {}, title), element("ul", {}, ...texts.map((text) => element("li", {}, text)))] : [];
  const day = new Intl.DateTimeFormat("en", { dateStyle: "long", timeZone: "UTC" }).format(new Date(answer.valid_until));
  $("details").style.minHeight = "";
  $("details").replaceChildren(
    element("p", {}, answer.summary),
    element("p", {}, `The price is good until ${day}.` + (deposit === null ? "" : ` Deposit with the order: ${money.format(deposit)}.`)),
    ...list("Included", answer.includes),
    ...list(answer.corners.length > 1 ? "The corners" : "The corner", [...new Set(answer.corners)]),
    ...list("Through the year", [answer.seasons]),
    ...list("Before it is made", [answer.site_visit]),
    ...list("Please note", answer.cautions));
}

// drawPlan draws the top as one sees it who faces the first side's wall: turned by half against the plan's axes.
function drawPlan({ plan, summary }) {
  const turned = (points) => points.map(([x, y]) => [-x, y]);
  const outline = turned(plan.outline), pieces = plan.pieces.map(turned);
  const all = [outline, ...pieces].flat();
  const xs = all.map(([x]) => x), ys = all.map(([, y]) => y);
  const left = Math.min(...xs), up = Math.min(...ys), wide = Math.max(...xs) - left || 1, high = Math.max(...ys) - up || 1;
  const space = Math.max(wide, high) * 0.06;
  const drawn = (name, attributes, ...children) => {
    const node = document.createElementNS("http://www.w3.org/2000/svg", name);
    for (const [attribute, value] of Object.entries(attributes)) node.setAttribute(attribute, value);
    node.append(...children);
    return node;
  };
  const path = (points) => points.map(([x, y]) => `${x - left},${y - up}`).join(" ");
  const svg = drawn("svg", { viewBox: `${-space} ${-space} ${wide + 2 * space} ${high + 2 * space}`, role: "img", "aria-label": `Plan, seen from above. ${summary}` });
  pieces.forEach((points) => svg.append(drawn("polygon", { class: "piece", points: path(points) })));
  svg.append(drawn("polygon", { class: "outline", points: path(outline) }));
  pieces.forEach((points, i) => {
    const [x, y] = middle(points);
    svg.append(drawn("text", { x: x - left, y: y - up, "font-size": Math.max(wide, high * 1.3) * 0.055, "aria-hidden": "true" }, String(i + 1)));
  });
  $("plan").replaceChildren(svg);
}

// middle is the centroid of a polygon.
function middle(points) {
  let area = 0, x = 0, y = 0;
  points.forEach(([x0, y0], i) => {
    const [x1, y1] = points[(i + 1) % points.length], cross = x0 * y1 - x1 * y0;
    area += cross;
    x += (x0 + x1) * cross;
    y += (y0 + y1) * cross;
  });
  return area ? [x / (3 * area), y / (3 * area)] : points[0];
}

/* ---- the request for an offer ---- */

const contact = [
  ["name", "Name", { type: "text", autocomplete: "name", maxlength: 100, "aria-required": true }],
  ["email", "E-mail address", { type: "email", autocomplete: "email", maxlength: 200 }],
  ["phone", "Telephone", { type: "tel", autocomplete: "tel", maxlength: 30 }],
];

function drawContact() {
  const fields = element("div", { class: "fields" });
  for (const [name, title, attributes] of contact) fields.append(labelled("/contact/contact/" + name, title, element("input", attributes)));
  const message = labelled("/contact/message", "Message (may stay empty)", element("textarea", { maxlength: 2000, rows: 4 }));
  const consent = element("input", { type: "checkbox", id: "consent", "aria-required": true, "aria-describedby": "consent-error" });
  const error = element("p", { class: "error", id: "consent-error" });
  shown.set("/contact/consent", { control: consent, error });
  const trap = element("input", { type: "text", id: "leave_empty", tabindex: -1, autocomplete: "off" });
  $("contact").replaceChildren(fields, message,
    element("div", { class: "agree" }, consent, element("label", { for: "consent" }, "The shop may keep these data to answer me.")), error,
    element("div", { class: "trap", "aria-hidden": "true" }, element("label", { for: "leave_empty" }, "Leave this empty"), trap));
}

const typed = (pointer) => shown.get("/contact" + pointer).control.value.trim();

// wrongContact lists what is missing, before anything is sent.
function wrongContact() {
  const wrong = [];
  if (!typed("/contact/name")) wrong.push({ pointer: "/contact/contact/name", detail: "Write your name." });
  if (!typed("/contact/email") && !typed("/contact/phone")) {
    wrong.push({ pointer: "/contact/contact/email", detail: "Write an e-mail address or a telephone number." });
  }
  if (!$("consent").checked) wrong.push({ pointer: "/contact/consent", detail: "Without this the shop cannot answer." });
  return wrong;
}

// firstWrong takes the reader to the first field with an error, in the order of the page.
function firstWrong() {
  const field = [...shown.values()].filter(({ error }) => error.textContent)
    .sort((a, b) => (a.error.compareDocumentPosition(b.error) & Node.DOCUMENT_POSITION_FOLLOWING ? -1 : 1))[0];
  if (!field) return false;
  field.control.focus();
  field.control.scrollIntoView({ block: "center" });
  return true;
}

async function submit(event) {
  event.preventDefault();
  const send = event.target.querySelector('button[type="submit"]');
  if (send.disabled) return;
  const { body, wrong } = read();
  wrong.forEach(({ pointer }) => touched.add(pointer));
  const missing = [...wrong, ...wrongContact()];
  if (missing.length) {
    refuse(missing);
    return;
  }
  const order = { top: body, contact: { name: typed("/contact/name") }, message: typed("/message"), consent: true };
  for (const name of ["email", "phone"]) {
    if (typed("/contact/" + name)) order.contact[name] = typed("/contact/" + name);
  }
  if ($("leave_empty").value) order.leave_empty = $("leave_empty").value;
  send.disabled = true;
  $("sent").textContent = "Sending …";
  const answer = await call("POST", "/v1/order-form/requests", order).catch(() => null);
  send.disabled = false;
  if (answer?.ok) {
    mark([], "all");
    $("sent").replaceChildren(element("span", {}, "Your request has arrived. Its reference: "), element("strong", {}, answer.data.reference), element("span", {}, ". " + answer.data.next));
    $("sent").tabIndex = -1;
    $("sent").focus();
    return;
  }
  const errors = (answer?.data.errors || []).map(({ pointer = "", detail }) =>
    ({ pointer: pointer.startsWith("/top") ? pointer.slice(4) : "/contact" + pointer, detail }));
  if (errors.length) refuse(errors);
  else $("sent").textContent = !answer ? "The service does not answer. Try again in a moment." : answer.status === 429 ? answer.data.detail : refused(answer);
}

function refuse(errors) {
  const homeless = mark(errors, "all");
  $("sent").textContent = homeless.join(" ") || "Nothing was sent yet: look at the marked fields.";
  firstWrong();
}

async function begin() {
  const answer = await call("GET", "/v1/order-form?units=" + units).catch(() => null);
  if (!answer?.ok) {
    $("intro").textContent = answer ? refused(answer) : "The service does not answer. Load the page again in a moment.";
    if (answer?.status === 429 || answer?.status === 503) setTimeout(begin, 1000 * Math.max(2, answer.wait));
    return;
  }
  form = answer.data;
  $("intro").textContent = form.texts.intro;
  $("top").addEventListener("submit", (event) => { event.preventDefault(); price(); });
  $("ask").addEventListener("submit", submit);
  draw();
  drawContact();
  $("shop").hidden = false;
  price();
}

begin();
