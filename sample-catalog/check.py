#!/usr/bin/env python3
"""Holds the sample catalogue to what its README promises.

Prints the counts; exit status 1 and a list when something is wrong.

    python3 sample-catalog/check.py
"""
import csv
import re
import sys
from collections import Counter, defaultdict
from pathlib import Path

HERE = Path(__file__).resolve().parent

# kind: (columns that must be there and stated, columns that may be)
KINDS = {
    "suppliers": ("supplier currency", "name minimum_order ship_days tax_percent"),
    "shipping": ("supplier goods_from charge", ""),
    "parts": ("brand part_number part_type", "description spec unit gtin status maker_part"),
    "offers": ("supplier brand part_number price currency",
               "supplier_code pack_quantity minimum_packs stock lead_days core_deposit valid_to"),
    "applications": ("brand part_number make model", "built_from built_to when position quantity"),
    "crossrefs": ("brand part_number other_brand other_number relation", "note"),
    "supersessions": ("brand part_number new_brand new_number", "quantity group date"),
    "contents": ("brand part_number item_type", "item_brand item_number item_spec quantity"),
    "platforms": ("platform make model", "built_from built_to when"),
    "components": ("platform component part_type",
                   "name quantity unit spec position when wear_km wear_months inspect steps"),
    "fastenings": ("platform component item kind part_type quantity reuse",
                   "unit spec joint torque angle tool at when note"),
    "access": ("platform component needs state", "to when"),
    "sequence": ("platform first then", "when note"),
    "circuits": ("platform circuit capacity fluid_type", "spec mix_percent freeze_to diluent_type diluent_spec when"),
    "opens": ("platform component circuit share_percent", "at when"),
    "consumables": ("platform component part_type quantity unit", "spec at when note"),
    "cautions": ("platform component text", "when"),
    "jobs": ("platform job", "component circuit action when"),
    "rates": ("currency in rate", "date"),
    "facts": ("key where_to_look", "values platform"),
    "pulleys": ("platform belt order component x y diameter side", "slack_mm when"),
}
CHOICES = {
    ("fastenings", "kind"): "bolt nut screw stud clip pin clamp gasket seal o-ring sealant",
    ("fastenings", "reuse"): "never check always",
    ("access", "state"): "loosened aside removed",
    ("crossrefs", "relation"): "same instead",
    ("jobs", "action"): "renew refit",
    ("pulleys", "side"): "ribs back",
}
NUMBERS = ("quantity price pack_quantity minimum_packs stock lead_days core_deposit capacity mix_percent freeze_to "
           "share_percent torque angle wear_km wear_months goods_from charge rate x y diameter slack_mm order "
           "tax_percent minimum_order ship_days").split()
POSITIONS = set("front rear left right upper lower inner outer".split())
CLAUSE = re.compile(r"\s*\w+\s*(!=|<=|>=|=|<|>)\s*[\w.|-]+\s*")
STATES = {"", "loosened", "aside", "removed"}
PLAIN_STEPS = {"remove": "", "fit": "", "set-aside": "", "refit": "", "loosen": "", "tighten": ""}
LEAST = {"platforms": 2, "jobs": 8, "components": 80, "fastenings": 200, "parts": 500, "suppliers": 7, "offers": 1200}
UNKNOWN_ON_PURPOSE = {("Corrowe", "CR 7781")}  # an offer for a part that no catalogue describes

problems = []
tables = defaultdict(list)


def wrong(row, words):
    problems.append(f"{row['_file']}:{row['_line']}: {words}" if row else words)


def kind_of(path, header):
    """As formats.md §1: the kind with the most required columns among those whose required columns are all there."""
    fits = {kind: len(must.split()) for kind, (must, _) in KINDS.items() if set(must.split()) <= set(header)}
    best = [kind for kind, count in fits.items() if count == max(fits.values())]
    if len(best) != 1:
        problems.append(f"{path}: the header does not tell its kind: {best or header}")
    return best[0] if len(best) == 1 else None


def load(path):
    name = str(path.relative_to(HERE))
    with open(path, encoding="utf-8", newline="") as file:
        reader = csv.DictReader(file, strict=True)
        kind = kind_of(name, reader.fieldnames)
        if not kind:
            return
        must, may = (columns.split() for columns in KINDS[kind])
        for column in set(reader.fieldnames) - set(must) - set(may):
            problems.append(f"{name}: unknown column {column}")
        if kind not in path.stem:
            problems.append(f"{name}: reads as {kind}")
        for row in reader:
            row |= {"_file": name, "_line": reader.line_num}
            tables[kind].append(row)
            check_cells(kind, must, row)


def check_cells(kind, must, row):
    if None in row or None in row.values():
        wrong(row, "another number of cells than the header")
        return
    for column in must:
        if not row[column]:
            wrong(row, f"{column} is empty")
    for column, value in row.items():
        if not isinstance(value, str) or not value:
            continue
        if value != value.strip():
            wrong(row, f"{column} has blanks at its ends")
        if column in NUMBERS and not re.fullmatch(r"-?\d+(\.\d+)?", value):
            wrong(row, f"{column} is not a number: {value}")
        if (kind, column) in CHOICES and value not in CHOICES[kind, column].split():
            wrong(row, f"{column} is not a choice: {value}")
        if column in ("part_type", "component", "fluid_type") and not re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", value):
            wrong(row, f"{column} is not lower-case words: {value}")
        if column == "when" and not all(CLAUSE.fullmatch(clause) for clause in value.split(";")):
            wrong(row, f"no condition: {value}")
        if column in ("at", "to") and value not in STATES:
            wrong(row, f"no state: {value}")
        if column == "position" and set(value.split()) - POSITIONS:
            wrong(row, f"no position: {value}")


