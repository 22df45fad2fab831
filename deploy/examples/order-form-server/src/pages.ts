import type { Schemas } from "seamwright-client";
import { html, type Html } from "./text.js";

type Form = Schemas["OrderForm"];
type Estimate = Schemas["OrderFormEstimate"];

const page = (title: string, body: Html): string => html`<!doctype html>
<html lang="en"><meta charset="utf-8"><meta name="viewport" content="width=device-width"><title>${title}</title>
<h1>${title}</h1>
${body}
`.text;

const choice = (name: string, label: string, list: Schemas["OrderFormChoices"], chosen: string | null): Html =>
  html`<p><label>${label} <select name="${name}">${list.map((c) => (c.value === chosen ? html`<option value="${c.value}" selected>${c.title}</option>` : html`<option value="${c.value}">${c.title}</option>`))}</select></label>
`;

const field = (name: string, label: string, sent: URLSearchParams, kind = "text"): Html =>
  html`<p><label>${label} <input name="${name}" type="${kind}" value="${sent.get(name) ?? ""}"></label>
`;

const complaints = (list: string[]): Html => (list.length === 0 ? html`` : html`<ul role="alert">${list.map((c) => html`<li>${c}</li>`)}</ul>`);

/** The form, filled with what was sent. */
export const formPage = (form: Form, sent: URLSearchParams, wrong: string[] = []): string =>
  page(
    "A top for your room",
    html`${complaints(wrong)}<form method="post" action="/price">
${choice("shape", "Shape", form.choices.shapes, sent.get("shape"))}${choice("turns", "Turns to the", form.choices.turns, sent.get("turns"))}${choice("wood", "Wood", form.choices.woods, sent.get("wood"))}${choice("thickness", "Thickness", form.choices.thicknesses, sent.get("thickness"))}
${[1, 2, 3].map((n) => html`${field(`long${n}`, `Side ${n}, long (${form.units})`, sent)}${field(`deep${n}`, "deep", sent)}`)}
<p><button>What does it cost?</button></form>`,
  );

const price = (e: Estimate): string => (e.price.total === null ? `${e.price.from} to ${e.price.to}` : e.price.total) + ` ${e.currency}`;

/** How long it takes; null when the shop promises no day, because the wood is not ready. */
const days = (e: Estimate): string => (e.working_days === null ? "when it will be ready, the shop will say" : `${e.working_days} working days`);

/** The price, with a form that asks the shop for an offer. */
export const pricePage = (form: Form, e: Estimate, sent: URLSearchParams, wrong: string[] = []): string =>
  page(
    "Your price",
    html`<p>${e.summary}<p><strong>${price(e)}</strong>, ${e.price.includes_tax ? "tax included" : "without tax"}. Holds until ${e.valid_until}; ${days(e)}.
<ul>${e.includes.map((line) => html`<li>${line}</li>`)}</ul>
${e.corners.map((line) => html`<p>${line}`)}<p>${e.seasons}<p>${e.site_visit}
${e.cautions.map((line) => html`<p><small>${line}</small>`)}
${complaints(wrong)}<form method="post" action="/request">
${[...sent].filter(([name]) => !["name", "email", "message", "consent"].includes(name)).map(([name, value]) => html`<input type="hidden" name="${name}" value="${value}">`)}
${field("name", "Your name", sent)}${field("email", "Your e-mail address", sent, "email")}
<p><label>What else we should know <textarea name="message">${sent.get("message") ?? ""}</textarea></label>
<p><label><input type="checkbox" name="consent" value="yes"> You may keep this to answer me</label>
<p><button>Ask for an offer</button></form>`,
  );

export const thanksPage = (summary: string): string => page("Thank you", html`<p>We have your request: ${summary}<p>You will hear from us.`);

export const troublePage = (what: string): string => page("Something is wrong", html`<p>${what}`);
