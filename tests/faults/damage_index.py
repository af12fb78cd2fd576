#!/usr/bin/env python3
"""Bytes of an index go wrong, and find is asked all the same: it answers, or says in words of its own that the index is
damaged. It never crashes, never hangs, and never talks of what the index is made with.

    python3 tests/faults/damage_index.py PROGRAM INDEX [--times 12] [--seed 1]

INDEX is left as it is. Each column is damaged so many times, and four times as often the bytes of the file itself; the same
ones every time. The suite takes 8, and 3 under the sanitizers; by hand take 40.
"""
import argparse
import random
import shutil
import sqlite3
import subprocess
import sys
import tempfile
from pathlib import Path

SECONDS = 10
COLUMNS = [("lookup_block", "pairs"), ("lookup", "key"), ("lookup", "first"), ("lookup", "block"), ("word", "word"),
           ("word", "titles"), ("spelling", "words"), ("spelling", "length"), ("fitting", "parts"), ("brand", "key"),
           ("brand", "id"), ("state", "titles"), ("state", "title_words")]
QUERIES = ["pump", "radiator hose", "radaitor hsoe uper", "ra", "100-01", "Orlop 100-07", "100-0", "O1I0", "seal 35x52x7",
           "bolt M6x1.0x25 8.8", "water pump --vehicle finch", "seal --vehicle finch --all", "squirrel", "pump --limit 1000",
           "hose upper lower long", "zzzz", "N-77", "--json pump", "--json 100-01 --why", "lower hoze --why"]
FOREIGN = ["sqlite", "no such", "syntax", "constraint", "datatype", "(null)", "sanitizer", "nan", "out of memory"]


def flipped(draw, data):
    """One to three bytes are others; a text or blob may lose its end."""
    data = bytearray(data)
    for _ in range(draw.choice((1, 1, 2, 3))):
        if data:
            data[draw.randrange(len(data))] ^= 1 << draw.randrange(8) if draw.random() < 0.6 else draw.randrange(1, 256)
    if data and draw.random() < 0.1:
        del data[draw.randrange(len(data)):]
    return bytes(data)


def damage_column(draw, path, table, column):
    store = sqlite3.connect(path)
    store.text_factory = bytes
    rows = [value for value, in store.execute(f"SELECT {column} FROM {table} ORDER BY 1")]
    if not rows:
        sys.exit(f"{table} is empty: nothing is tested")
    for value in draw.sample(rows, min(len(rows), draw.choice((1, 1, 3, 10)))):
        if isinstance(value, int):
            other = draw.choice((0, -1, value + 1, value ^ 1 << draw.randrange(63), 2**63 - 1, -(2**63), value * 2 % 2**62))
        else:
            other = flipped(draw, value)
        cast = "CAST(? AS TEXT)" if (table, column) in (("word", "word"), ("brand", "key")) else "?"
        store.execute(f"UPDATE OR IGNORE {table} SET {column} = {cast} WHERE {column} IS {cast}", (other, value))
    store.commit()
    store.close()


def damage_file(draw, path):
    """Anywhere behind the head of a hundred bytes, which says what the file is."""
    data = bytearray(path.read_bytes())
    for _ in range(draw.choice((1, 2, 5, 20))):
        data[draw.randrange(100, len(data))] ^= draw.randrange(1, 256)
    path.write_bytes(data)


def ask(program, path, query):
    command = [program, "--db", str(path), "find", *query.split()]
    try:
        done = subprocess.run(command, stdin=subprocess.DEVNULL, capture_output=True, timeout=SECONDS)
    except subprocess.TimeoutExpired:
        return f"no answer within {SECONDS} s"
    said = (done.stdout + done.stderr).decode("utf-8", "replace")
    if done.returncode not in (0, 3, 4):
        return f"status {done.returncode}: {said[-1500:]}"
    if done.returncode == 4 and "index" not in done.stderr.decode("utf-8", "replace"):
        return f"status 4 without a word on the index: {said[-500:]}"
    # What a damaged row says is its own business; the messages are ours.
    for word in FOREIGN:
        if word in done.stderr.decode("utf-8", "replace").lower():
            return f"the word \"{word}\": {said[-500:]}"
    return None


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("program")
    parser.add_argument("index", type=Path)
    parser.add_argument("--times", type=int, default=12)
    parser.add_argument("--seed", type=int, default=1)
    options = parser.parse_args()
    ways = [(f"{table}.{column}", lambda draw, path, at=(table, column): damage_column(draw, path, *at))
            for table, column in COLUMNS] + [("the file", damage_file)]
    failed = count = 0
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "i.db"
        for name, damage in ways:
            for time in range(options.times * (4 if name == "the file" else 1)):
                draw = random.Random(f"{options.seed} {name} {time}")
                for rest in Path(folder).glob("i.db*"):
                    rest.unlink()
                shutil.copy(options.index, path)
                damage(draw, path)
                for query in draw.sample(QUERIES, 2):
                    trouble = ask(options.program, path, query)
                    count += 1
                    if trouble:
                        failed += 1
                        print(f"{name}, {time}, find {query}: {trouble}")
    print(f"{count} questions, {failed} answered wrongly")
    return failed != 0


if __name__ == "__main__":
    sys.exit(main())
