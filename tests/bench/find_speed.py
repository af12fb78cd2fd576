#!/usr/bin/env python3
"""How quick `find` is, on a generated catalogue. Called by find_speed.sh.

Inside one process (find_speed.c): 2,000 mixed queries (find_queries.py), and how many of the ten best the quick way has.
Whole processes, in turns: `lastbolt find` of frequent words and of two words against ripgrep's count of the lines that have
them. SQLite's FTS5, asked for the ten best of the most frequent words: inside this process against find_speed, and its shell
against `lastbolt find`. Medians; "worst" is the word for which the ratio is highest. Starting a process is in all of them;
what that alone takes stands beside them.

The folder keeps N.csv, N.db and N.fts.db.
"""
import argparse
import os
import re
import shutil
import sqlite3
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from find_queries import Catalogue, make_queries

FTS5 = """PRAGMA journal_mode=off;
PRAGMA synchronous=off;
CREATE TEMP TABLE p(brand, part_number, part_type, description, spec, unit, gtin);
.import --csv --skip 1 "{file}" p
CREATE VIRTUAL TABLE t USING fts5(part_type, description, brand, number, tokenize=porter);
INSERT INTO t SELECT part_type, description, brand, part_number FROM p;
INSERT INTO t(t) VALUES('optimize');
"""
BEST_TEN = "SELECT rowid FROM t WHERE t MATCH {} ORDER BY rank LIMIT 10"
MOST_FREQUENT = 8  # words that FTS5 is asked for

DEMANDS = {"lastbolt / rg": 0.1, "lastbolt / FTS5": 0.05, "p50": 1, "p99": 10}  # at most; ms
LEAST = 0.95  # of the exhaustive ten, and of the queries that find something: each is made from a row


def took(words, said):
    """Milliseconds on the clock and of processor time, of a whole process that writes to the file `said`."""
    words = [str(word) for word in words]
    begun = time.perf_counter()
    child = os.posix_spawnp(words[0], words, os.environ, file_actions=[(os.POSIX_SPAWN_DUP2, said.fileno(), 1)])
    _, status, used = os.wait4(child, 0)
    seconds = time.perf_counter() - begun
    code = os.waitstatus_to_exitcode(status)
    if code not in (0, 1):  # 1: rg found no line
        sys.exit(f"{' '.join(words)}: exit status {code}")
    return 1e3 * seconds, 1e3 * (used.ru_utime + used.ru_stime)


class Verdicts:
    def __init__(self):
        self.missed = False

    def tell(self, what, value, demand, least=False):
        good = value >= demand if least else value <= demand
        self.missed |= not good
        print(f"{what:42} {value:9.4f}   {'at least' if least else 'at most'} {demand:g}: {'held' if good else 'MISSED'}",
              flush=True)


