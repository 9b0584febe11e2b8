# Makes up books of candles in both finishes and says, in exact fractions, how
# much dye and fragrance each season took (in all, and for 1,000 g of the wax of
# the same candles) and what color adds to the cost of a candle.
#
# Usage: color.py FOLDER BOOKS; writes BOOK.txt (tables as text) and expected.tsv
# there, with nan for what is not to be there.
import random
import sys
from datetime import date, timedelta
from fractions import Fraction as F

folder, books = sys.argv[1], int(sys.argv[2])
draw = random.Random(7)
LB, OZ, FLOZ = F("453.59237"), F("28.349523125"), F("29.5735295625")
LAST = date(2026, 10, 31)
out = open(f"{folder}/expected.tsv", "w")


def say(key, value):
    out.write(f"{key}\t{'nan' if value is None else repr(float(value))}\n")


def pick(low, high, step="1"):
    """A decimal from low to high."""
    return draw.randint(0, int((F(high) - F(low)) / F(step))) * F(step) + F(low)


def text(x):
    return repr(float(x)) if isinstance(x, F) else str(x)


def season(d):
    if d.month in (12, 1, 2):
        return "Winter", d.year - (d.month < 3)
    return ("Spring", "Summer", "Autumn")[d.month // 3 - 1], d.year


def book(b):
    s = {
        "pour loss": pick(0, 6), "reject rate": pick(0, 5), "labor rate per hour": pick(8, 24), "minutes per unit": pick(2, 6, "0.5"),
        "minutes per batch": pick(10, 40), "colored batch extra minutes": pick(3, 20), "pitcher capacity": pick(600, 3000, "50"),
        "overhead per month": pick(0, 500, "25"), "productive hours per month": pick(30, 120),
    }
    kept, good = 1 - s["pour loss"] / 100, 1 - s["reject rate"] / 100
    of_blend = draw.random() < 0.3
    # kind, size in the base unit, its text, density, drops per mL
    materials = {
        "Soy": ("wax", F(1000), "1 kg", F("0.9"), None), "Coco": ("wax", LB, "1 lb", F("0.86"), None),
        "Rose": ("fragrance", F(500), "500 g", F("0.97"), None), "Pine": ("fragrance", 16 * OZ, "16 oz", None, None),
        "Red": ("dye", FLOZ, "1 fl oz", F("0.92"), pick(15, 25)), "Blue": ("dye", F(60), "60 mL", None, None),
        "Glow": ("dye", F(100), "100 g", None, None), "Hard": ("additive", F(250), "250 g", None, None),
        "Glass": ("jar", F(12), "12 ct", None, None), "Plain": ("label", F(100), "100 ct", None, None), "Bright": ("label", F(50), "50 ct", None, None),
    }
    listed = {m: pick(3, 30, "0.25") for m in materials}
    buys = {m: [] for m in materials}
    for m in materials:
        for _ in range(draw.randint(0, 4)):
            buys[m].append((date(2025, 1, 3) + timedelta(draw.randint(0, 690)), draw.randint(1, 5), pick(10, 90, "0.5")))
        buys[m] = [x for i, x in enumerate(sorted(buys[m])) if x[0] not in [y[0] for y in buys[m][:i]]]

    def price(m, d):  # of a base unit in the month of d
        p = listed[m] / materials[m][1]
        for day, packs, paid in buys[m]:
            if (day.year, day.month) <= (d.year, d.month):
                p = paid / (packs * materials[m][1])
        return p

    def density(m):
        return materials[m][3] or (F("0.9") if materials[m][0] == "dye" else None)

    def drops_per_gram(m):
        return (materials[m][4] or 20) / density(m)

    recipes, rows = {}, []
    for name in ("One", "Two", "Three"):
        waxes = {"Soy": pick(1, 4), "Coco": pick(1, 4)} if draw.random() < 0.5 else {"Soy": F(1)}
        rows += [(name, w, share, "") for w, share in waxes.items()]
        by_wax, by_blend, dropped = {}, {}, set()
        for oil in draw.sample(["Rose", "Pine"], draw.randint(1, 2)):
            load, per = pick(2, 6, "0.5"), draw.choice(["%", "% of blend", "% of wax", "g/kg"])
            (by_blend if per == "% of blend" or per == "%" and of_blend else by_wax)[oil] = load / 100
            rows.append((name, oil, load * 10 if per == "g/kg" else load, per))
        for dye in draw.sample(["Red", "Blue", "Glow"], draw.randint(1, 2)):
            n = pick(2, 9)
            if dye == "Glow":
                by_wax[dye] = n / 1000
                rows.append((name, dye, n, "g/kg"))
                continue
            per, wax = draw.choice([("drops/lb", LB), ("drops/8oz", 8 * OZ), ("drops/kg", F(1000))])
            by_wax[dye] = n / wax / drops_per_gram(dye)
            rows.append((name, dye, n, per))
            dropped.add(dye)
        if draw.random() < 0.5:
            by_wax["Hard"] = F(1, 100)
            rows.append((name, "Hard", "10", "g/kg"))
        recipes[name] = ({w: x / sum(waxes.values()) for w, x in waxes.items()}, by_wax, by_blend, dropped)
    drops = set().union(*(r[3] for r in recipes.values()))
    jars = {"Short": pick(80, 140), "Tall": pick(150, 320)}

    def inside(p):
        """Grams of each material in a candle, and how much of that is wax."""
        waxes, by_wax, by_blend, _ = recipes[p["recipe"]]
        stays = lambda m: p["finish"] == "colored" or materials[m][0] != "dye"
        fill = jars[p["jar"]]
        wax = fill * (1 - sum(by_blend.values())) / (1 + sum(x for m, x in by_wax.items() if stays(m)))
        grams = {m: wax * x for m, x in [*waxes.items(), *by_wax.items()] if stays(m)}
        grams.update({m: fill * x for m, x in by_blend.items()})
        assert sum(grams.values()) == fill
        return grams, wax

    def costs(p, d):
        """What a candle costs in the month of d: dye, labor, overhead, all else."""
        grams, _ = inside(p)
        amount = lambda m: grams[m] / density(m) if m in ("Red", "Blue") else grams[m]
        melted = {m: amount(m) / kept / good * price(m, d) for m in grams}
        parts = sum(price(m, d) / good for m in ("Glass", "Bright" if p["finish"] == "colored" else "Plain"))
        n = max(1, s["pitcher capacity"] * kept // jars[p["jar"]])
        batch = s["minutes per batch"] + (s["colored batch extra minutes"] if p["finish"] == "colored" else 0)
        hours = ((p["minutes"] or s["minutes per unit"]) + batch / n) / good / 60
        dye = sum(c for m, c in melted.items() if materials[m][0] == "dye")
        overhead = hours * s["overhead per month"] / s["productive hours per month"]
        return {"dye": dye, "labor": hours * s["labor rate per hour"], "overhead": overhead, "parts": sum(melted.values()) - dye + parts}

    products = {}
    for recipe in recipes:
        for jar in jars:
            for finish in ("colored", "natural"):
                if draw.random() < 0.85:
                    minutes = pick(1, 8, "0.5") if draw.random() < 0.3 else None
                    products[f"{recipe}{jar}{finish[0]}"] = {"recipe": recipe, "jar": jar, "finish": finish, "minutes": minutes}
    for code, p in products.items():
        twin = products.get(code[:-1] + "n")
        if p["finish"] == "colored" and twin:
            more = {k: v - costs(twin, LAST)[k] for k, v in costs(p, LAST).items()}
            for k, v in more.items():
                say(f"{b}/color/{code}/{k}", v)
            say(f"{b}/color/{code}/total", sum(more.values()))

    lines = []  # a few candles come back
    for _ in range(60):
        d = date(2025, 1, 1) + timedelta(draw.randint(0, 700))
        lines.append((d, draw.choice(list(products)), draw.randint(1, 9) * (1 if draw.random() < 0.85 else -1)))
    pours = [(d, p, abs(n)) for d, p, n in lines if draw.random() < 0.5] if b % 3 == 0 else []
    took = {}
    for d, code, n in pours or lines:
        if d > LAST:
            continue
        grams, wax = inside(products[code])
        for m, g in grams.items():
            if materials[m][0] in ("dye", "fragrance"):
                t = took.setdefault((*season(d), m), {"grams": F(0), "wax": F(0), "cost": F(0)})
                issued = g / kept / good
                t["grams"] += n * issued
                t["wax"] += n * wax / kept / good
                t["cost"] += n * price(m, d) * (issued / density(m) if m in ("Red", "Blue") else issued)
    for (name, year, m), t in took.items():
        if t["grams"] == 0:
            continue
        at = f"{b}/use/{name}/{year}/{m}"
        say(f"{at}/grams", t["grams"])
        say(f"{at}/cost", t["cost"])
        say(f"{at}/ml", t["grams"] / density(m) if density(m) else None)
        say(f"{at}/drops", t["grams"] * drops_per_gram(m) if m in drops else None)
        say(f"{at}/per_kilo", t["grams"] / t["wax"] * 1000 if t["wax"] else None)

    percents = ("pour loss", "reject rate")
    tables = {
        "Settings": ("name | value", [("currency", "USD"), ("cost method", "latest"), ("fragrance basis", "blend" if of_blend else "wax"),
            *((k, f"{text(v)} %" if k in percents else v) for k, v in s.items())]),
        "Materials": ("name | kind | pack size | pack price | density | drops per mL",
            [(m, x[0], x[2], listed[m], x[3] or "", x[4] or "") for m, x in materials.items()]),
        "Purchases": ("date | material | quantity | amount paid", sorted((d, m, n, paid) for m, x in buys.items() for d, n, paid in x)),
        "Recipes": ("recipe | material | amount | per", rows),
        "Jars": ("jar | fill weight", [(j, f"{text(g)} g") for j, g in jars.items()]),
        "Jar parts": ("jar | material | count | finish",
            [(j, *p) for j in jars for p in (("Glass", 1, "any"), ("Bright", 1, "colored"), ("Plain", 1, "natural"))]),
        "Products": ("product | recipe | jar | finish | list price | minutes per unit",
            [(c, p["recipe"], p["jar"], p["finish"], 15, p["minutes"] or "") for c, p in products.items()]),
        "Sales": ("date | product | quantity | unit price", [(*x, 15) for x in sorted(lines)]),
    }
    if pours:
        tables["Pours"] = ("date | product | units", sorted(pours))
    with open(f"{folder}/{b}.txt", "w") as f:
        f.write("\n\n".join("\n".join([f"[{name}]", head, *(" | ".join(map(text, row)) for row in body)]) for name, (head, body) in tables.items()))


for b in range(1, books + 1):
    book(b)
out.close()
