// An example order form. It knows nothing of the shop: fields, choices and limits are drawn from the JSON Schema that
// GET /v1/order-form returns, price and plan come from POST /v1/order-form/estimates. All text is inserted as text.
import { draw as drawPlan, typedOpening } from "/assets/order-plan.js";
import { tapes } from "/assets/order-tape.js";
import { element, language, numberOf, say, written } from "/assets/order-parts.js";

const $ = (id) => document.getElementById(id);
const key = document.querySelector('meta[name="order-page-key"]')?.content;
const waitFor = 350; // ms after the last key, before a price is asked for
const values = new Map(); // what was typed or chosen, by JSON pointer
const good = new Map(); // the last number of a field that can be sent, by pointer: with it the others are checked while this one is wrong
const touched = new Set(); // pointers of fields that were left once
const shown = new Map(); // where errors stand, by pointer: {control, error, box}
let form; // the answer of GET /v1/order-form
let units = language === "en" ? "in" : "mm"; // what readers of the language measure in
const told = { openings: 0, base: 0 }; // how many there are in the lists that one may leave empty
let asked = 0; // requests for a price so far: only the newest answer counts
let running = null; // the AbortController of the newest
let timer = 0;

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
    case 401: return say("The key of this page is not known to the service, or has ended. The shop must give the page a new one.");
    case 403: return say("The key of this page may not be used from {origin}. The shop must make a publishable key bound to this address.", { origin: location.origin });
    case 429: return say("Too many questions in a short time. This goes on by itself in a moment.");
    case 500: return say("The service cannot answer at the moment. Try again later.");
    default: return answer.data.detail || say("The service cannot answer at the moment. Try again later.");
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
  if (schema.enum) return schema.enum.map((one) => [one, one.includes(".") ? written(one) : one]);
  const most = /^\/(openings|base)\/\d+\/side$/.test(pointer) ? sides() : schema.maximum;
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

/* ---- fields ---- */

function remember(pointer, schema) {
  if (!values.has(pointer)) values.set(pointer, start(pointer, schema));
  return values.get(pointer);
}

function hintOf(schema) {
  if (schema.description) return schema.description;
  const { minimum, maximum } = schema;
  if (schema.type !== "number" || !minimum || maximum === undefined) return "";
  return say("{least} to {most}", { least: written(minimum), most: written(maximum) });
}

// labelled puts a label before a control, and behind it what hints at it or says what is wrong. Both take no room while empty.
function labelled(pointer, title, control, hint = "") {
  const id = idOf(pointer);
  control.id = id;
  control.setAttribute("aria-describedby", `${id}-hint ${id}-error`);
  const error = element("p", { class: "error", id: id + "-error" });
  const wide = [...(control.options ?? [])].some((option) => option.textContent.length > 24); // it would be cut off in a column
  const box = element("div", { class: wide ? "field wide" : "field" }, element("label", { for: id }, title), control,
    element("div", { class: "says" }, element("p", { class: "hint", id: id + "-hint" }, hint), error));
  shown.set(pointer, { control, error });
  return box;
}

// settled does something once no finger or button is down: marks move what stands below them, and a press must end where it began.
let down = false;
let waiting = [];
function settled(action) {
  if (down) waiting.push(action);
  else action();
}
document.addEventListener("pointerdown", () => { down = true; }, true);
for (const end of ["pointerup", "pointercancel"]) {
  document.addEventListener(end, () => setTimeout(() => {
    down = false;
    const now = waiting;
    waiting = [];
    now.forEach((action) => action());
  }), true);
}

function listen(control, pointer, changed) {
  control.addEventListener("input", () => {
    values.set(pointer, control.value);
    changed?.();
    later();
  });
  control.addEventListener("blur", () => {
    touched.add(pointer);
    if (!pointer.startsWith("/contact")) settled(() => mark([...own(), ...served]));
  });
}

