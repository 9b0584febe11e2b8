# Makes up books of candles to bring to one market or two, and says what a plan
# for them contributes: costs, chances to sell and units to bring from the books'
# own rows, then what the pours of the plan leave of that.
#
# Usage: worth.py make FOLDER BOOKS writes BOOK.txt (tables as text) there;
# worth.py hold FOLDER BOOKS reads BOOK.json (the plans) and prints PATH TAB NUMBER.
import json
import math
import random
import sys
from datetime import date, timedelta

from scipy.stats import nbinom

doing, folder, books = sys.argv[1], sys.argv[2], int(sys.argv[3])
draw = random.Random(11)
TODAY, EARLIER, SOON = date(2026, 11, 5), date(2025, 12, 13), {"Fair": date(2026, 12, 12), "Yule": date(2026, 12, 19)}


class Demand:
    def __init__(self, mean, r):
        self.law = nbinom(r, r / (r + mean))

    def most(self, k):
        """The chance that at most k are wanted."""
        return float(self.law.cdf(k)) if k >= 0 else 0.0

    def least(self, ratio):
        """The least k that is enough with the chance."""
        k = 0
        while self.most(k) < ratio:
            k += 1
        return k

    def sold(self, q):
        """How many of q are sold on average."""
        chances = self.law.pmf(range(q))
        return float(sum(k * c for k, c in enumerate(chances)) + q * (1 - sum(chances)))


def make(b):
    """A book in numbers."""
    x = {
        "loss": draw.randint(0, 5) / 100, "reject": draw.randint(0, 6) / 100, "labor": draw.randint(6, 20), "unit minutes": draw.randint(2, 5),
        "batch minutes": draw.randint(15, 30), "color minutes": draw.randint(2, 12), "pitcher": draw.randint(12, 30) * 100,
        "minutes": draw.choice([40, 60, 80, 110, 400]), "left": draw.choice([0.4, 0.7, 0.9]), "prior": draw.randint(5, 40),
        "r": draw.choice([None, 3, 7.5]), "discount": draw.choice([0.4, 0.5]), "wax": draw.randint(6, 14), "oil": draw.randint(20, 60),
        "dye": draw.randint(10, 40), "glass": draw.randint(5, 30) / 10, "load": draw.randint(4, 10) / 100, "dose": draw.randint(1, 5) / 1000,
    }
    x["channel"] = {"fee": draw.choice([0, 0.03, 0.1]), "order": draw.choice([0, 0.3, 1]), "unit": draw.choice([0, 0.25]), "wholesale": draw.random() < 0.25}
    x["jars"] = {"Small": draw.randint(80, 140), "Large": draw.randint(180, 300)}
    x["products"] = {}
    for recipe in ("Rose", "Sea"):
        for jar in x["jars"]:
            for finish in ("colored", "natural"):
                if draw.random() < 0.75:
                    low = 4 if draw.random() < 0.15 else 9
                    x["products"][f"{recipe}{jar}{finish[0]}"] = {
                        "recipe": recipe, "jar": jar, "finish": finish, "price": draw.randint(low, 30), "wholesale": draw.choice([None, None, 11]),
                        "held": draw.choice([0, 0, 2, 7]), "minutes": draw.choice([None, None, 6]),
                    }
    codes = list(x["products"])
    x["sales"] = []  # day, product, units, price, channel, order, market
    for n in range(draw.randint(0, 30)):
        day = date(2024, 9, 1) + timedelta(draw.randint(0, 790))
        for _ in range(draw.choice([1, 1, 2])):
            x["sales"].append((day, draw.choice(codes), draw.randint(1, 6), 12 if draw.random() < 0.9 else 0, draw.choice(["Stall", "Web"]), f"A{n}", ""))
    if draw.random() < 0.7:
        for code in codes:
            if draw.random() < 0.8:
                x["sales"].append((EARLIER, code, draw.randint(1, 20), 12, "Stall", "", "Fair"))
    earlier = any(s[6] for s in x["sales"])
    x["markets"] = {"Fair": {"expected": None if earlier and draw.random() < 0.5 else draw.randint(60, 180), "growth": draw.choice([None, 10, -20]), "table": draw.choice([None, None, 35])}}
    if b % 2 == 0:
        x["markets"]["Yule"] = {"expected": draw.randint(15, 60), "growth": None, "table": draw.choice([None, 30])}
    return x


