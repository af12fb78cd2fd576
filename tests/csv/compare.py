#!/usr/bin/env python3
"""Our CSV reader against Python's csv.reader on generated nasty files; README.md says what may differ and why.

    python3 tests/csv/compare.py CSV_DUMP [LASTBOLT] [--files 2000] [--start 0] [--imports 100]

Prints how often each rule made a difference. Exit status 1: a difference that no rule explains.
"""
import argparse
import csv
import json
import subprocess
import sys
import tempfile
from collections import Counter
from pathlib import Path

from nasty import nasty
from rules import Expected

SHOWN = 20


def dump(program, files, sep, expect, room):
    """{file: its records}, and the output itself."""
    words = [program] + (["-s", sep] if sep else []) + (["-e"] if expect else []) + (["-r", str(room)] if room else [])
    out = subprocess.run(words + files, check=True, capture_output=True).stdout
    answers = {}
    for line in out.splitlines():
        record = json.loads(line)
        if "file" in record:
            records = answers[record["file"]] = []
        else:
            records.append(record)
    return answers, out


def first_difference(wanted, found):
    for i in range(max(len(wanted), len(found))):
        a, b = (x[i] if i < len(x) else None for x in (wanted, found))
        if a != b:
            return f"record {i + 1}: wanted {str(a)[:300]}, found {str(b)[:300]}"
    return None


def compare_group(program, group, sep, expect, counts):
    """Every difference, as words."""
    files = [str(path) for path, _ in group]
    answers, out = dump(program, files, sep, expect, None)
    differences = []
    for path, data in group:
        wanted = Expected(data, sep, expect)
        counts.update(wanted.counts)
        whole, trouble = wanted.whole_file()
        counts["(files that Python does not read to the end)"] += trouble is not None
        found = first_difference(wanted.records, answers[str(path)])
        for words in filter(None, (whole, found)):
            differences.append(f"{path.name} (separator {wanted.sep!r}{', detected' * (not sep)}): {words}")
    for room in (1, 7):  # how the bytes come in makes no difference
        small = [str(path) for path, data in group if len(data) < 1 << 14]
        if dump(program, small, sep, expect, room)[1] != dump(program, small, sep, expect, None)[1]:
            differences.append(f"separator {sep!r}: other records when {room} bytes come at a time")
    if dump(program, files, sep, expect, 70001)[1] != out:
        differences.append(f"separator {sep!r}: other records when 70001 bytes come at a time")
    return differences


def compare_all(program, folder, start, count, counts):
    groups = {}
    for seed in range(start, start + count):
        sep, data = nasty(seed)
        path = folder / f"{seed}.csv"
        path.write_bytes(data)
        known = None if seed % 4 == 0 else sep.decode()
        groups.setdefault((known, seed % 2 == 1 or seed % 8 == 0), []).append((path, data))
    differences = []
    for (sep, expect), group in groups.items():
        differences += compare_group(program, group, sep, expect, counts)
    return differences


def import_some(program, dumper, folder, start, count, batch=25):
    """Through the program: every row is accepted or refused, and the refused ones are in the rejects file."""
    differences = []
    seeds = [start + 20 * i for i in range(count)]
    for i in range(0, count, batch):
        files = []
        for seed in seeds[i:i + batch]:
            sep, data = nasty(seed)
            path = folder / f"import-{seed}.csv"
            path.write_bytes(sep.join(b"brand part_number part_type description".split()) + b"\r\n" + data)
            files.append(str(path))
        differences += import_batch(program, dumper, folder, files)
    return differences


def import_batch(program, dumper, folder, files):
    rejects = folder / "rejects.csv"
    rejects.unlink(missing_ok=True)
    done = subprocess.run([program, "--db", str(folder / "i.db"), "--json", "import", "--encoding", "UTF-8", "--rejects", str(rejects), *files],
                          capture_output=True)
    if done.returncode not in (0, 3):
        return [f"import: exit status {done.returncode}: {done.stderr.decode(errors='replace')[-300:]}"]
    refused, rows = Counter(), []
    if rejects.exists():
        with open(rejects, encoding="latin-1", newline="") as file:
            rows = list(csv.DictReader(file, strict=True, restkey="surplus", restval=None))
        refused.update(Path(row["file"]).name for row in rows)
    differences = [f"rejects file: a row that is cut or too long: {row}" for row in rows
                   if "surplus" in row or None in row.values()]
    answers, _ = dump(dumper, files, None, True, None)
    results = {Path(result["file"]).name: result for result in json.loads(done.stdout)["files"]}
    for path in files:
        name, records = Path(path).name, answers[path][1:]
        result = results.get(name, {})
        if result.get("problem"):
            differences.append(f"{name}: {result['problem']}")
        elif result.get("read") != len(records) or result["read"] != result["accepted"] + result["rejected"]:
            differences.append(f"{name}: {len(records)} records, but {result}")
        elif refused[name] != result["rejected"]:
            differences.append(f"{name}: {result['rejected']} refused, {refused[name]} in the rejects file")
        lines = [int(row["line"]) for row in rows if Path(row["file"]).name == name]
        faulty = {record["line"] for record in records if "fault" in record}
        if not faulty <= set(lines) or len(set(lines)) != len(lines):
            differences.append(f"{name}: refused lines {sorted(faulty)}, in the rejects file {lines}")
    return differences


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("csv_dump")
    parser.add_argument("lastbolt", nargs="?")
    parser.add_argument("--files", type=int, default=2000)
    parser.add_argument("--start", type=int, default=0)
    parser.add_argument("--imports", type=int, default=100)
    options = parser.parse_args()
    counts = Counter()
    with tempfile.TemporaryDirectory() as folder:
        differences = compare_all(options.csv_dump, Path(folder), options.start, options.files, counts)
        if options.lastbolt:
            differences += import_some(options.lastbolt, options.csv_dump, Path(folder), options.start, options.imports)
    for rule, count in sorted(counts.items(), key=lambda item: (-item[1], item[0])):
        print(f"{count:8} {rule}")
    for words in differences[:SHOWN]:
        print(words)
    print(f"{options.files} files, {len(differences)} differences that no rule explains")
    return bool(differences)


if __name__ == "__main__":
    sys.exit(main())
