# Makes up books in which some materials have to be ordered, and tries every way
# to give the pours their days: none late, none before what it takes is there, no
# day too long; of those the fewest minutes of change-over, then the earliest end.
# Materials are counted in exact fractions.
#
# Usage: waits.py make FOLDER BOOKS writes BOOK.txt (tables as text) and wanted.tsv
# there (what to pour by which day); waits.py hold FOLDER BOOKS reads BOOK.json
# (the plans) and prints PATH TAB NUMBER: days from today, and of every material
# what is poured too early.
import itertools
import json
import math
import random
import sys
from datetime import date, timedelta
from fractions import Fraction as F

doing, folder, books = sys.argv[1], sys.argv[2], int(sys.argv[3])
draw = random.Random(3)
TODAY = date(2026, 11, 5)
CURE, MARGIN = 9, 2
WEEK = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
DYES = {"Rose": "Red", "Sea": "Red", "Fir": "Blue"}


def make():
    """A book in numbers."""
    x = {"loss": F(draw.randint(0, 5), 100), "reject": F(draw.randint(0, 5), 100), "pitcher": draw.randint(10, 20) * 100, "fill": draw.randint(90, 200),
        "unit": draw.randint(2, 4), "batch": draw.randint(10, 25), "color": draw.randint(0, 9), "minutes": draw.randint(90, 220),
        "wipe": draw.randint(1, 6), "wash": draw.randint(7, 20), "ahead": draw.randint(4, 10), "week": sorted(draw.sample(range(7), draw.randint(4, 7))),
        "load": F(draw.randint(5, 10), 100), "dose": F(draw.randint(1, 4), 1000)}
    kinds = draw.sample([(r, f) for r in DYES for f in ("colored", "natural")], draw.randint(1, 3))
    x["units"] = {k: draw.randint(3, 24) for k in sorted(kinds)}
    x["pours"] = [(k, n) for k, units in x["units"].items() for n in split(x, k, units)]
    need = {}
    for k, n in x["pours"]:
        for m, q in takes(x, k, n).items():
            need[m] = need.get(m, 0) + q
    x["need"] = need
    # Enough, some of it or nothing; in whole grams and pieces.
    x["held"] = {m: math.ceil(q * draw.choice([F(2), F(2), F(draw.randint(20, 90), 100), F(0)])) for m, q in need.items()}
    x["lead"] = {m: draw.choice([0, 1, 2, 3, 4, 5, 6]) for m in need}
    return x


