#!/usr/bin/env python3
"""Kills imports with SIGKILL at points spread over their duration: the index must be whole, and hold the old edition
or the new one, never a part of either.

    kill_import.py PROGRAM [--points 300] [--rows 20000] [--base INDEX] [--only first|again] [--also WORDS]...

Two series of so many points, a third of them near the end: the first import of a catalogue into an index that holds something already (--base, or a
small one made here), and the import of its changed edition. After each kill `PRAGMA integrity_check` is ok, `lastbolt
verify` ends with 0, and what the index says is what it said before the import or after it: the rows of the parts, the
sources, some parts with their offers, and whatever --also asks the program. Every tenth index is then imported into
again, which must go through.
"""
import argparse
import hashlib
import os
import shutil
import sqlite3
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

SEEN = ("0000300",)  # its description changes
HEAD = "supplier,brand,part_number,part_type,description,price,currency\n"


def edition(rows, number):
    """Of the second: one row in fifty has another description, one is gone; prices differ; some rows are new."""
    for i in range(1, rows + 1):
        if number == 2 and i % 50 == 7:
            continue
        words = f"HOSE RAD {'UPR' if i % 3 else 'LWR'} L={i % 977}MM"
        if number == 2 and i % 50 == 0:
            words += " REINF"
        price = (i * 37 * (number if i % 9 == 0 else 1)) % 90000
        yield f"quayside,Bulk,{i:07},radiator-hose,{words},{price // 100}.{price % 100:02},EUR\n"
    for i in range(1, rows // 50 if number == 2 else 0):
        yield f"quayside,Bulk,N{i:07},o-ring,RING NBR D={i % 60}MM,1.{i % 100:02},EUR\n"


def spread(points):
    """Shares of the duration: two thirds over all of it, the others where the end is written."""
    late = points // 3
    return sorted([(i + 0.5) / (points - late) for i in range(points - late)] +
                  [0.8 + 0.3 * (i + 0.5) / late for i in range(late)])


class Trial:
    def __init__(self, options, folder):
        self.program, self.folder = options.program, folder
        self.index, self.catalogue = folder / "kill.db", folder / "bulk.csv"
        self.questions = [["--json", "sources"]] + [["part", "Bulk", number] for number in SEEN]
        self.questions += [words.split() for words in options.also]
        self.found, self.took = {"old": 0, "new": 0}, []

    def run(self, *words):
        return subprocess.run([self.program, "--db", str(self.index), *words], cwd=self.folder, capture_output=True,
                              stdin=subprocess.DEVNULL)

    def must_run(self, *words):
        done = self.run(*words)
        if done.returncode != 0:
            sys.exit(f"lastbolt {' '.join(words)}: exit status {done.returncode}: {done.stderr.decode(errors='replace')[-500:]}")

    def write(self, rows, number):
        self.catalogue.write_text(HEAD + "".join(edition(rows, number)))

    def files(self):
        return list(self.index.parent.glob(self.index.name + "*"))

    def start_from(self, kept):
        for path in self.files():
            path.unlink()
        shutil.copy(kept, self.index)

    def keep(self, name):
        """A copy of the index, which nobody has open."""
        if [path.name for path in self.files()] != [self.index.name]:
            sys.exit(f"files are left beside the index: {self.files()}")
        return shutil.copy(self.index, self.folder / name)

    def judge_file(self):
        """What is wrong with the file, or None."""
        try:
            with sqlite3.connect(self.index) as base:
                answer = base.execute("PRAGMA integrity_check").fetchall()
            base.close()
        except sqlite3.Error as error:
            return f"integrity_check: {error}"
        return None if answer == [("ok",)] else f"integrity_check: {answer[:3]}"

    def judge_program(self):
        done = self.run("verify")
        return None if done.returncode == 0 else f"verify: exit status {done.returncode}: {done.stderr.decode(errors='replace')[-300:]}"

    def content(self):
        base = sqlite3.connect(self.index)
        rows = base.execute("SELECT brand, part_number, description FROM parts ORDER BY 1, 2, 3").fetchall()
        count = base.execute("SELECT count(*) FROM parts").fetchone()
        base.close()
        told = [(done.returncode, done.stdout) for done in (self.run(*words) for words in self.questions)]
        return count, hashlib.sha256(repr(rows).encode()).hexdigest(), told

    def kill_after(self, seconds):
        """True: it was still running."""
        running = subprocess.Popen([self.program, "--db", str(self.index), "import", str(self.catalogue)], cwd=self.folder,
                                   stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        time.sleep(seconds)
        early = running.poll() is None
        running.kill()
        running.wait()
        return early

    def take_in(self):
        """A whole import; how long it took is remembered, since a busy machine is not always as busy."""
        begun = time.monotonic()
        self.must_run("import", str(self.catalogue))
        self.took = (self.took + [time.monotonic() - begun])[-3:]

    def measure(self, kept):
        """How long an import takes, and what it leads to."""
        self.took = []
        for _ in range(3):
            self.start_from(kept)
            self.take_in()
        return self.content()

    def judge_point(self, i, old, new):
        """What is wrong after a kill, or None."""
        judges = [self.judge_file, self.judge_program]
        for judge in judges if i % 2 else judges[::-1]:  # either may be the first to open what was left
            if trouble := judge():
                return trouble
        now = self.content()
        if now not in (old, new):
            return f"neither edition: {now[0][0]} parts; {old[0][0]} before, {new[0][0]} after; {now[2]}"
        self.found["old" if now == old else "new"] += 1
        if i % 10 == 9:
            if now == old:
                self.take_in()
            else:
                self.must_run("import", str(self.catalogue))
            if self.content() != new:
                return "the import did not lead to the new edition afterwards"
        return None

    def series(self, name, kept, points):
        """Kills so many imports into the kept index; the number of faults."""
        self.start_from(kept)
        old = self.content()
        new = self.measure(kept)
        if old == new:
            sys.exit(f"{name}: the editions do not differ")
        self.found = {"old": 0, "new": 0}
        early = faults = 0
        for i, share in enumerate(spread(points)):
            self.start_from(kept)
            at = statistics.median(self.took) * share
            early += self.kill_after(at)
            if trouble := self.judge_point(i, old, new):
                faults += 1
                print(f"{name}, killed after {at * 1000:.1f} ms: {trouble}")
        print(f"{name}: {points} kills over {statistics.median(self.took):.2f} s, {early} of them before the end; the old edition {self.found['old']}"
              f" times, the new {self.found['new']} times, neither {faults} times")
        if not self.found["old"]:
            print(f"{name}: no kill came in time to matter")
        return faults or not self.found["old"]


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("program", type=os.path.abspath)
    parser.add_argument("--points", type=int, default=300)
    parser.add_argument("--rows", type=int, default=20000)
    parser.add_argument("--base", type=Path)
    parser.add_argument("--only", choices=("first", "again"))
    parser.add_argument("--also", action="append", default=[])
    options = parser.parse_args()
    os.environ.setdefault("SOURCE_DATE_EPOCH", "1795564800")  # when a source was imported is no difference
    failed = False
    with tempfile.TemporaryDirectory() as folder:
        trial = Trial(options, Path(folder))
        if options.base:
            shutil.copy(options.base, trial.index)
        else:
            (trial.folder / "small.csv").write_text(HEAD.replace("part_type,", "part_type,unit,") +
                                                    "harbour,Orlop,100-01,water-pump,each,PUMP WTR,48.00,EUR\n")
            trial.must_run("import", str(trial.folder / "small.csv"))
        before = trial.keep("before.db")
        trial.write(options.rows, 1)
        if options.only != "again":
            failed |= bool(trial.series("first import", before, options.points))
        if options.only != "first":
            trial.start_from(before)
            trial.must_run("import", str(trial.catalogue))
            first = trial.keep("first.db")
            trial.write(options.rows, 2)
            failed |= bool(trial.series("changed edition", first, options.points))
    return failed


if __name__ == "__main__":
    sys.exit(main())
