"""Walks through what a shop's programs do: an estimate, an offer, the order form, a price list.

    python3 walk.py http://127.0.0.1:8080 "$KEY"      # a key with all scopes; none with --no-auth

Everything it sends is invented.
"""
import sys

from seamwright import Refused, Seamwright

TOP = {
    "units": "in",
    "reference": "Mill loft desk (invented)",
    "top": {
        "species": "maple_sugar",
        "thickness": "1-1/2",
        "runs": [{"length": 84, "depth": 25.5}, {"length": 60, "depth": 25.5}],
        "corners": [{"angle": 90}],
    },
}
LIST = b"article,price,per,currency\nW-17,48.00,pack,USD\n"


def walk(shop):
    brief, _ = shop.call("POST", "/v1/estimates", TOP, query={"fields": "summary"})
    print("estimate:", brief["total"], brief["currency"])

    offer, headers = shop.call("POST", "/v1/quotes", {"reference": "P-1 (invented)", "valid_days": 21, "estimate": TOP})
    assert offer["estimate"]["price"]["total"] == brief["total"], "the offer has another price"
    path = "/v1/quotes/" + offer["id"]
    _, headers = shop.call("POST", path + "/status", {"status": "sent"}, headers={"If-Match": headers["ETag"]})
    print("offer:", offer["id"], "sent")
    found = [q for q in shop.pages("/v1/quotes", limit=2) if q["id"] == offer["id"]]
    assert found and found[0]["status"] == "sent", "the offer is not in the list"

    form, _ = shop.call("GET", "/v1/order-form", query={"units": "in"})
    woods = [w["value"] for w in form["choices"]["woods"]]
    price, _ = shop.call("POST", "/v1/order-form/estimates", {
        "units": "in", "shape": "l", "turns": "left", "wood": woods[0],
        "thickness": form["choices"]["thicknesses"][0]["value"],
        "sides": [{"long": 84, "deep": 25.5}, {"long": 60, "deep": 25.5}]})
    print("order form:", len(woods), "woods; the first one:", price["price"])

    try:
        shop.call("POST", "/v1/estimates", {**TOP, "units": "ft", "top": {**TOP["top"], "thickness": -1}})
        raise AssertionError("an impossible top was estimated")
    except Refused as why:
        assert why.status in (400, 422) and len(why.errors) >= 2, why
        print("refused, with all reasons:", ", ".join(e["pointer"] for e in why.errors))

    shop.call("PUT", "/v1/suppliers/python_mill", {"name": "Python mill (invented)"})
    update, _ = shop.call("POST", "/v1/price-updates", LIST, kind="text/csv",
                          query={"supplier": "python_mill", "list_date": "2026-11-25", "dry_run": "true"})
    print("price list, tried:", update["status"])


if __name__ == "__main__":
    walk(Seamwright(sys.argv[1], sys.argv[2] if len(sys.argv) > 2 else ""))