def split(x, k, units):
    """The fewest pours, as equal as can be."""
    started = math.ceil(units / (1 - x["reject"]))
    most = min(x["pitcher"] * (1 - x["loss"]) // x["fill"], (x["minutes"] - fixed(x, k)) // x["unit"])
    n = math.ceil(F(started, most))
    return [started // n + (i < started % n) for i in range(n)]


def fixed(x, k):
    return x["batch"] + (x["color"] if k[1] == "colored" else 0)


def takes(x, k, n):
    """What n candles take of each material."""
    recipe, finish = k
    dose = x["dose"] if finish == "colored" else 0
    wax = n * x["fill"] / (1 + x["load"] + dose) / (1 - x["loss"])
    out = {"Wax": wax, f"{recipe} oil": wax * x["load"], "Glass": F(n)}
    if dose:
        out[DYES[recipe]] = wax * dose
    return out


def change(x, a, b):
    if a[1] == "colored" and (b[1] == "natural" or DYES[a[0]] != DYES[b[0]]):
        return x["wash"]
    return 0 if a[0] == b[0] else x["wipe"]


def day_change(x, kinds):
    return min(sum(change(x, a, b) for a, b in zip(order, order[1:])) for order in itertools.permutations(sorted(kinds)))


def best(x):
    """The least change-over minutes and the last day of all ways to pour everything; None if there is no way."""
    days = [d for d in range(x["ahead"] + 1) if (TODAY + timedelta(d)).weekday() in x["week"]]
    pours, short = x["pours"], [m for m in x["need"] if x["need"][m] > x["held"][m]]
    taken = [takes(x, k, n) for k, n in pours]
    long = [fixed(x, k) + n * x["unit"] for k, n in pours]
    found, changes = None, {}
    on = {d: [] for d in days}

    def place(i, least):
        nonlocal found
        if i == len(pours):
            total = 0
            for d in days:
                kinds = frozenset(pours[p][0] for p in on[d])
                if kinds not in changes:
                    changes[kinds] = day_change(x, kinds)
                total += changes[kinds]
                if sum(long[p] for p in on[d]) + changes[kinds] > x["minutes"]:
                    return
            way = (total, max(d for d in days if on[d]))
            found = way if found is None else min(found, way)
            return
        for d in days:
            if d < least or sum(long[p] for p in on[d]) + long[i] > x["minutes"]:
                continue
            on[d].append(i)
            early = lambda m: sum(taken[p].get(m, 0) for e in days if e < x["lead"][m] for p in on[e])
            if all(early(m) <= x["held"][m] for m in short):
                place(i + 1, d if i + 1 < len(pours) and pours[i + 1] == pours[i] else -1)
            on[d].pop()

    place(0, -1)
    return found


def hold(b, x):
    way = best(x)
    if way is not None:
        print(f"{b}/left\t0\n{b}/changeover\t{way[0]}\n{b}/finish\t{way[1]}")
    early = {m: F(0) for m in x["need"]}
    for p in json.load(open(f"{folder}/{b}.json"))["pours"]:
        for j in p["jars"]:
            for m, q in takes(x, (p["recipe"], p["finish"]), j["units"]).items():
                if date.fromisoformat(p["day"]) < TODAY + timedelta(x["lead"][m]):
                    early[m] += q
    for m, q in early.items():
        print(f"{b}/early/{m}\t{float(max(F(0), q - x['held'][m]))!r}")


def tables(x):
    code = lambda k: f"{k[0]} {k[1]}"
    stock = lambda m: (x["held"].get(m, 0), x["lead"].get(m, 0))
    return {
        "Settings": ("name | value", [("currency", "USD"), ("pour loss", f"{float(x['loss'] * 100):g} %"), ("reject rate", f"{float(x['reject'] * 100):g} %"),
            ("pitcher capacity", f"{x['pitcher']} g"), ("minutes per unit", x["unit"]), ("minutes per batch", x["batch"]), ("colored batch extra minutes", x["color"]),
            ("pour minutes per day", x["minutes"]), ("wipe minutes", x["wipe"]), ("wash minutes", x["wash"]), ("cure days", CURE), ("cure margin (days)", MARGIN),
            ("pour days", ", ".join(WEEK[d] for d in x["week"]))]),
        "Materials": ("name | kind | pack size | pack price | on hand | lead days", [
            *((m, kind, size, 10, f"{stock(m)[0]} g", stock(m)[1]) for m, kind, size in (("Wax", "wax", "1 kg"), *((f"{r} oil", "fragrance", "100 g") for r in DYES),
                ("Red", "dye", "50 g"), ("Blue", "dye", "50 g"))), ("Glass", "jar", "12 ct", 14, f"{stock('Glass')[0]} ct", stock("Glass")[1])]),
        "Recipes": ("recipe | material | amount | per", [row for r, dye in DYES.items() for row in ((r, "Wax", 1, ""), (r, f"{r} oil", float(x["load"] * 1000), "g/kg"),
            (r, dye, float(x["dose"] * 1000), "g/kg"))]),
        "Jars": ("jar | fill weight", [("Jar", f"{x['fill']} g")]),
        "Jar parts": ("jar | material | count", [("Jar", "Glass", 1)]),
        "Products": ("product | recipe | jar | finish | list price", [(code(k), k[0], "Jar", k[1], 20) for k in x["units"]]),
    }


wanted = open(f"{folder}/wanted.tsv", "w") if doing == "make" else None
for b in range(1, books + 1):
    x = make()
    while not 1 < len(x["pours"]) < 7:
        x = make()
    if doing == "hold":
        hold(b, x)
        continue
    by = TODAY + timedelta(x["ahead"] + CURE + MARGIN)
    for k, n in x["units"].items():
        wanted.write(f"{b}\t{by}\t{k[0]} {k[1]}\t{n}\n")
    with open(f"{folder}/{b}.txt", "w") as f:
        f.write("\n\n".join("\n".join([f"[{name}]", head, *(" | ".join(map(str, row)) for row in body)]) for name, (head, body) in tables(x).items()))
