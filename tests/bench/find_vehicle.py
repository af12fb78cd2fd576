#!/usr/bin/env python3
"""Whether a vehicle makes `find` quicker: an index of a generated catalogue, every so-manieth part of it listed for one
vehicle, and the same queries with and without that vehicle.

    cmake --preset bench && cmake --build --preset bench --target make_catalog lastbolt find_vehicle
    tests/bench/find_vehicle.py --build .build/bench [--rows 1000000] [--every 500] [--folder SCRATCH] [--queries 600]

Inside one process by find_vehicle.c; then as whole processes, the start of the program and the list of the vehicle
included. The index stays in SCRATCH and is used again. Exit status 1: with the vehicle the median inside one process is
no better than without.
"""
import argparse
import csv
import random
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from find_queries import Catalogue, Maker

VEHICLE = ["vehicle", "add", "wren", "--make", "Orrin", "--model", "Wren", "--built", "2004", "--with", "engine=k16"]
WHOLE = ("hose", "upper hose", "water pump gasket", "front brake")


def write_applications(catalogue, path, every):
    """For the vehicle whole, by build date, or for another engine: most fit, some ask, some do not."""
    hows = [("", ""), ("", ""), ("", ""), ("2004-06", ""), ("", "engine = k16"), ("", "abs = yes"), ("", "engine = k18")]
    with open(catalogue, newline="", encoding="utf-8") as rows, open(path, "w", newline="", encoding="utf-8") as file:
        out = csv.writer(file)
        out.writerow(["brand", "part_number", "make", "model", "built_from", "when"])
        for at, row in enumerate(csv.DictReader(rows)):
            if at % every == 0:
                out.writerow([row["brand"], row["part_number"], "Orrin", "Wren", *hows[at // every % len(hows)]])
            elif at % 2:  # and half of the rest for others
                out.writerow([row["brand"], row["part_number"], "Orrin", f"Lark {at % 40}", "", ""])


def make_index(options, program):
    folder = options.folder
    catalogue, index = folder / f"{options.rows}.csv", folder / f"{options.rows}-{options.every}.db"
    if not catalogue.exists():
        with open(catalogue, "wb") as out:
            subprocess.run([options.build / "tests/make_catalog", str(options.rows)], stdout=out, check=True)
    if not index.exists():
        listed = folder / "applications.csv"
        write_applications(catalogue, listed, options.every)
        run = [program, "--db", index]
        subprocess.run([*run, *VEHICLE], stdout=subprocess.DEVNULL, check=True)
        subprocess.run([*run, "import", catalogue, listed], stdout=subprocess.DEVNULL, check=True)
    return catalogue, index


def make_queries(catalogue, every, count):
    """Frequent words, words of any row, and words of rows that are listed for the vehicle; as kind and text."""
    maker = Maker(Catalogue(catalogue), 1)
    with open(catalogue, newline="", encoding="utf-8") as rows:
        own = [row for at, row in enumerate(csv.DictReader(rows)) if at % every == 0]
    for _ in range(count // 4):
        yield "one frequent", maker.frequent()
        yield "two frequent", " ".join(random.Random(maker.random.random()).sample(maker.catalogue.frequent[:100], 2))
        yield "words", maker.words()
        maker.row = lambda: maker.random.choice(own)
        yield "own words", maker.words()
        del maker.row


def time_whole(command, runs=11):
    took = []
    for _ in range(runs):
        begin = time.perf_counter()
        subprocess.run(command, stdout=subprocess.DEVNULL, check=True)
        took.append(1e3 * (time.perf_counter() - begin))
    return statistics.median(took), min(took)


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--build", type=Path, required=True)
    parser.add_argument("--rows", type=int, default=1_000_000)
    parser.add_argument("--every", type=int, default=500)
    parser.add_argument("--queries", type=int, default=600)
    parser.add_argument("--folder", type=Path, default=Path(tempfile.gettempdir()) / "lastbolt-find-vehicle")
    options = parser.parse_args()
    options.folder.mkdir(parents=True, exist_ok=True)
    program = options.build / "src/lastbolt"
    catalogue, index = make_index(options, program)
    queries = options.folder / "queries"
    queries.write_text("".join(f"{kind}\t{text}\n" for kind, text in
                               make_queries(catalogue, options.every, options.queries)))
    said = subprocess.run([options.build / "tests/find_vehicle", index, "wren", queries], check=True, text=True,
                          stdout=subprocess.PIPE).stdout
    print(said)
    print(f"{'whole process, ms':<22} {'median':>9} {'least':>9} {'median, vehicle':>16} {'least, vehicle':>15}")
    for words in WHOLE:
        command = [program, "--db", index, "find", *words.split()]
        plain, vehicle = time_whole(command), time_whole([*command, "--vehicle", "wren"])
        print(f"{words:<22} {plain[0]:9.1f} {plain[1]:9.1f} {vehicle[0]:16.1f} {vehicle[1]:15.1f}")
    p50, p50_vehicle = (float(cell) for cell in said.splitlines()[-1].split()[-4:-2])
    return int(p50_vehicle >= p50)


if __name__ == "__main__":
    sys.exit(main())