class Bench:
    """One size: its catalogue, index and full-text table in the folder."""

    def __init__(self, options, rows):
        self.options, self.rows = options, rows
        self.file, self.index, self.fts = (options.folder / f"{rows}{end}" for end in (".csv", ".db", ".fts.db"))
        self.make(self.file, self.generate)
        if options.fresh:
            self.index.unlink(missing_ok=True)
        self.make(self.index, self.take_in)
        self.catalogue = Catalogue(self.file)

    def make(self, path, how):
        """Under another name until it is whole."""
        if path.exists():
            return
        part = path.with_name(path.name + ".part")
        for left in path.parent.glob(part.name + "*"):
            left.unlink()
        begun = time.monotonic()
        how(part)
        part.rename(path)
        print(f"{path.name} made in {time.monotonic() - begun:.1f} s, {path.stat().st_size / 1e6:.0f} MB", flush=True)

    def generate(self, path):
        with open(path, "wb") as out:
            subprocess.run([self.options.generator, str(self.rows)], stdout=out, check=True)

    def take_in(self, path):
        subprocess.run([self.options.program, "--quiet", "--db", path, "import", self.file], stdout=subprocess.DEVNULL, check=True)

    def take_in_fts(self, path):
        subprocess.run(["sqlite3", "-batch", path], input=FTS5.format(file=self.file), text=True, stdout=subprocess.DEVNULL,
                       check=True)

    def inside(self, queries, *more):
        """What find_speed prints, and its lines of times by name: [timings, p50, p90, p99, max]."""
        with tempfile.NamedTemporaryFile("w", suffix=".queries") as file:
            file.writelines(f"{kind}\t{text}\n" for kind, text in queries)
            file.flush()
            run = subprocess.run([self.options.inside, self.index, file.name, *map(str, more)], stdout=subprocess.PIPE,
                                 text=True, check=True)
        times = re.findall(r"^(\S+) +(\d+) +([\d.]+) +([\d.]+) +([\d.]+) +([\d.]+)$", run.stdout, re.M)
        return run.stdout, {name: [float(value) for value in values] for name, *values in times}

    def mixed(self, *more):
        return self.inside(make_queries(self.catalogue, self.options.queries), *more)

    def find(self, *words):
        return [self.options.program, "--db", self.index, "find", *words]

    def runs_of_lookup(self):
        connection = sqlite3.connect(f"file:{self.index}?mode=ro", uri=True)
        runs = connection.execute("SELECT count(*) FROM lookup_run").fetchone()[0]
        connection.close()
        return runs

    def memory(self, words):
        """MiB. By GNU time: a child of this process would begin with this one's memory."""
        if not shutil.which("time"):
            return None
        run = subprocess.run(["time", "-f", "%M", *map(str, words)], stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, text=True)
        return int(run.stderr.split()[-1]) / 1024

    def in_turns(self, pairs):
        """Medians of two commands each, run by turns: ((clock, processor), (clock, processor))."""
        medians = []
        with tempfile.TemporaryFile() as said:
            for commands in pairs:
                runs = [[took(words, said) for words in commands] for _ in range(self.options.runs)]
                medians.append([[statistics.median(kind) for kind in zip(*column)] for column in zip(*runs)])
        return medians

    def inside_fts(self, words):
        """Milliseconds of a query in this process, after one to warm up."""
        connection, medians = sqlite3.connect(f"file:{self.fts}?mode=ro", uri=True), []
        for word in words:
            times = []
            for _ in range(self.options.runs + 1):
                begun = time.perf_counter()
                connection.execute(BEST_TEN.format("?"), (word,)).fetchall()
                times.append(1e3 * (time.perf_counter() - begun))
            medians.append(statistics.median(times[1:]))
        connection.close()
        return medians


def compared(what, names, medians, verdicts, demand):
    """`names`: of the queries; `medians`: our times and the other's for each, as in_turns gives them."""
    clock, *processor = zip(*[zip(*pair) for pair in medians])
    ours, others = (statistics.median(column) for column in zip(*clock))
    worst, name = max((a / b, name) for name, (a, b) in zip(names, clock))
    print(f"{what}, {len(names)} queries: lastbolt {ours:.2f} ms, {demand.split()[-1]} {others:.2f} ms, "
          f"worst ratio {worst:.4f} ({name})", end="")
    for times in processor:
        worked, others_worked = (statistics.median(column) for column in zip(*times))
        print(f"; processor {worked:.2f} ms, {others_worked:.2f} ms, ratio {worked / others_worked:.4f}", end="")
    print()
    verdicts.tell(f"{demand}, {what}", ours / others, DEMANDS[demand])


def whole_processes(bench, verdicts):
    words = bench.catalogue.frequent[:bench.options.words]
    pairs = bench.catalogue.frequent_pairs(bench.options.words)
    ((clock, processor), ), = bench.in_turns([[["true"]]])
    print(f"starting a process that does nothing: {clock:.2f} ms, processor {processor:.2f} ms")
    if not shutil.which("rg"):
        print("rg is missing (Debian: ripgrep): not compared with it")
        return
    singles = [(bench.find(word), ["rg", "-c", "-i", word, bench.file]) for word in words]
    doubles = [(bench.find(a, b), ["rg", "-c", "-i", f"{a}.*{b}|{b}.*{a}", bench.file]) for a, b in pairs]
    compared("one word", words, bench.in_turns(singles), verdicts, "lastbolt / rg")
    compared("two words", [" ".join(pair) for pair in pairs], bench.in_turns(doubles), verdicts, "lastbolt / rg")


