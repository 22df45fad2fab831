"""Makes purchase_optima.json: invented purchases of boards and their optima by CBC. Run: python3 purchase_optima.py > purchase_optima.json

Needs Debian's python3-pulp and coinor-cbc. It shares nothing with the solver under test: all full patterns of every stock are listed,
and CBC chooses strips by pattern and whole boards by stock, with its gaps set to zero. Instances that it does not finish are left out.
"""
import json
import random
import shutil
import pulp  # Debian: python3-pulp

FOOT, INCH = 304.8, 25.4


def patterns(sizes, needs, room, at=0):
    """All ways to fill a strip to which no further piece can be added."""
    if at == len(sizes):
        if all(n == 0 or s > room for s, n in zip(sizes, needs)):
            yield ()
        return
    for k in range(min(needs[at], int(room // sizes[at])), -1, -1):
        left = needs[:at] + [needs[at] - k] + needs[at + 1:]
        for rest in patterns(sizes, left, room - k * sizes[at], at + 1):
            yield (k,) + rest


def solve(i):
    """The least cost in cents, or None when CBC does not prove it in time. Lengths are counted in micrometres."""
    sizes = [round(1000 * (d["length"] + i["kerf"])) for d in i["demands"]]
    needs = [d["count"] for d in i["demands"]]
    model = pulp.LpProblem("purchase", pulp.LpMinimize)
    buy = [pulp.LpVariable(f"y{s}", 0, cat="Integer") for s in range(len(i["stocks"]))]
    model += pulp.lpSum(round(100 * s["cost"]) * y for s, y in zip(i["stocks"], buy))
    cut = [[] for _ in needs]
    for s, stock in enumerate(i["stocks"]):
        strips = []
        for n, p in enumerate(patterns(sizes, needs, round(1000 * (stock["length"] + i["kerf"])))):
            x = pulp.LpVariable(f"x{s}_{n}", 0, cat="Integer")
            strips.append(x)
            for t, k in enumerate(p):
                if k:
                    cut[t].append(k * x)
        model += pulp.lpSum(strips) <= i["strips_per_board"] * buy[s]
    for t, n in enumerate(needs):
        model += pulp.lpSum(cut[t]) >= n
    model += pulp.lpSum(round(100 * s["content"]) * y for s, y in zip(i["stocks"], buy)) >= round(100 * i["content"])
    model.solve(pulp.COIN_CMD(path=shutil.which("cbc"), msg=False, timeLimit=40, gapRel=0, gapAbs=0))
    if model.sol_status != pulp.LpSolutionOptimal:
        return None
    return round(pulp.value(model.objective)) / 100


def instance(r, kinds, most, strips, yield_, even):
    """Staves of a few lengths, from boards of whole feet sold by the board foot, or with other prices when not even."""
    wide = [5, 9, 9][strips - 1]
    stave = [4.375, 4.375, 2.875][strips - 1]
    feet = r.choice([[8, 9, 10, 12, 14, 16], [6, 7, 8, 9, 10, 12], [8, 10, 12, 14, 16, 18], [7, 8, 10, 16]])
    price = r.choice([6.4, 9.75, 12.2])
    i = {"name": f"{kinds} lengths, {strips} strips a board, yield {yield_:.3f}, {'even' if even else 'uneven'} prices",
         "strips_per_board": strips, "kerf": 3.175, "demands": [], "stocks": [], "content": 0}
    for f in feet:
        bf = round(2 * wide * f / 12, 2)
        cost = bf * price * (1 if even else r.uniform(0.85, 1.15))
        i["stocks"].append({"length": round(f * FOOT, 4), "cost": round(cost, 2), "content": bf})
    net = 0
    for _ in range(kinds):
        length, count = r.randint(28 * 8, min(140, feet[-1] * 12 - 2) * 8) / 8, r.randint(1, most)
        i["demands"].append({"length": round(length * INCH, 4), "count": count})
        net += count * 2 * stave * length / 144
    i["content"] = round(net / yield_, 2)
    return i


def main():
    r = random.Random(20261129)
    done = []
    for kinds, most in [(1, 12), (2, 9), (2, 9), (3, 8), (4, 6), (6, 5), (8, 4), (12, 3)]:
        for strips in (1, 2, 3):
            for yield_, even in [(10 / 12, True), (8 / 12, True), (10 / 12, False), (0.95, False)]:
                i = instance(r, kinds, most, strips, yield_, even)
                i["optimum"] = solve(i)
                if i["optimum"] is not None:
                    done.append(i)
    print('{\n "source": "Instances invented for this project; lengths in millimetres, cost of a board in money, content in board feet. Optima by CBC',
          'as packed by Debian 12, proved (both gaps zero), 2026-11-29; purchase_optima.py says how.",\n "instances": [')
    print(",\n".join("  " + json.dumps(i) for i in done))
    print(" ]\n}")


main()