def tables(x):
    c = x["channel"]
    pct = lambda v: f"{v * 100:g} %"
    return {
        "Settings": ("name | value", [("currency", "USD"), ("pour loss", pct(x["loss"])), ("reject rate", pct(x["reject"])), ("labor rate per hour", x["labor"]),
            ("minutes per unit", x["unit minutes"]), ("minutes per batch", x["batch minutes"]), ("colored batch extra minutes", x["color minutes"]),
            ("pitcher capacity", f"{x['pitcher']} g"), ("pour minutes per day", x["minutes"]), ("pour days", "Sat, Sun"), ("leftover value", pct(x["left"])),
            ("mix prior", x["prior"]), ("wholesale discount", pct(x["discount"])), *([("demand spread r", x["r"])] if x["r"] else [])]),
        "Materials": ("name | kind | pack size | pack price | on hand", [("Wax", "wax", "1 kg", x["wax"], "900 kg"), ("Oil", "fragrance", "500 g", x["oil"], "90 kg"),
            ("Dye", "dye", "100 g", x["dye"], "9 kg"), ("Glass", "jar", "1 ct", x["glass"], "900 ct")]),
        "Recipes": ("recipe | material | amount | per", [row for r in ("Rose", "Sea")
            for row in ((r, "Wax", 1, ""), (r, "Oil", f"{x['load'] * 100:g}", "% of wax"), (r, "Dye", f"{x['dose'] * 1000:g}", "g/kg"))]),
        "Jars": ("jar | fill weight", [(j, f"{g} g") for j, g in x["jars"].items()]),
        "Jar parts": ("jar | material | count", [(j, "Glass", 1) for j in x["jars"]]),
        "Products": ("product | recipe | jar | finish | list price | wholesale price | on hand | minutes per unit",
            [(k, p["recipe"], p["jar"], p["finish"], p["price"], p["wholesale"] or "", p["held"], p["minutes"] or "") for k, p in x["products"].items()]),
        "Channels": ("channel | fee % | fee per order | cost per unit | wholesale",
            [("Stall", pct(c["fee"]), c["order"], c["unit"], "yes" if c["wholesale"] else "no"), ("Web", "5 %", 0.3, 0, "no")]),
        "Markets": ("market | date | channel | expected units | growth % | table capacity", [("Fair", EARLIER, "Stall", "", "", ""),
            *((k, SOON[k], "Stall", m["expected"] or "", m["growth"] or "", m["table"] or "") for k, m in x["markets"].items())]),
        "Sales": ("date | product | quantity | unit price | channel | order | market", sorted(x["sales"]) or [("", "", "", "", "", "", "")]),
    }


def variable(x, p):
    """What a candle costs but for overhead."""
    fill, colored = x["jars"][p["jar"]], p["finish"] == "colored"
    kept, good = 1 - x["loss"], 1 - x["reject"]
    wax = fill / (1 + x["load"] + (x["dose"] if colored else 0))
    melted = wax * (x["wax"] / 1000 + x["load"] * x["oil"] / 500 + (x["dose"] * x["dye"] / 100 if colored else 0))
    n = max(1, math.floor(x["pitcher"] * kept / fill + 1e-9))
    minutes = (p["minutes"] or x["unit minutes"]) + (x["batch minutes"] + (x["color minutes"] if colored else 0)) / n
    return melted / kept / good + x["glass"] / good + minutes / good / 60 * x["labor"]


