#!/usr/bin/env python3
"""Draws every job of the sample's service maps, and looks at the drawings.

Each must be well-formed XML of the elements that we use, without ids, links, scripts or styles; have a title and a
description; and keep its texts on the page. The teardown must name all that comes apart, each with what happens to it; the
bars of the cost must add up to what the kit says that it costs. With Graphviz out of reach the teardown must be a list.
On paper, as the job sheet has them, their letters must be large enough to be read (also those of all jobs at once), each
drawing must go on one page, and together they must have every arrow of the whole.

    python3 tests/web/check_svg.py PROGRAM [--few]

--few: some jobs of each vehicle, for programs that are slowed down.
"""
import csv
import json
import os
import re
import subprocess
import sys
import tempfile
from collections import defaultdict
from decimal import Decimal
from pathlib import Path
from xml.etree import ElementTree

SAMPLE = Path(__file__).resolve().parents[2] / "sample-catalog"
SVG = "{http://www.w3.org/2000/svg}"
ELEMENTS = {SVG + name for name in "svg title desc rect g path text circle".split()}
VEHICLES = {
    "tern": (["--make", "Velmora", "--model", "Tern", "--built", "2004"],
             [["engine=tq20", "gearbox=manual", "ac=yes"], ["engine=tq23", "gearbox=automatic", "ac=no"], []]),
    "pike": (["--make", "Brannoch", "--model", "Pike", "--built", "2001"],
             [["engine=bw28", "gearbox=manual", "ac=yes", "drive=4wd"], []]),
}
FEW = ("cooling-system", "timing-drive", "accessory-belt", "front-brakes")  # of the vehicles after the first
ONLY_FEW = "--few" in sys.argv[2:]
wrong = []


def expect(what, where, words):
    if not what:
        wrong.append(f"{where}: {words}")


def look(text, where):
    root = ElementTree.fromstring(text)
    width, height = float(root.get("width")), float(root.get("height"))
    expect(root.tag == SVG + "svg" and root.get("role") == "img", where, "is no svg with the role img")
    expect(root[0].tag == SVG + "title" and root[0].text, where, "has no title")
    expect(root[1].tag == SVG + "desc" and root[1].text, where, "has no description")
    expect(root.get("viewBox") == f"0 0 {width:g} {height:g}", where, "has another viewBox than size")
    for element in root.iter():
        expect(element.tag in ELEMENTS, where, f"has a {element.tag}")
        for name, value in element.attrib.items():
            expect(name not in ("id", "style", "class") and "href" not in name and not name.startswith("on"), where,
                   f"has the attribute {name}")
            expect("url(" not in value, where, "refers to something")
        if element.tag == SVG + "text":
            expect(int(element.get("font-size", 12)) >= 11, where, f"has small text: {element.text}")
    for element in root.findall(SVG + "text"):  # those in groups are shifted
        expect(0 <= float(element.get("x")) <= width and 0 <= float(element.get("y")) <= height, where,
               f"has text beside the page: {element.text}")
    return root


def words_of(root):
    return [element.text or "" for element in root.iter(SVG + "text")]


GROUPS = ["What the job is about: to be renewed", "What the job is about: off and back on", "Drained and filled",
          "Only in the way: removed", "Only in the way: set aside, lines stay on", "Only in the way: loosened"]


def check_teardown(root, kit, names, where):
    """Each component stands in the description under what happens to it, and its name is drawn."""
    description = root.find(SVG + "desc").text
    joined = re.sub(r"\s+", " ", " ".join(words_of(root)))
    places = sorted((description.index(group), group) for group in GROUPS if group in description)
    for step in kit["teardown"]:
        known = names.get(step["component"]) or {step["component"].replace("-", " ")}
        if step["target"]:
            groups = GROUPS[:2]
        else:
            groups = [GROUPS[3 + ["removed", "aside", "loosened"].index(step["state"])]]
        inside = [group for (at, group), (end, _) in zip(places, places[1:] + [(len(description), "")])
                  if any(re.search(r"[:,] " + re.escape(name) + r"( \(to be asked\))?[,.]", description[at:end])
                         for name in known)]
        expect(set(groups) & set(inside), where, f"has {known} in {inside}, not in {groups}")
        expect(any(all(word in joined for word in name.split()) for name in known), where, f"does not show {known}")


def check_cost(root, kit, where):
    """Every amount under a heading, up to `Together`, is part of what stands there."""
    texts, sums, checked, section = words_of(root), defaultdict(Decimal), 0, ""
    seen = defaultdict(set)
    for label, amount in zip(texts, texts[1:]):
        if label in ("What the money is for", "Who gets it"):
            section, sums = label, defaultdict(Decimal)
        found = re.fullmatch(r"([\d.]+) ([A-Z]{3})", amount)
        if not found or label.startswith("Deposits"):
            continue
        if label == "Together":
            expect(sums[found[2]] == Decimal(found[1]), where, f"{section} adds up to {sums}, not {amount}")
            seen[found[2]].add(Decimal(found[1]))
            checked += 1
        else:
            sums[found[2]] += Decimal(found[1])
    totals = {t["total"]["currency"]: Decimal(t["total"]["amount"]) for t in kit["cost"]["totals"]}
    expect({c: {t} for c, t in totals.items()} == seen, where, f"shows {dict(seen)}, the kit says {totals}")
    expect(checked == 2 * len(totals), where, f"has {checked} sums")


