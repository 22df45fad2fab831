// Help to measure a corner with a tape: three lengths go to POST /v1/order-form/angles, which says the angle and how sure it is.
import { element, language, numberOf, say, written } from "/assets/order-parts.js";

const typed = new Map(); // by corner and field, so that nothing is lost when the form is drawn anew

const questions = [
  ["along_first", say("a: along the one wall")],
  ["along_second", say("b: along the other wall")],
  ["across", say("c: across, from mark to mark")],
];

const drawn = (name, attributes, ...children) => {
  const node = document.createElementNS("http://www.w3.org/2000/svg", name);
  for (const [attribute, value] of Object.entries(attributes)) node.setAttribute(attribute, value);
  node.append(...children);
  return node;
};

// sketch shows where the three lengths lie.
function sketch() {
  const text = (x, y, letter) => drawn("text", { x, y, "aria-hidden": "true" }, letter);
  return drawn("svg", { class: "sketch", viewBox: "0 0 150 96", role: "img", "aria-label": say("A corner seen from above: a lies along the one wall, b along the other, c across between their ends.") },
    drawn("path", { class: "wall-line", d: "M10 14H136V90" }), drawn("path", { class: "tape", d: "M40 20H130V80Z" }), drawn("circle", { cx: 40, cy: 20, r: 3 }),
    drawn("circle", { cx: 130, cy: 80, r: 3 }), text(85, 31, "a"), text(122, 52, "b"), text(74, 62, "c"));
}

// tapes makes the help for a corner. use is told the angle that the reader takes.
export function tapes(units, corner, call, use) {
  const at = (name) => `${units}-${corner}-${name}`;
  const id = (name) => `tape-${corner}-${name}`;
  const error = element("p", { class: "error", id: id("error") });
  const says = element("p", { id: id("says"), role: "status", "aria-live": "polite" });
  const take = element("button", { type: "button", hidden: true });
  let asked = 0, timer = 0, angle = null;
  const inputs = questions.map(([name, title]) => {
    const input = element("input", { type: "text", inputmode: units === "mm" ? "decimal" : "text", maxlength: 20, id: id(name), "aria-describedby": id("error") });
    input.value = typed.get(at(name)) ?? "";
    input.addEventListener("input", () => {
      typed.set(at(name), input.value);
      clearTimeout(timer);
      timer = setTimeout(ask, 350);
    });
    return [name, input, element("div", { class: "field" }, element("label", { for: id(name) }, `${title} (${say(units)})`), input)];
  });

  function show(text, wrong) {
    says.textContent = wrong ? "" : text;
    error.textContent = wrong ? text : "";
    take.hidden = angle === null;
    if (angle !== null) take.textContent = say("Use {angle}°", { angle: written(angle) });
    inputs.forEach(([, input]) => (wrong ? input.setAttribute("aria-invalid", "true") : input.removeAttribute("aria-invalid")));
  }

  async function ask() {
    const mine = ++asked;
    const body = { units };
    for (const [name, input] of inputs) body[name] = numberOf(input.value);
    angle = null;
    if (inputs.some(([, input]) => !input.value.trim())) return show("");
    if (Object.values(body).some((value) => value !== units && !(value > 0))) return show(say("Write three numbers, such as 36, 48 and 60 1/4."), true);
    const answer = await call("POST", "/v1/order-form/angles?language=" + language, body).catch(() => null);
    if (mine !== asked) return;
    if (answer?.ok) {
      angle = answer.data.angle;
      show(answer.data.text);
    } else show(answer?.data.errors?.map(({ detail }) => detail).join(" ") || answer?.data.detail || say("The service does not answer. Try again."), true);
  }

  take.addEventListener("click", () => use(angle));
  if (inputs.every(([, input]) => input.value)) ask();
  const lengths = units === "mm" ? say("900 and 1200 mm") : say("36 and 48 in");
  return element("details", { class: "tapes" }, element("summary", {}, say("Is it square? Measure it with a tape")),
    element("div", { class: "tape-how" }, sketch(),
      element("p", { class: "hint" }, say("Make a mark on each wall, as far from the corner as you can ({lengths}, say; both at the height of the top), and measure a, b and c. Three readings give the angle.", { lengths }))),
    element("div", { class: "fields" }, ...inputs.map(([, , box]) => box)), error, says, take);
}
