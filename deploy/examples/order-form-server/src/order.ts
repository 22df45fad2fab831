import type { Schemas } from "seamwright-client";

export type Order = Schemas["OrderFormRequest"];

/** Reads what a browser sent; the service checks all of it, so that only what is no number is found here. */
export function readOrder(sent: URLSearchParams, units: Order["units"]): { order: Order; wrong: string[] } {
  const wrong: string[] = [];
  const number = (name: string): number => {
    const text = (sent.get(name) ?? "").trim();
    const value = Number(text);
    if (text === "" || !Number.isFinite(value)) wrong.push(`${name}: please write a number, such as 25.5.`);
    return value;
  };
  const sides: Order["sides"] = [];
  for (const n of [1, 2, 3]) {
    if ((sent.get(`long${n}`) ?? "") + (sent.get(`deep${n}`) ?? "") !== "" || n === 1) sides.push({ long: number(`long${n}`), deep: number(`deep${n}`) });
  }
  const turns = sent.get("turns");
  return {
    order: { units, ...(sides.length > 1 && turns ? { turns: turns as NonNullable<Order["turns"]> } : {}), shape: (sent.get("shape") ?? "") as Order["shape"], wood: sent.get("wood") ?? "", thickness: sent.get("thickness") ?? "", sides },
    wrong,
  };
}
