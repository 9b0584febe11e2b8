# Weighs out the pours of plans anew, in exact fractions: from the jars that each
# pour fills, what has to be in it, what a scale of 2 g shows of that, how many
# drops it takes, by when it has to be poured to
# cure, what comes from the shelf, and by when oil has to be ordered.
#
# Usage: doses.py PLAN.json ...; prints PLAN/POUR/MATERIAL/FIGURE TAB NUMBER lines,
# nan for what is not to be there.
import json
import math
import sys
from datetime import date, timedelta
from fractions import Fraction as F

TODAY, FAIR = date(2026, 10, 1), date(2026, 12, 5)
LB = F("453.59237")
FILL = {"RC": 121, "RN": 233, "SC": 233, "SN": 121}
DROPS = {"Red": F(22) / F("0.92"), "Blue": F(18) / F("0.95")}  # per gram
RATES = {  # grams per gram of wax
    "Rose": {"Oil": F(8, 100), "Red": 6 / LB / DROPS["Red"]},
    "Sea": {"Oil": F(55, 1000), "Blue": 24 / LB / DROPS["Blue"], "Glow": F(3, 1000)},
}
HELD = {"RC": 4, "SN": 30}  # candles
OIL = 300  # grams on hand; more of it comes within 8 days
DYES = ("Red", "Blue", "Glow")


def nearest(x, step):
    return math.floor(x / step + F(1, 2) + F(1, 10**9)) * step


for number, path in enumerate(sys.argv[1:]):
    plan = json.load(open(path))
    oil, wanted_by = F(0), math.nan
    for d in plan["demand"]:
        if d["product"] in HELD:
            print(f"{number}/pull/{d['product']}/quantity\t{min(d['bring'], HELD[d['product']])}")
    for place, pour in enumerate(plan["pours"]):
        rates = {m: r for m, r in RATES[pour["recipe"]].items() if pour["finish"] == "colored" or m not in DYES}
        blend = sum(F(j["units"] * FILL[j["product"]]) for j in pour["jars"]) / (1 - F(3, 100))
        wax = blend / (1 + sum(rates.values()))
        at = f"{number}/pours/{place}"
        print(f"{at}/blend_grams\t{float(blend)!r}")
        print(f"{at}/due\t{(FAIR - timedelta(days=17 + 3) - TODAY).days}")
        for m, grams in {"Wax": wax, **{m: wax * r for m, r in rates.items()}}.items():
            row = dict.fromkeys(("grams", "exact_grams", "drops", "exact_drops", "dose_error"), math.nan)
            row["exact_grams"] = grams
            if m == "Oil":
                oil += grams
                if oil > OIL and math.isnan(wanted_by):
                    wanted_by = (date.fromisoformat(pour["day"]) - timedelta(days=8) - TODAY).days
            if m in DROPS:
                exact = grams * DROPS[m]
                row["exact_drops"], row["drops"] = exact, max(1, nearest(exact, 1))
                row["dose_error"] = (row["drops"] - exact) / exact
            if m not in DROPS or row["drops"] >= 60:
                row["grams"] = nearest(grams, 2)
            if m not in DROPS:
                row["dose_error"] = (row["grams"] - grams) / grams
            for field, v in row.items():
                print(f"{at}/weigh/{m}/{field}\t{float(v)!r}")
    print(f"{number}/pull/Oil/quantity\t{float(min(oil, OIL))!r}")
    print(f"{number}/buy/Oil/need\t{float(oil) if oil > OIL else math.nan!r}")
    print(f"{number}/buy/Oil/order_by\t{wanted_by}")
