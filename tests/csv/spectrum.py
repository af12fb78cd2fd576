#!/usr/bin/env python3
"""Our CSV reader against csv-spectrum: what is read of each .csv is what its .json says.

    python3 tests/csv/spectrum.py CSV_DUMP
"""
import json
import subprocess
import sys
from pathlib import Path

FIXTURES = Path(__file__).resolve().parent.parent / "outside" / "csv-spectrum"
SKIPPED = {"location_coordinates": "its JSON contradicts its CSV"}
PAIRS = 12


def read_ours(dump, path):
    """The records as objects by heading, as the JSON has them; a fault is a difference."""
    lines = subprocess.run([dump, path], check=True, capture_output=True, text=True).stdout.splitlines()
    records = [json.loads(line) for line in lines[1:]]
    if any("fault" in record for record in records):
        return records
    rows = [record["cells"] for record in records]
    return [dict(zip(rows[0], row, strict=True)) for row in rows[1:]]


def trimmed(objects):
    return [{k.strip(" \t\r\n"): v.strip(" \t\r\n") for k, v in o.items()} for o in objects]


def main():
    dump = sys.argv[1]
    names = sorted(path.stem for path in (FIXTURES / "csvs").glob("*.csv"))
    failed = len(names) != PAIRS
    for name in names:
        if name in SKIPPED:
            print(f"{name}: skipped: {SKIPPED[name]}")
            continue
        wanted = json.loads((FIXTURES / "json" / f"{name}.json").read_bytes())
        found = read_ours(dump, FIXTURES / "csvs" / f"{name}.csv")
        if trimmed(wanted) != wanted:
            print(f"{name}: cells with blanks around them, which our reader drops by decision")
            wanted = trimmed(wanted)
        if found != wanted:
            failed = True
            print(f"{name}: wanted {json.dumps(wanted)}\n{' ' * len(name)}  found  {json.dumps(found)}")
        else:
            print(f"{name}: the same")
    return failed


if __name__ == "__main__":
    sys.exit(main())