PAPER = 180, 245  # mm: what A4 and Letter leave between the sheet's margins, heading and caption taken off
PX = 25.4 / 96    # mm
CAPITALS = 0.7    # of the size of the letters, in the usual fonts


def check_paper(run, name, where):
    """The sheet's drawings in mm: the page's width is theirs at the most, as its style says (max-width: 100%)."""
    page, whole = run("sheet", name).stdout, run("draw", name, "teardown").stdout
    drawings = [look(text, f"{where} on paper") for text in re.findall(r"<svg .*?</svg>", page, re.S)]
    arrows, texts = set(), 0
    whole = look(whole, f"{where} teardown")
    listed = any("page too large" in " ".join(words_of(root)) for root in drawings)
    expect(listed or len(page) < 200_000, where, f"has a sheet of {len(page)} bytes")
    for root in drawings + [whole]:
        width, height = float(root.get("width")), float(root.get("height"))
        scale = min(1, PAPER[0] / (width * PX)) * PX
        long = root is whole or root[0].text.startswith("How the belts")  # several below one another
        expect(long or height * scale <= PAPER[1], where, f"has a drawing {height * scale:.0f} mm high: {root[0].text}")
        for element in root.iter(SVG + "text"):
            size = int(element.get("font-size", 12)) * scale
            expect(size * CAPITALS >= 2, where, f"has letters of {size:.2f} mm: {element.text}")
            texts += 1
        arrows |= arrows_of(root) if root is not whole else set()
    expect(drawings and texts, where, "has no drawing in its sheet")
    missing = arrows_of(whole) - arrows
    expect(listed or not missing, where, f"lacks arrows in its sheet: {sorted(missing)}")
    return len(drawings)


def arrows_of(root):
    """(from, to) by the description: "Before radiator: condenser, fan. " """
    return {(name, after) for after, names in re.findall(r"Before (.+?): (.+?)\. ", root.find(SVG + "desc").text + " ")
            for name in names.split(", ")}


def check_kit(run, name, names, belts, where):
    kit = json.loads(run("--json", "kit", "show", name).stdout)
    for kind in ("teardown", "cost", "belt"):
        drawn = run("draw", name, kind)
        if kind == "belt" and drawn.returncode == 3:
            expect("no belt to draw" in drawn.stderr and not drawn.stdout, where, drawn.stderr)
            continue
        expect(drawn.returncode == 0, where, drawn.stderr)
        root = look(drawn.stdout, f"{where} {kind}")
        if kind == "belt":
            belts.append(" ".join(words_of(root)))
        elif kind == "teardown":
            check_teardown(root, kit, names, f"{where} {kind}")
        else:
            check_cost(root, kit, f"{where} {kind}")
        if kind == "cost":
            expect(json.loads(run("--json", "draw", name, kind).stdout)["svg"] == drawn.stdout, where, "differs as JSON")
    without = run("draw", name, "teardown", env={"GVBINDIR": "/nowhere"})
    root = look(without.stdout, f"{where} list")
    if re.search(r"Before ", root.find(SVG + "desc").text):
        expect("here is a list" in " ".join(words_of(root)), where, "is no list without Graphviz")
    check_teardown(root, kit, names, f"{where} list")


def main():
    program = os.path.abspath(sys.argv[1])
    with tempfile.TemporaryDirectory() as place:
        def run(*words, env=None):
            return subprocess.run([program, "--db", place + "/i.db", *words], capture_output=True, text=True, check=False,
                                  env={**os.environ, "SOURCE_DATE_EPOCH": "1790000000", **(env or {})})
        assert run("import", str(SAMPLE)).returncode in (0, 1)
        kits, belts, most = 0, [], 0
        for folder, (vehicle, settings) in VEHICLES.items():
            with open(SAMPLE / folder / "jobs.csv", encoding="utf-8", newline="") as file:
                jobs = sorted({row["job"] for row in csv.DictReader(file)})
            names = defaultdict(set)
            with open(SAMPLE / folder / "components.csv", encoding="utf-8", newline="") as file:
                for row in csv.DictReader(file):
                    names[row["component"]].add(row["name"] or row["component"].replace("-", " "))
            for number, facts in enumerate(settings):
                car = f"{folder}{number}"
                run("vehicle", "add", car, *vehicle, *(word for fact in facts for word in ("--with", fact)))
                built = [job for job in (FEW if ONLY_FEW else jobs)
                         if run("kit", "build", car + job, "--vehicle", car, "--job", job).returncode == 0]
                for job in built:
                    if job in FEW or not number:
                        check_kit(run, car + job, names, belts, f"{car} {job}")
                        check_paper(run, car + job, f"{car} {job}")
                        kits += 1
                for asked in ([job for job in built if job in ("clutch", "cooling-system", "timing-drive")], built):
                    words = [word for job in asked for word in ("--job", job)]
                    expect(run("kit", "build", car + "together", "--vehicle", car, *words).returncode in (0, 1), car, "no kit")
                    most = max(most, check_paper(run, car + "together", f"{car} {' '.join(asked)}"))
    expect(kits > (12 if ONLY_FEW else 40), "sample", f"only {kits} kits were drawn")
    expect(most > 2, "sample", f"all jobs at once are {most} drawings")
    expect(any("within its range" in text for text in belts), "sample", "no belt fits")
    expect(not any("NOT within" in text for text in belts), "sample", "some belt does not fit")
    for line in wrong[:40]:
        print(line)
    print(f"drawings: {kits} kits, {len(belts)} with belts, {len(wrong)} wrong")
    return 1 if wrong else 0


sys.exit(main())