def full_text(bench, verdicts):
    if not shutil.which("sqlite3"):
        print("the sqlite3 shell is missing: not compared with FTS5")
        return
    bench.make(bench.fts, bench.take_in_fts)
    words = bench.catalogue.frequent[:MOST_FREQUENT]
    _, times = bench.inside([("word:" + word, word) for word in words], "--passes", bench.options.runs)
    inside = [[[times["word:" + word][1]], [theirs]] for word, theirs in zip(words, bench.inside_fts(words))]
    whole = bench.in_turns([(bench.find(word), ["sqlite3", "-batch", bench.fts, BEST_TEN.format(f"'{word}'")]) for word in words])
    compared("inside a process", words, inside, verdicts, "lastbolt / FTS5")
    compared("whole processes", words, whole, verdicts, "lastbolt / FTS5")


def found_share(said):
    asked, found = re.search(r"^(\d+) queries, (\d+) found", said, re.M).groups()
    return int(found) / int(asked)


def measure(bench, verdicts):
    print(f"{bench.rows} rows, {bench.file.stat().st_size / 1e6:.0f} MB, index {bench.index.stat().st_size / 1e6:.0f} MB, "
          f"runs of the lookup: {bench.runs_of_lookup()}", flush=True)
    exhaustive = ["--exhaustive", bench.options.exhaustive] if bench.options.exhaustive else []
    said, times = bench.mixed(*exhaustive)
    print(said, end="", flush=True)
    verdicts.tell("queries that find something", found_share(said), LEAST, least=True)
    verdicts.tell("p50 inside a process", times["all"][1], DEMANDS["p50"])
    verdicts.tell("p99 inside a process", times["all"][3], DEMANDS["p99"])
    if exhaustive:
        share = float(re.search(r"^overlap all .*queries ([\d.]+)", said, re.M)[1])
        verdicts.tell("overlap with the exhaustive ten", share, LEAST, least=True)
    memory = bench.memory(bench.find(bench.catalogue.frequent[0]))
    print("GNU time is missing: memory not measured" if memory is None else
          f"memory of one whole find: {memory:.1f} MiB at most")
    whole_processes(bench, verdicts)
    full_text(bench, verdicts)


def growth(options, verdicts):
    first = None
    for rows in options.growth:
        bench = Bench(options, rows)
        all_times, quiet = (bench.mixed()[1][name] for name in ("all", "quiet"))
        first = first or quiet
        print(f"{rows:9} rows  p50 {all_times[1]:.3f}  p99 {all_times[3]:.3f}  max {all_times[4]:.3f} ms; least of each query: "
              f"p50 {quiet[1]:.3f} ({quiet[1] / first[1]:.2f} of the first size's)  p99 {quiet[3]:.3f} "
              f"({quiet[3] / first[3]:.2f}); runs of the lookup: {bench.runs_of_lookup()}", flush=True)
    verdicts.tell("p50 at the last size", all_times[1], DEMANDS["p50"])
    verdicts.tell("p99 at the last size", all_times[3], DEMANDS["p99"])


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("rows", nargs="?", type=int, default=5_000_000)
    parser.add_argument("--program", type=Path, required=True)
    parser.add_argument("--generator", type=Path, required=True)
    parser.add_argument("--inside", type=Path, required=True)
    parser.add_argument("--folder", type=Path, default=Path(tempfile.gettempdir()) / "lastbolt-find-speed")
    parser.add_argument("--growth", type=lambda text: [int(rows) for rows in text.split(",")])
    parser.add_argument("--fresh", action="store_true")
    parser.add_argument("--runs", type=int, default=5)
    parser.add_argument("--words", type=int, default=20)
    parser.add_argument("--queries", type=int, default=2000)
    parser.add_argument("--exhaustive", type=int, default=20)
    options = parser.parse_args()
    for name in ("program", "generator", "inside", "folder"):
        setattr(options, name, getattr(options, name).resolve())
    options.folder.mkdir(parents=True, exist_ok=True)
    verdicts = Verdicts()
    if options.growth:
        growth(options, verdicts)
    else:
        measure(Bench(options, options.rows), verdicts)
    sys.exit(verdicts.missed)


if __name__ == "__main__":
    main()
