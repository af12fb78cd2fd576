#!/usr/bin/env python3
"""The bulk half of the sample catalogue: everything below bulk/ is written by this script and by nothing else.

It reads the half that is kept by hand (service maps, maker parts, price guide) and adds what a real trade adds: a
hardware range in two brands that covers every size the maps ask for, copies of the maker's parts by other brands,
and the offers of the suppliers. The same input gives the same bytes: every "random" choice is seeded by the row it
is made for, so one new part changes its own rows and no others.

    python3 sample-catalog/generate.py
"""
import csv
import random
from decimal import ROUND_HALF_UP, Decimal
from pathlib import Path

HERE = Path(__file__).resolve().parent
BULK = HERE / "bulk"
PLATFORMS = ("tern", "pike")

# Gaps the README promises: nobody copies these parts, and nobody offers those in NOT_OFFERED.
NOT_COPIED = {"1141-0355", "1124-0015", "B12-016", "B33-105"}
NOT_OFFERED = {"1141-0355", "B33-105"}

# The brands that copy a range of maker parts: (brand, prefix of its numbers, price against the maker's, share copied).
# A brand marked False in PRINTS_APPLICATIONS only says which maker number it replaces.
COPIES = {
    "cooling": [("Halvane", "HV-", 0.62, 0.9), ("Plainway", "PW", 0.38, 0.5)],
    "brakes": [("Kestova", "KV ", 0.66, 0.9), ("Plainway", "PW", 0.40, 0.5)],
    "belts": [("Norrick", "NR-", 0.64, 1.0)],
    "seals": [("Fenwright", "FW ", 0.60, 0.9)],
    "electric": [("Pellworth", "P-", 0.65, 0.9), ("Plainway", "PW", 0.42, 0.3)],
    "chassis": [("Tarnwell", "TW-", 0.60, 1.0), ("Plainway", "PW", 0.36, 0.6)],
    "drive": [("Quillmark", "QM", 0.68, 0.9)],
    "filters": [("Oarlock", "OL-F", 0.55, 1.0), ("Plainway", "PW", 0.35, 0.5)],
}
PRINTS_APPLICATIONS = {"Plainway": False}
PART_COLUMNS = "brand,part_number,part_type,description,spec,unit,gtin"
APPLICATION_COLUMNS = "brand,part_number,make,model,built_from,built_to,when,position,quantity"
CROSSREF_COLUMNS = "brand,part_number,other_brand,other_number,relation"
OFFER_COLUMNS = ("supplier,brand,part_number,supplier_code,price,currency,pack_quantity,minimum_packs,stock,"
                 "lead_days,core_deposit,valid_to")
BRAND_LEVEL = {**{brand: level for copies in COPIES.values() for brand, _, level, _ in copies},
               "Velmora": 1.0, "Brannoch": 1.0, "Ironmoss": 1.0, "Studwell": 0.8, "Oarlock": 1.0, "Saltmere": 0.82}

# Sizes that the hardware brands keep whether a map asks for them or not.
STANDARD = [
    *[("flange-bolt", f"M{d}x{pitch}x{length} 8.8")
      for d, pitch, lengths in ((6, "1.0", (12, 16, 20, 25, 30, 35, 40, 50, 60)),
                                (8, "1.25", (16, 20, 25, 30, 35, 40, 50, 60, 80)),
                                (10, "1.5", (25, 30, 35, 45, 55, 60, 80, 100)),
                                (12, "1.75", (40, 60, 80)))
      for length in lengths],
    *[("flange-bolt", f"M{d}x{pitch}x{length} 10.9")
      for d, pitch in ((8, "1.25"), (10, "1.25"), (10, "1.5"), (12, "1.25")) for length in (25, 30, 40, 50, 60)],
    *[("flange-nut", spec) for spec in ("M5", "M6", "M8", "M10", "M10x1.25", "M12", "M12x1.25")],
    *[("lock-nut", spec) for spec in ("M6", "M8", "M10", "M10x1.25", "M12x1.25", "M12", "M14x1.5")],
    *[("o-ring", f"AS568-{dash}") for dash in ("010", "012", "014", "016", "018", "020", "110", "112", "115", "120",
                                                "210", "214", "218", "222", "325")],
    *[("spring-clamp", f"{size} mm") for size in (12, 14, 16, 18, 20, 22, 25, 27, 30, 32, 35, 38, 41, 45)],
    *[("worm-clamp", f"{size} mm") for size in ("8-16", "12-22", "16-27", "25-40", "32-50", "40-60", "60-80", "70-90")],
    *[("ear-clamp", f"{size} mm") for size in ("10.5", "12.3", "14.5", "17.0", "21.0")],
    *[("sealing-washer", f"{size} {metal}") for metal in ("copper", "aluminium")
      for size in ("8x12x1.0", "10x14x1.0", "12x16x1.5", "14x18x1.5", "14x20x1.5", "16x22x1.5", "18x24x1.5")],
    *[("split-pin", size) for size in ("2.0x25", "3.2x40", "4.0x45")],
]
HARDWARE_BRANDS = (("Ironmoss", "IM", 1.0), ("Studwell", "SW-", 0.7))

