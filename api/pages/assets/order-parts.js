// What the parts of the order page share.

// language is the page's; words has what stands for its English texts.
export const language = document.documentElement.lang;
const words = JSON.parse(document.querySelector('meta[name="order-page-words"]')?.content || "{}");

// say says an English text in the page's language, with values in the places of their names.
export function say(english, values = {}) {
  return (words[english] ?? english).replace(/\{(\w+)\}/g, (place, name) => values[name] ?? place);
}

// written writes a number as the language does.
export function written(number) {
  return new Intl.NumberFormat(language, { useGrouping: false, maximumFractionDigits: 6 }).format(number);
}

// element makes an element; strings among its children become text.
export function element(name, attributes = {}, ...children) {
  const node = document.createElement(name);
  for (const [attribute, value] of Object.entries(attributes)) {
    if (value !== undefined && value !== false) node.setAttribute(attribute, value === true ? "" : value);
  }
  node.append(...children);
  return node;
}

// numberOf reads a measure as people write it: 25.5, 25,5, 25 1/2 or 25-1/2. NaN: it is none.
export function numberOf(text) {
  const parts = /^(\d+(?:[.,]\d+)?)?(?:(?:^|[\s-]+)(\d+)\s*\/\s*([1-9]\d*))?$/.exec(text.trim());
  if (!parts || !text.trim()) return NaN;
  const whole = Number((parts[1] || "0").replace(",", "."));
  return Math.round((whole + (parts[2] ? parts[2] / parts[3] : 0)) * 1e6) / 1e6;
}