def market(x, name):
    """What may be sold there, and what that asks to bring."""
    c, m, products = x["channel"], x["markets"][name], x["products"]
    there = {k: sum(s[2] for s in x["sales"] if s[6] == "Fair" and s[1] == k) for k in products}
    total = m["expected"] or (1 + (m["growth"] or 0) / 100) * sum(there.values())
    winter = [s for s in x["sales"] if date(2024, 11, 6) <= s[0] <= TODAY and s[0].month in (12, 1, 2)]
    u = {k: sum(s[2] for s in winter if s[1] == k) for k in products}
    paid = [s for s in x["sales"] if s[4] == "Stall" and s[3] > 0 and s[0] <= TODAY]
    orders = len({s[5] for s in paid if s[5]}) + sum(1 for s in paid if not s[5])
    per_order = sum(s[2] for s in paid) / orders if orders else 1
    r, out = x["r"] or 4, {}
    for k, p in products.items():
        share = (there[k] + x["prior"] * (u[k] + 0.5) / (sum(u.values()) + 0.5 * len(products))) / (sum(there.values()) + x["prior"])
        v = variable(x, p)
        price = (p["wholesale"] or p["price"] * (1 - x["discount"])) if c["wholesale"] else p["price"]
        under = price * (1 - c["fee"]) - c["unit"] - c["order"] / per_order - v
        over = v * (1 - x["left"])
        d = Demand(total * share, r)
        ratio = under / (under + over) if under > 0 else 0
        out[k] = {"mean": total * share, "law": d, "under": under, "over": over, "ratio": ratio, "bring": d.least(ratio) if under > 0 else 0}
    gaining = [d for d in out.values() if d["under"] > 0]
    if not gaining:
        return out
    limit = Demand(total, r).least(sum(d["mean"] * d["ratio"] for d in gaining) / sum(d["mean"] for d in gaining))
    limit = limit if m["table"] is None else min(limit, m["table"])
    if sum(d["bring"] for d in out.values()) <= limit:
        return out
    worth = sorted((-(d["under"] * (1 - d["law"].most(k)) - d["over"] * d["law"].most(k)), i, code, k)
        for i, (code, d) in enumerate(out.items()) if d["under"] > 0 for k in range(limit))
    for d in out.values():
        d["bring"] = 0
    for w, _, code, _ in worth[:limit]:
        out[code]["bring"] += w < 0
    return out


def contribution(d, q):
    sold = d["law"].sold(q)
    return d["under"] * sold - d["over"] * (q - sold) if q else 0.0


def hold(b, x):
    plan = json.load(open(f"{folder}/{b}.json"))
    poured = {}
    for p in plan["pours"]:
        for j in p["jars"]:
            at = p.get("market") or "Fair", j["product"]
            poured[at] = poured.get(at, 0) + j["units"]
    whole, gone, units = 0.0, {}, {}
    held = {k: p["held"] for k, p in x["products"].items()}
    for name in x["markets"]:
        for k, d in market(x, name).items():
            need = max(0, d["bring"] - held[k])
            held[k] -= min(held[k], d["bring"])
            started = math.ceil(need / (1 - x["reject"]) - 1e-9)
            for field, v in {"mean": d["mean"], "bring": d["bring"], "need": need, "pour": started,
                    "expected_sold": d["law"].sold(d["bring"]), "expected_contribution": contribution(d, d["bring"])}.items():
                print(f"{b}/{name}/{k}/{field}\t{float(v)!r}")
            whole += contribution(d, d["bring"])
            less = need - min(need, math.floor(poured.get((name, k), 0) * (1 - x["reject"]) + 1e-9))
            if less:
                units[k] = units.get(k, 0) + less
                gone[k] = gone.get(k, 0) + contribution(d, d["bring"]) - contribution(d, d["bring"] - less)
    for k in units:
        print(f"{b}/left/{k}/units\t{units[k]}\n{b}/left/{k}/contribution\t{gone[k]!r}")
    print(f"{b}/contribution\t{whole - sum(gone.values())!r}")
    print(f"{b}/bound_of_all\t{'nan' if units else repr(whole)}")


for b in range(1, books + 1):
    x = make(b)
    if doing == "hold":
        hold(b, x)
        continue
    text = "\n\n".join("\n".join([f"[{name}]", head, *(" | ".join(map(str, row)) for row in body)]) for name, (head, body) in tables(x).items())
    open(f"{folder}/{b}.txt", "w").write(text)