# Who sells what: brands, price level, share of the range kept, and which of the guide's pack sizes (all, first, last).
SUPPLIERS = {
    "harbour": (("Halvane", "Norrick", "Kestova", "Fenwright", "Pellworth", "Tarnwell", "Quillmark", "Oarlock",
                 "Ironmoss"), "1.00", 0.75, "first"),
    "nordlager": (("Halvane", "Norrick", "Kestova", "Fenwright", "Tarnwell", "Quillmark", "Pellworth"),
                  "0.88", 0.80, "all"),
    "tinshed": (("Plainway", "Saltmere", "Studwell", "Oarlock"), "1.06", 0.80, "last"),
    "boltbarn": (("Ironmoss", "Studwell", "Fenwright"), "0.94", 1.00, "all"),
    "osterby": (("Velmora", "Brannoch", "Fenwright"), "1.12", 0.35, "first"),
    "westquay": (("Velmora", "Brannoch", "Halvane", "Kestova", "Plainway"), "0.92", 0.45, "first"),
    "velmora-desk": (("Velmora",), "1.00", 1.00, "first"),
    "pikeyard": (("Brannoch", "Plainway"), "0.98", 1.00, "first"),
    "fluidhouse": (("Oarlock", "Saltmere"), "0.90", 1.00, "last"),
}
CERTAIN = ("velmora-desk", "pikeyard", "boltbarn", "fluidhouse")  # of these nothing is out of date or out of stock
RATE = Decimal("1.16")  # as rates.csv: one GBP in EUR