# ---- what refers to what

def names(kind, column):
    return {(row["platform"], row[column]) for row in tables[kind]}


def check_maps():
    components, circuits = names("components", "component"), names("circuits", "circuit")
    for kind in ("fastenings", "access", "opens", "consumables", "cautions", "jobs", "pulleys"):
        for row in tables[kind]:
            for column in ("component", "needs", "belt"):
                key = row["platform"], row.get(column)
                known = components | circuits if (kind, column) == ("access", "component") else components
                if row.get(column) and key not in known:
                    wrong(row, f"no such component: {row[column]}")
            if row.get("circuit") and (row["platform"], row["circuit"]) not in circuits:
                wrong(row, f"no such circuit: {row['circuit']}")
    for row in tables["jobs"]:
        if bool(row["component"]) == bool(row["circuit"]):
            wrong(row, "a job row names one of component and circuit")
    check_steps(components, circuits)
    check_joints()


def check_steps(components, circuits):
    pairs = {(row["platform"], row["component"]): row["steps"].split() for row in tables["components"]}
    for row in tables["sequence"]:
        for step in (row["first"], row["then"]):
            verb, name = step.split(" ", 1)
            key = row["platform"], name
            known = (key in circuits and verb in ("drain", "fill", "bleed")) or (
                key in components and (verb in PLAIN_STEPS or verb in pairs[key]))
            if not known:
                wrong(row, f"no such step: {step}")


def check_joints():
    joints = {}
    for row in tables["fastenings"]:
        if row["joint"]:
            first = joints.setdefault((row["platform"], row["joint"]), row)
            if (first["part_type"], first["spec"]) != (row["part_type"], row["spec"]):
                wrong(row, f"joint {row['joint']} has another part_type or spec elsewhere")


def check_access():
    """Every component's teardown must come to an end, whatever states and conditions: no loop among names."""
    needs = defaultdict(set)
    for row in tables["access"]:
        needs[row["platform"], row["component"]].add((row["platform"], row["needs"]))
    done, path = set(), []

    def visit(node):
        if node in path:
            problems.append("access loop: " + " -> ".join(name for _, name in path[path.index(node):] + [node]))
        elif node not in done:
            path.append(node)
            for other in sorted(needs.get(node, ())):
                visit(other)
            path.pop()
            done.add(node)

    for node in sorted(needs):
        visit(node)


def check_trade():
    parts = Counter((row["brand"], row["part_number"]) for row in tables["parts"])
    suppliers = {row["supplier"] for row in tables["suppliers"]}
    models = {(row["make"], row["model"]) for row in tables["platforms"]}
    for key in (key for key, count in parts.items() if count > 1):
        problems.append(f"{' '.join(key)} is listed twice")
    pairs = (("brand", "part_number"), ("other_brand", "other_number"),
             ("new_brand", "new_number"), ("item_brand", "item_number"))
    for kind in ("offers", "applications", "crossrefs", "supersessions", "contents"):
        for row in tables[kind]:
            for brand, number in pairs:
                key = row.get(brand), row.get(number)
                if row.get(number) and key not in parts and key not in UNKNOWN_ON_PURPOSE:
                    wrong(row, f"no such part: {' '.join(key)}")
    for row in tables["offers"] + tables["shipping"]:
        if row["supplier"] not in suppliers:
            wrong(row, f"no such supplier: {row['supplier']}")
    for row in tables["applications"]:
        if (row["make"], row["model"]) not in models:
            wrong(row, f"no platform for {row['make']} {row['model']}")
    foreign = {row["currency"] for row in tables["offers"]} - {"EUR"}
    for currency in foreign - {row["currency"] for row in tables["rates"]}:
        problems.append(f"no rate for {currency}")
    if not foreign:
        problems.append("no offer in a second currency")


def check_needs_have_types():
    """Each part_type that a map asks for is made by somebody, but for the gap that the README promises."""
    made = {row["part_type"] for row in tables["parts"]}
    not_sold = {"engine-assembly"}  # the engine is only held up
    for kind in ("components", "fastenings", "consumables"):
        for row in tables[kind]:
            if row["part_type"] not in made | not_sold | {"heater-valve-seal"}:
                wrong(row, f"nobody makes a {row['part_type']}")


def check_counts():
    jobs = {row["job"] for row in tables["jobs"]}
    counts = {kind: len(rows) for kind, rows in tables.items()} | {
        "platforms": len({row["platform"] for row in tables["platforms"]}), "jobs": len(jobs)}
    for kind, least in LEAST.items():
        if counts.get(kind, 0) < least:
            problems.append(f"{counts.get(kind, 0)} {kind}; the README promises {least}")
    for job in ("cooling-system", "timing-drive", "front-brakes"):
        if job not in jobs:
            problems.append(f"no job {job}")
    vehicles = re.findall(r"^lastbolt vehicle add (\w+)", (HERE / "README.md").read_text(encoding="utf-8"), re.M)
    if len(set(vehicles)) < 3:
        problems.append("the README adds fewer than 3 vehicles")
    words = [f"{counts[kind]} {kind}" for kind in KINDS if kind in counts] + [f"{len(set(vehicles))} vehicles"]
    print(", ".join(words))


def main():
    for path in sorted(HERE.rglob("*.csv")):
        load(path)
    check_maps()
    check_access()
    check_trade()
    check_needs_have_types()
    check_counts()
    for problem in problems:
        print(problem, file=sys.stderr)
    return 1 if problems else 0


if __name__ == "__main__":
    sys.exit(main())