function measureField(pointer, schema, required) {
  const control = element("input", { type: "text", inputmode: units === "mm" ? "decimal" : "text", maxlength: 20, "aria-required": required });
  control.value = remember(pointer, schema);
  listen(control, pointer);
  return labelled(pointer, schema.title + (required || schema.description ? "" : say(" (may stay empty)")), control, hintOf(schema));
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
      parts.push(radioField(pointer, schema.title, [["in", say("Inches")], ["mm", say("Millimetres")]], changeUnits));
    } else if (schema.type === "array") {
      parts.push(element("div", { id: "list-" + name }));
    } else if (plain) {
      if (!rest) {
        rest = element("div", { class: "fields" });
        parts.push(element("fieldset", {}, element("legend", {}, say("Wood and finish")), rest));
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

// drawLists draws what depends on the shape: sides, corners, openings, what stands below. What was typed is kept.
function drawLists() {
  for (const pointer of [...shown.keys()]) {
    if (/^\/(sides|corners|openings|base)/.test(pointer)) shown.delete(pointer);
  }
  for (const [name, schema] of Object.entries(form.schema.properties)) {
    if (schema.type !== "array") continue;
    const place = $("list-" + name), at = "/" + name;
    const single = { sides: say("Side"), corners: say("Corner"), openings: say("Opening"), base: say("Stretch") }[name] || schema.title;
    const count = told[name] ?? (name === "corners" ? sides() - 1 : sides());
    const items = Array.from({ length: count }, (_, i) => {
      const title = name === "corners" ? say("Between side {n} and side {next}", { n: i + 1, next: i + 2 }) : `${single} ${i + 1}`;
      const fields = fieldsOf(`${at}/${i}`, schema.items);
      const box = group(`${at}/${i}`, title, fields);
      if (name === "corners") box.append(tapes(units, i, call, (angle) => setCorner(`${at}/${i}/angle`, angle)));
      if (extra[name]) box.append(button(extra[name].remove(i + 1), () => remove(name, i)));
      return box;
    });
    if (told[name] < schema.maxItems) {
      items.push(element("p", { class: "hint" }, extra[name].hint), button(extra[name].add, () => add(name), "add-" + name));
    }
    place.replaceChildren(...(items.length ? [group(at, schema.title, ...items)] : []));
  }
  const turns = $(idOf("/turns"));
  if (turns) turns.hidden = sides() < 2;
}

// setCorner takes an angle that was worked out.
function setCorner(pointer, angle) {
  const { control } = shown.get(pointer);
  control.value = written(angle);
  values.set(pointer, control.value);
  touched.add(pointer);
  control.focus();
  later();
}

function button(text, action, id) {
  const node = element("button", { type: "button", id }, text);
  node.addEventListener("click", action);
  return node;
}

// extra is what the page says at the lists that one may leave empty.
const extra = {
  openings: { hint: say("For a sink, a hob or the like."), add: say("Add an opening"), remove: (n) => say("Remove opening {n}", { n }) },
  base: {
    hint: say("Cabinets, what is open, a dishwasher or an oven, as far as you know it. What you do not name counts as open, such as an end that stands free; what the top then lacks comes with it."),
    add: say("Add what stands below"), remove: (n) => say("Remove stretch {n}", { n }),
  },
};

function add(list) {
  const i = told[list]++;
  drawLists();
  $(idOf(`/${list}/${i}`)).querySelector("select, input").focus();
  later();
}

function remove(list, gone) {
  const names = Object.keys(form.schema.properties[list].items.properties);
  const last = --told[list];
  for (let i = gone; i <= last; i++) {
    for (const name of names) {
      const from = `/${list}/${i + 1}/${name}`, to = `/${list}/${i}/${name}`;
      if (values.has(from)) values.set(to, values.get(from));
      else values.delete(to);
      if (touched.has(from)) touched.add(to);
      else touched.delete(to);
      good.set(to, good.get(from));
    }
  }
  for (const name of names) {
    values.delete(`/${list}/${last}/${name}`);
    touched.delete(`/${list}/${last}/${name}`);
    good.delete(`/${list}/${last}/${name}`);
  }
  served = served.filter(({ pointer = "" }) => !pointer.startsWith("/" + list)); // the next answer says what is left of it
  drawLists();
  $("add-" + list).focus();
  later();
}

async function changeUnits() {
  const wanted = values.get("/units");
  if (wanted === units) return;
  const factor = wanted === "mm" ? 25.4 : 1 / 25.4;
  const thickness = form.schema.properties.thickness.enum.indexOf(values.get("/thickness"));
  const answer = await call("GET", `/v1/order-form?units=${wanted}&language=${language}`).catch(() => null);
  if (!answer?.ok) {
    showAmount("", answer ? refused(answer) : say("The service does not answer. Try again."));
    values.set("/units", units);
    draw();
    return;
  }
  for (const [pointer, text] of values) {
    if (!/^\/(sides|openings|base)\/\d+\/(?!side$|for$|kind$)/.test(pointer) || Number.isNaN(numberOf(text))) continue;
    const exact = numberOf(text) * factor;
    values.set(pointer, String(wanted === "mm" ? Math.round(exact) : Math.round(exact * 16) / 16));
  }
  for (const pointer of good.keys()) if (/^\/(sides|openings|base)/.test(pointer)) good.delete(pointer);
  served = [];
  form = answer.data;
  units = wanted;
  values.set("/thickness", form.schema.properties.thickness.enum[Math.max(0, thickness)] ?? "");
  draw();
  $(idOf("/units")).querySelector("input:checked").focus();
  later();
}

/* ---- what is sent, and what is wrong with it ---- */

// limited says what is wrong with a number by the schema's limits; nothing when it can be sent.
function limited(schema, value, pointer) {
  const { minimum, maximum, exclusiveMinimum } = schema, angle = pointer.endsWith("/angle");
  const said = { value: written(value), unit: say(units), least: written(minimum ?? exclusiveMinimum), most: written(maximum) };
  if (angle && !(value >= minimum && value <= maximum)) return say("Write an angle from {least} to {most} degrees.", said);
  if (exclusiveMinimum !== undefined && !(value > exclusiveMinimum)) return say("Write a number above {least}.", said);
  if (minimum && !(value >= minimum && value <= maximum)) {
    return say("{value} {unit} is outside of what we make: {least} to {most} {unit}. Ask us about other sizes.", said);
  }
  return value >= (minimum ?? 0) && value <= maximum ? "" : say("Write a number up to {most}.", said);
}

// read makes the request of what was typed, and lists what cannot be sent. body has in place of such a field the last number in it that
// could be, so that the service can check the rest; it is null when there never was one. An opening or a stretch below that is not filled
// in yet is left out: places says which of the form each of the body's is.
function read() {
  const wrong = [], places = { openings: [], base: [] };
  let whole = true;
  const one = (pointer, schema, required) => {
    const text = (values.get(pointer) ?? "").trim();
    if (schema.oneOf || schema.enum || schema.const) return text;
    if (schema.type === "integer") return Number(text);
    if (!text && !required) {
      good.delete(pointer);
      return undefined;
    }
    const value = numberOf(text);
    const detail = Number.isNaN(value) ? (text ? say("Write a number, such as 25.5 or 25 1/2.") : say("Write a number here.")) : limited(schema, value, pointer);
    if (!detail) {
      good.set(pointer, value);
      return value;
    }
    wrong.push({ pointer, detail, typing: Number.isNaN(value) });
    return good.get(pointer) ?? null;
  };
  const body = {};
  for (const [name, schema] of Object.entries(form.schema.properties)) {
    if (schema.type !== "array") {
      if (name !== "turns" || sides() > 1) body[name] = one("/" + name, schema, true);
      continue;
    }
    const count = told[name] ?? (name === "corners" ? sides() - 1 : sides());
    const items = [];
    for (let i = 0; i < count; i++) {
      const item = Object.fromEntries(Object.entries(schema.items.properties)
        .map(([field, inner]) => [field, one(`/${name}/${i}/${field}`, inner, (schema.items.required || []).includes(field))])
        .filter(([, value]) => value !== undefined));
      const complete = !Object.values(item).includes(null);
      if (name in places) {
        if (!complete) continue;
        places[name].push(i);
      } else if (!complete) whole = false;
      items.push(item);
    }
    if (items.length) body[name] = items;
  }
  return { body: whole ? body : null, wrong, places };
}

// own is what the page itself finds wrong: in fields that one has left, and numbers outside of the limits.
function own() {
  return read().wrong.filter(({ pointer, typing }) => !typing || touched.has(pointer));
}

// placed puts what the service says of the body's openings and stretches below at those of the form.
const placed = (errors, places) => errors.map((error) => ({
  ...error, pointer: (error.pointer || "").replace(/^\/(openings|base)\/(\d+)/, (_, list, i) => `/${list}/${places[list][i]}`),
}));

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
  if (!$("sent").querySelector("strong")) $("sent").textContent = ""; // what was refused is being mended
  clearTimeout(timer);
  running?.abort();
  timer = setTimeout(price, waitFor);
}

function showAmount(amount, word) {
  if ($("amount").textContent !== amount) $("amount").textContent = amount;
  if ($("word").textContent !== word) $("word").textContent = word;
}

function withoutPrice(word) {
  withoutOthers();
  showAmount(say("No price yet"), word);
  $("details").replaceChildren(element("p", { class: "hint" }, say("As soon as there is a price, it stands here.")));
}

let served = []; // what the service last found wrong
let plan = null; // as the service last laid it out
let planOf = ""; // what was asked for then, openings and what stands below aside
let planUnits = units;
let summary = "";

async function price() {
  clearTimeout(timer);
  running?.abort();
  const mine = ++asked;
  const { body, wrong, places } = read();
  const missing = wrong.some(({ pointer, typing }) => !typing || touched.has(pointer)) ? say("Look at the marked fields.") : say("Some measures are still to be filled in.");
  if (!body) {
    settled(() => mark([...own(), ...served]));
    withoutPrice(missing);
    return;
  }
  running = new AbortController();
  let answer;
  try {
    answer = await call("POST", "/v1/order-form/estimates?language=" + language, body, running.signal);
  } catch (error) {
    if (mine === asked && error.name !== "AbortError") {
      withoutPrice(say("The service does not answer. This tries again by itself."));
      timer = setTimeout(price, 5000);
    }
    return;
  }
  if (mine !== asked) return;
  if (answer.ok || answer.data.errors) served = answer.ok ? [] : placed(answer.data.errors, places);
  settled(() => mark([...own(), ...served]));
  if (answer.ok) {
    laidOut(answer.data, body);
    if (wrong.length) withoutPrice(missing);
    else showPrice(answer.data);
    showPlan(wrong.length > 0);
    if (wrong.length === 0) await compare(mine, body);
    return;
  }
  if (answer.status === 429) timer = setTimeout(price, 1000 * Math.max(1, answer.wait));
  if (answer.data.errors?.length) withoutPrice(served.filter(({ pointer }) => !pointer).map(({ detail }) => detail).join(" ") || say("Look at the marked fields."));
  else withoutPrice(refused(answer));
  if (served.length && served.every(({ pointer }) => /^\/(openings|base)/.test(pointer))) await layOutWithout(mine, body, places);
  if (mine === asked) showPlan(wrong.length > 0 || planOf !== onlySides(body));
}

const onlySides = (body) => JSON.stringify({ ...body, openings: undefined, base: undefined });

function laidOut(answer, body) {
  plan = answer.plan;
  planOf = onlySides(body);
  planUnits = answer.units;
  summary = answer.summary;
  showView(answer.view);
}

// showView shows the top as one sees it from the room: a drawing that the service made.
function showView(svg) {
  const picture = svg && new DOMParser().parseFromString(svg, "image/svg+xml").documentElement;
  $("view").hidden = !(picture instanceof SVGSVGElement);
  $("view").replaceChildren(...($("view").hidden ? [] : [picture]));
}

// layOutWithout asks for the plan of what is typed without what was refused of openings and below, so that one sees where it is wrong.
async function layOutWithout(mine, body, places) {
  if (planOf === onlySides(body)) return;
  const kept = (list) => {
    const left = (body[list] || []).filter((_, i) => !served.some(({ pointer }) => pointer === "/" + list || (pointer + "/").startsWith(`/${list}/${places[list][i]}/`)));
    return left.length ? left : undefined;
  };
  const answer = await call("POST", "/v1/order-form/estimates?language=" + language, { ...body, openings: kept("openings"), base: kept("base") }, running.signal).catch(() => null);
  if (mine === asked && answer?.ok) laidOut(answer.data, body);
}

// showPlan draws the newest plan, grey when it is not of what is typed. Once an opening or a stretch below was refused, all of its kind
// are drawn where the form has them.
function showPlan(old) {
  if (!plan) return;
  for (const id of ["plan", "view"]) $(id).classList.toggle("old", old);
  const drawnOf = (list, property, measures) => {
    const choices = form.schema.properties[list].items.properties[property].oneOf;
    const nameOf = (word) => (choices.find((choice) => choice.const === word)?.title ?? word).replace(/ \(.*/, "");
    const bad = new Set(served.map(({ pointer = "" }) => RegExp(`^/${list}/(\\d+)`).exec(pointer)?.[1]).filter(Boolean).map(Number));
    const named = (one, word) => ({ ...one, kind: word, name: nameOf(word) });
    if (!bad.size || planUnits !== units) return plan[list].map(({ outline, side, ...one }) => named({ outline, side, fits: true }, one[property]));
    return Array.from({ length: told[list] }, (_, i) => named({ ...typedStretch(list, i, measures), fits: !bad.has(i) }, values.get(`/${list}/${i}/${property}`)))
      .filter(({ outline }) => outline);
  };
  const holes = drawnOf("openings", "for", ({ long, deep, from_left, from_front }) => ({ long, deep, fromLeft: from_left, fromFront: from_front }));
  const below = drawnOf("base", "kind", ({ from, to }, deep) => ({ long: to - from, deep, fromLeft: from, fromFront: 0 }));
  const measures = plan.sides.map(({ long, deep }, i) => say("Side {n}: {long} long, {deep} deep.", { n: i + 1, long, deep })).join(" ");
  const said = [
    ...holes.map(({ name, side, fits }) => (fits ? say("{name} in side {side}.", { name, side }) : say("{name} in side {side}, which does not fit.", { name, side }))),
    ...below.map(({ name, side, fits }) => (fits ? say("Below side {side}: {name}.", { name, side }) : say("Below side {side}: {name}, which does not fit.", { name, side }))),
  ].join(" ");
  drawPlan($("plan"), { ...plan, openings: holes, base: below }, `${say("Plan, seen from above, lengths in {unit}.", { unit: say(planUnits) })} ${summary} ${measures} ${said}`);
  $("key-units").textContent = (planUnits === "in" ? say("· lengths in inches") : say("· lengths in millimetres")) + (below.length ? say(" · thin lines: what stands below") : "")
    + ([...holes, ...below].every(({ fits }) => fits) ? "" : say(" · dashed: does not fit"));
}

// typedStretch is an opening or a stretch below as the form has it; without an outline while it is not filled in.
function typedStretch(list, i, measuresOf) {
  const typed = Object.fromEntries(Object.keys(form.schema.properties[list].items.properties).map((name) => [name, good.get(`/${list}/${i}/${name}`)]));
  const side = Number(values.get(`/${list}/${i}/side`)), deep = good.get(`/sides/${side - 1}/deep`), { fromFront, ...measures } = measuresOf(typed, deep);
  const known = [deep, ...Object.values(measures)].every((number) => Number.isFinite(number));
  return { side, outline: known && typedOpening(plan, { side, fromFront, ...measures }, deep) };
}

// cornersOf are the reasons for the corners, each with its corner's name unless they are one and the same.
function cornersOf(texts) {
  if (new Set(texts).size < 2) return texts.slice(0, 1);
  return texts.map((text, i) => say("Corner {n}, sides {n} and {next}: {text}", { n: i + 1, next: i + 2, text }));
}

function showPrice(answer) {
  const money = new Intl.NumberFormat(language, { style: "currency", currency: answer.currency });
  const { total, deposit, from, to, includes_tax: withTax } = answer.price;
  const tax = withTax ? say("with tax") : say("without tax");
  showAmount(total === null ? say("{least} to {most}", { least: money.format(from), most: money.format(to) }) : money.format(total),
    answer.working_days === null ? say("{tax}; we name the day once the wood has rested", { tax }) : say("{tax}; made in about {days} working days", { tax, days: answer.working_days }));
  const list = (title, texts) => texts.length ? [element("h3", {}, title), element("ul", {}, ...texts.map((text) => element("li", {}, text)))] : [];
  const day = new Intl.DateTimeFormat(language, { dateStyle: "long", timeZone: "UTC" }).format(new Date(answer.valid_until));
  $("details").replaceChildren(
    element("p", {}, answer.summary),
    element("p", {}, say("The price is good until {day}.", { day }) + (deposit === null ? "" : say(" Deposit with the order: {amount}.", { amount: money.format(deposit) }))),
    ...list(say("Included"), answer.includes),
    ...list(answer.corners.length > 1 ? say("The corners") : say("The corner"), cornersOf(answer.corners)),
    ...list(say("Through the year"), [answer.seasons]),
    ...list(say("Before it is made"), [answer.site_visit]),
    ...list(say("Please note"), answer.cautions));
}

/* ---- the same top in other ways ---- */

let compared = ""; // what the choices that are shown were asked for

function withoutOthers() {
  compared = "";
  $("others").hidden = true;
  $("others").replaceChildren();
}

// compare shows the same top in the shop's other woods or thicknesses; one press takes another one.
async function compare(mine, body) {
  if (form.compares === "none" || compared === JSON.stringify(body)) return;
  const answer = await call("POST", "/v1/order-form/comparisons?language=" + language, body, running.signal).catch(() => null);
  if (mine !== asked) return;
  if (!answer?.ok || answer.data.choices.length < 2) {
    withoutOthers();
    return;
  }
  compared = JSON.stringify(body);
  const { of, currency, choices } = answer.data;
  const money = new Intl.NumberFormat(language, { style: "currency", currency });
  const row = ({ value, title, yours, price, moves }) => {
    const amount = price.total === null ? say("{least} to {most}", { least: money.format(price.from), most: money.format(price.to) }) : money.format(price.total);
    const take = yours ? element("span", { class: "hint" }, say("your choice")) : button(say("Take it"), () => takeOther(of, value));
    if (!yours) take.setAttribute("aria-label", say("Take {title}", { title }));
    return element("li", yours ? { class: "yours" } : {}, element("strong", {}, title), element("span", { class: "sum" }, amount),
      element("span", { class: "hint" }, say("moves up to {moves} a year", { moves })), take);
  };
  const title = element("h3", { id: "others-title" }, of === "wood" ? say("The same top in other woods") : say("The same top in other thicknesses"));
  $("others").replaceChildren(title, element("ul", { "aria-labelledby": "others-title" }, ...choices.map(row)));
  $("others").hidden = false;
}

// takeOther chooses another wood or thickness in the form, and prices it.
function takeOther(of, value) {
  const { control } = shown.get("/" + of);
  const field = control.matches("select") ? control : control.querySelector(`input[value="${CSS.escape(value)}"]`);
  if (control.matches("select")) field.value = value;
  else field.checked = true;
  field.dispatchEvent(new Event("input", { bubbles: true }));
  $("result-title").tabIndex = -1;
  $("result-title").focus();
}

/* ---- the request for an offer ---- */

const contact = [
  ["name", say("Name"), { type: "text", autocomplete: "name", maxlength: 100, "aria-required": true }],
  ["email", say("E-mail address"), { type: "email", autocomplete: "email", maxlength: 200 }],
  ["phone", say("Telephone"), { type: "tel", autocomplete: "tel", maxlength: 30 }],
];

function drawContact() {
  const fields = element("div", { class: "fields" });
  for (const [name, title, attributes] of contact) fields.append(labelled("/contact/contact/" + name, title, element("input", attributes)));
  fields.addEventListener("input", mended);
  const message = labelled("/contact/message", say("Message (may stay empty)"), element("textarea", { maxlength: 2000, rows: 4 }));
  const consent = element("input", { type: "checkbox", id: "consent", "aria-required": true, "aria-describedby": "consent-error" });
  const error = element("p", { class: "error", id: "consent-error" });
  shown.set("/contact/consent", { control: consent, error });
  consent.addEventListener("input", mended);
  const trap = element("input", { type: "text", id: "leave_empty", tabindex: -1, autocomplete: "off" });
  $("contact").replaceChildren(fields, message,
    element("div", { class: "agree" }, consent, element("label", { for: "consent" }, say("The shop may keep these data to answer me."))), error,
    element("div", { class: "trap", "aria-hidden": "true" }, element("label", { for: "leave_empty" }, say("Leave this empty")), trap));
}

// mended takes an error away as soon as its field is filled in.
function mended({ target }) {
  const still = new Set(wrongContact().map(({ pointer }) => pointer));
  for (const [pointer, { control, error }] of shown) {
    const reached = target.type === "tel" && pointer.endsWith("/email"); // either will do
    if (!pointer.startsWith("/contact") || !(control === target || reached) || still.has(pointer)) continue;
    error.textContent = "";
    control.removeAttribute("aria-invalid");
  }
}

const typed = (pointer) => shown.get("/contact" + pointer).control.value.trim();

// wrongContact lists what is missing, before anything is sent.
function wrongContact() {
  const wrong = [];
  if (!typed("/contact/name")) wrong.push({ pointer: "/contact/contact/name", detail: say("Write your name.") });
  if (!typed("/contact/email") && !typed("/contact/phone")) {
    wrong.push({ pointer: "/contact/contact/email", detail: say("Write an e-mail address or a telephone number.") });
  }
  if (!$("consent").checked) wrong.push({ pointer: "/contact/consent", detail: say("Without this the shop cannot answer.") });
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
  $("sent").textContent = "";
  await price(); // of what is typed now: what the service finds wrong is marked with the rest
  const { body, wrong } = read();
  wrong.forEach(({ pointer }) => touched.add(pointer));
  const missing = [...wrong, ...served, ...wrongContact()];
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
  $("sent").textContent = say("Sending …");
  const answer = await call("POST", "/v1/order-form/requests?language=" + language, order).catch(() => null);
  send.disabled = false;
  if (answer?.ok) {
    mark([], "all");
    $("sent").replaceChildren(element("span", {}, say("Your request has arrived. Its reference: ")), element("strong", {}, answer.data.reference), element("span", {}, ". " + answer.data.next));
    $("sent").tabIndex = -1;
    $("sent").focus();
    return;
  }
  const errors = (answer?.data.errors || []).map(({ pointer = "", detail }) =>
    ({ pointer: pointer.startsWith("/top") ? pointer.slice(4) : "/contact" + pointer, detail }));
  served = errors.filter(({ pointer }) => !pointer.startsWith("/contact"));
  if (errors.length) refuse(errors);
  else $("sent").textContent = !answer ? say("The service does not answer. Try again in a moment.") : answer.status === 429 && answer.wait > 600 ? say("No more requests are taken today from here. Call the shop, or ask again tomorrow.") : refused(answer);
}

function refuse(errors) {
  const homeless = mark(errors, "all");
  $("sent").textContent = homeless.join(" ") || say("Nothing was sent yet: look at the marked fields.");
  firstWrong();
}

async function begin() {
  const answer = await call("GET", `/v1/order-form?units=${units}&language=${language}`).catch(() => null);
  if (!answer?.ok) {
    $("intro").textContent = answer ? refused(answer) : say("The service does not answer. Load the page again in a moment.");
    if (answer?.status === 429 || answer?.status === 503) setTimeout(begin, 1000 * Math.max(2, answer.wait));
    return;
  }
  form = answer.data;
  $("intro").textContent = form.texts.intro;
  $("top").addEventListener("submit", (event) => { event.preventDefault(); price(); });
  $("ask").addEventListener("submit", submit);
  $("larger").addEventListener("click", () => {
    const large = $("result").classList.toggle("large");
    $("larger").setAttribute("aria-expanded", String(large));
    $("larger").textContent = large ? say("Smaller plan") : say("Larger plan");
  });
  new ResizeObserver(() => showPlan($("plan").classList.contains("old"))).observe($("plan"));
  draw();
  drawContact();
  $("shop").hidden = false;
  price();
}

begin();