def rows(name):
    with open(HERE / name, encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def write(name, columns, records):
    with open(BULK / name, "w", encoding="utf-8", newline="") as file:
        out = csv.DictWriter(file, columns.split(","), restval="", lineterminator="\n")
        out.writeheader()
        out.writerows(records)


def guide():
    lines = (HERE / "price-guide.txt").read_text(encoding="utf-8").splitlines()
    fields = [line.split("|") for line in lines if line and not line.startswith("#")]
    return {name: {"price": Decimal(price), "deposit": deposit, "range": group, "packs": packs.split(",")}
            for name, price, deposit, group, packs in fields}


def number(*words, digits=5):
    """A catalogue number that depends on what it stands for only."""
    return str(random.Random("|".join(words)).randrange(10 ** (digits - 1), 10 ** digits))


def gtin(*words):
    """GTIN-13 from the range that is reserved for use inside a company (prefix 20)."""
    body = "20" + number(*words, digits=10)
    total = sum(int(digit) * (3 if place % 2 else 1) for place, digit in enumerate(body))
    return body + str(-total % 10)


# ---- hardware: the standard sizes and whatever the service maps ask for

def asked_for(prices):
    for platform in PLATFORMS:
        for row in rows(f"{platform}/fastenings.csv"):
            if row["spec"] and prices[row["part_type"]]["range"] == "hardware":
                yield row["part_type"], row["spec"]


def hardware(prices):
    for part_type, spec in dict.fromkeys([*asked_for(prices), *STANDARD]):
        for brand, prefix, share in HARDWARE_BRANDS:
            if share < random.Random(f"keeps {brand} {part_type} {spec}").random():
                continue
            yield {"brand": brand, "part_number": prefix + number(brand, part_type, spec), "part_type": part_type,
                   "description": part_type.replace("-", " ").capitalize(), "spec": spec, "unit": "each",
                   "gtin": gtin(brand, part_type, spec)}


# ---- copies of the maker's parts

def copies(parts, prices, crossrefs, superseded):
    """(copy, the maker part it stands for); a brand that has one by hand gets no second."""
    by_hand = {(row["brand"], row["other_number"]) for row in crossrefs}
    for part in parts:
        original = part["part_number"]
        if not part["maker_part"] or original in superseded | NOT_COPIED or part["status"] == "discontinued":
            continue
        for brand, prefix, _, share in COPIES.get(prices[part["part_type"]]["range"], ()):
            if (brand, original) in by_hand or share < random.Random(f"{brand} {original}").random():
                continue
            same = {column: part[column] for column in ("part_type", "description", "spec", "unit")}
            yield same | {"brand": brand, "part_number": prefix + number(brand, original),
                          "gtin": gtin(brand, original)}, part


def copied_applications(pairs, applications):
    for copy, part in pairs:
        if PRINTS_APPLICATIONS.get(copy["brand"], True):
            for row in applications:
                if (row["brand"], row["part_number"]) == (part["brand"], part["part_number"]):
                    yield row | {"brand": copy["brand"], "part_number": copy["part_number"]}


def copied_crossrefs(pairs):
    for copy, part in pairs:
        yield {"brand": copy["brand"], "part_number": copy["part_number"], "other_brand": part["brand"],
               "other_number": part["part_number"], "relation": "same"}


# ---- offers

def size_factor(part):
    """A thick bolt costs more than a thin one: the first number of the spec, against 8 mm."""
    diameter = part["spec"].split("x")[0].split(" ")[0].lstrip("M")
    threaded = part["part_type"].endswith(("bolt", "nut")) and diameter.isdigit()
    return Decimal(diameter) / 8 if threaded else Decimal(1)


def pack_price(part, entry, pack, level, dice):
    level = Decimal(level) * Decimal(str(BRAND_LEVEL[part["brand"]])) * Decimal(dice.randrange(93, 109)) / 100
    bulk = Decimal("0.88") if Decimal(pack) >= 5 else Decimal(1)
    return entry["price"] * size_factor(part) * Decimal(pack) * level * bulk


def chosen_packs(packs, which):
    return {"all": packs, "first": packs[:1], "last": packs[-1:]}[which]


def validity(dice):
    return dice.choices(("", "2027-12-31", "2025-12-31"), (86, 9, 5))[0]


def offer(supplier, currency, part, entry, pack, level):
    dice = random.Random(f"{supplier} {part['brand']} {part['part_number']} {pack}")
    rate = RATE if currency == "GBP" else Decimal(1)
    price = max(pack_price(part, entry, pack, level, dice) / rate, Decimal("0.20"))
    certain = supplier in CERTAIN
    code = number(supplier, part["brand"], part["part_number"], pack, digits=6)
    return {"supplier": supplier, "brand": part["brand"], "part_number": part["part_number"],
            "supplier_code": supplier[:2].upper() + code,
            "price": price.quantize(Decimal("0.01"), ROUND_HALF_UP), "currency": currency, "pack_quantity": pack,
            "minimum_packs": 2 if supplier == "fluidhouse" and dice.random() < 0.3 else 1,
            "stock": "" if dice.random() < 0.3 else dice.randrange(20 if certain else 0, 60),
            "lead_days": dice.choice(("", 1, 2)) if certain else dice.choice(("", "", 1, 3, 7)),
            "core_deposit": f"{Decimal(entry['deposit']) / rate:.2f}" if entry["deposit"] else "",
            "valid_to": "" if certain else validity(dice)}


def offers(supplier, currency, parts, prices):
    brands, level, share, which = SUPPLIERS[supplier]
    for part in parts:
        kept = random.Random(f"{supplier} keeps {part['brand']} {part['part_number']}").random() <= share
        if part["brand"] in brands and kept:
            entry = prices[part["part_type"]]
            for pack in chosen_packs(entry["packs"], which):
                yield offer(supplier, currency, part, entry, pack, level)


def main():
    prices, parts, crossrefs = guide(), rows("parts.csv"), rows("crossrefs.csv")
    superseded = {row["part_number"] for row in rows("supersessions.csv")}
    by_hand = {(row["brand"], row["part_number"]) for row in rows("offers.csv")}
    pairs = list(copies(parts, prices, crossrefs, superseded))
    small = list(hardware(prices))
    BULK.mkdir(exist_ok=True)
    copied = [copy for copy, _ in pairs]
    write("parts-hardware.csv", PART_COLUMNS, small)
    write("parts-copies.csv", PART_COLUMNS, copied)
    write("applications-copies.csv", APPLICATION_COLUMNS, copied_applications(pairs, rows("applications.csv")))
    write("crossrefs-copies.csv", CROSSREF_COLUMNS, copied_crossrefs(pairs))
    for_sale = [part for part in parts + small + copied
                if part["part_number"] not in superseded | NOT_OFFERED and part.get("status") != "discontinued"
                and (part["brand"], part["part_number"]) not in by_hand]
    for row in rows("suppliers.csv"):
        write(f"offers-{row['supplier']}.csv", OFFER_COLUMNS,
              offers(row["supplier"], row["currency"], for_sale, prices))


if __name__ == "__main__":
    main()
