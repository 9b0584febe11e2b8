# Makes up books of a few jars and says, in exact fractions, how many jars of each
# finish the first run of new jars has: the usual batch, shared as the jar of the
# nearest size sold over 24 months, net of refunds; as all jars where that sold none.
#
# Usage: first.py FOLDER BOOKS; writes BOOK.txt (tables as text) and expected.tsv
# there, with nan for what nobody can know.
import random
import sys
from datetime import date, timedelta
from fractions import Fraction as F

folder, books = sys.argv[1], int(sys.argv[2])
draw = random.Random(5)
NEW = (70, 130, 190, 260)  # g of candle in the new jars
FROM, TODAY = date(2024, 11, 6), date(2026, 11, 5)
out = open(f"{folder}/expected.tsv", "w")


def share(lines, products):
    c, n = (max(0, sum(u for _, p, u, _ in lines if products[p][2] == f)) for f in ("colored", "natural"))
    return F(c, c + n) if c + n else None


for b in range(1, books + 1):
    loss, pitcher = draw.randint(0, 5), draw.randint(5, 40) * 100
    wax, oil, load = F(draw.randint(84, 92), 100), F(draw.randint(93, 104), 100), F(draw.randint(4, 10), 100)
    blend = (1 + load) / (1 / wax + load / oil)  # g/mL
    jars, written = {}, []
    for i, name in enumerate(draw.sample(["Ant", "Bee", "Cat", "Dog"], draw.randint(2, 4))):
        if draw.random() < 0.3:
            ml, filled = draw.randint(80, 400), draw.randint(70, 95)
            jars[name] = ml * F(filled, 100) * blend
            written.append((name, "", f"{ml} mL", f"{filled} %"))
        else:
            jars[name] = draw.randint(50, 300) + F(2**i, 10)
            written.append((name, f"{float(jars[name])} g", "", ""))
    recipes = {"Rose": True, "Sea": True, "Bare": False}  # with dye or without
    # The dye weighs nothing here, so that a jar holds the same in both finishes.
    products = {f"{r}{j}{f[0]}": (r, j, f) for r, dyed in recipes.items() for j in jars for f in ("colored", "natural")
                if draw.random() < 0.8 and (dyed or f == "natural")}
    silent = draw.choice([None, None, draw.choice(list(jars))])  # a jar without sales
    channels = {"Stall": False, "Web": False, "Store": True}
    sales = []
    for _ in range(draw.randint(5, 40)):
        p = draw.choice(list(products))
        if products[p][1] != silent:
            sales.append((date(2024, 9, 20) + timedelta(draw.randint(0, 790)), p, draw.randint(1, 9) * (1 if draw.random() < 0.8 else -1), draw.choice(list(channels))))
    counted = [x for x in sales if FROM <= x[0] <= TODAY and not channels[x[3]]]
    for fill in NEW:
        sold = {products[p][1] for p in products}
        near = min((j for j in jars if j in sold), key=lambda j: abs(jars[j] - fill))
        there = [x for x in counted if products[x[1]][1] == near]
        part = share(there, products)
        part = share(counted, products) if part is None else part
        n = max(1, pitcher * F(100 - loss, 100) // fill)
        for r, dyed in recipes.items():
            colored = None if part is None else int(n * part + F(1, 2))
            runs = {"natural": n} if not dyed else {"colored": colored, "natural": None if part is None else n - colored}
            for f, jars_of in runs.items():
                out.write(f"{b}/{fill}/{r}/{f}/usual_batch\t{n}\n{b}/{fill}/{r}/{f}/first_run\t{'nan' if jars_of is None else jars_of}\n")
    tables = {
        "Settings": ("name | value", [("currency", "USD"), ("pour loss", f"{loss} %"), ("pitcher capacity", f"{pitcher} g")]),
        "Materials": ("name | kind | pack size | pack price | density | drops per mL", [("Wax", "wax", "1 kg", 9, float(wax), ""),
            ("Oil", "fragrance", "500 g", 30, float(oil), ""), ("Red", "dye", "100 g", 12, "", ""), ("Glass", "jar", "1 ct", 1.5, "", "")]),
        "Recipes": ("recipe | material | amount | per", [row for r, dyed in recipes.items()
            for row in ((r, "Wax", 1, ""), (r, "Oil", float(load * 1000), "g/kg"), *([(r, "Red", "0", "g/kg")] if dyed else []))]),
        "Jars": ("jar | fill weight | capacity | fill %", written),
        "Jar parts": ("jar | material | count", [(j, "Glass", 1) for j in jars]),
        "Products": ("product | recipe | jar | finish | list price", [(k, *p, 15) for k, p in products.items()]),
        "Channels": ("channel | fee % | wholesale", [(c, "0 %", "yes" if w else "no") for c, w in channels.items()]),
        "Sales": ("date | product | quantity | unit price | channel", [(d, p, u, 15, c) for d, p, u, c in sorted(sales)]),
    }
    with open(f"{folder}/{b}.txt", "w") as f:
        f.write("\n\n".join("\n".join([f"[{name}]", head, *(" | ".join(map(str, row)) for row in body)]) for name, (head, body) in tables.items()))
out.close()
