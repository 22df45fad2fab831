// Text that goes into a page. Whatever a customer or the service says appears as text.
const named: Record<string, string> = { "&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;", "'": "&#39;" };

export const escape = (text: string): string => text.replace(/[&<>"']/g, (c) => named[c] ?? c);

/** HTML that is made of parts: strings among them are escaped, lists of HTML are joined. */
export class Html {
  constructor(readonly text: string) {}
}

export function html(strings: TemplateStringsArray, ...values: (string | number | Html | Html[])[]): Html {
  const shown = (value: string | number | Html | Html[]): string =>
    value instanceof Html ? value.text : Array.isArray(value) ? value.map((v) => v.text).join("") : escape(String(value));
  return new Html(strings.reduce((all, part, i) => all + shown(values[i - 1] ?? "") + part));
}
