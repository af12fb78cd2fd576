#!/usr/bin/env python3
"""Times `lastbolt import` (a) of a generated catalogue, in turns with the sqlite3 shell (b) that takes the same file into
a table and makes a full-text index of it without a journal. Called by import_ratio.sh.

Per size: the medians of both and their ratio, the most memory that (a) took, the index's size beside the file's, and the
import of an edition of which 1 % is changed, at the same path. `import_growth` times (a) alone.
"""
import argparse
import os
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

PLAIN = """PRAGMA journal_mode=off;
.import --csv {file} p
CREATE VIRTUAL TABLE f USING fts5(brand, part_number, description, content=p, prefix='2 3');
INSERT INTO f(f) VALUES('rebuild');
"""


class Run:
    """A command that ended: seconds on the clock, of processor time, and MiB at most."""

    def __init__(self, words, given="", allowed=(0,)):
        begun = time.monotonic()
        running = subprocess.Popen(words, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True)
        running.stdin.write(given)
        running.stdin.close()
        self.said = running.stdout.read()
        _, status, used = os.wait4(running.pid, 0)
        running.returncode = os.waitstatus_to_exitcode(status)
        self.seconds = time.monotonic() - begun
        self.worked = used.ru_utime + used.ru_stime
        self.most = used.ru_maxrss / 1024
        if running.returncode not in allowed:
            sys.exit(f"{' '.join(map(str, words))}: exit status {running.returncode}")


def middle(runs, what="seconds"):
    return statistics.median(getattr(run, what) for run in runs)


def told(runs):
    return f"{middle(runs):8.2f} s (processor {middle(runs, 'worked'):.2f} s; {', '.join(f'{r.seconds:.2f}' for r in runs)})"


class Bench:
    def __init__(self, options, folder):
        self.options, self.folder = options, folder
        self.file, self.index, self.plain = folder / "catalogue.csv", folder / "index.db", folder / "plain.db"

    def generate(self, rows, edition):
        more = ["--offers"] if self.options.offers else []
        begun = time.monotonic()
        with open(self.file, "wb") as out:
            subprocess.run([self.options.generator, str(rows), "--edition", str(edition), "--changed", "10", *more],
                           stdout=out, check=True)
        size = self.file.stat().st_size
        return size, size / 1e6 / (time.monotonic() - begun)

    def clear(self, path):
        for left in path.parent.glob(path.name + "*"):
            left.unlink()

    def take_in(self):
        more = ["--supplier", "harbour"] if self.options.offers else []
        return Run([self.options.program, "--db", self.index, "import", self.file, *more])

    def take_in_fresh(self):
        self.clear(self.index)
        return self.take_in()

    def take_in_plain(self):
        self.clear(self.plain)
        run = Run(["sqlite3", "-batch", self.plain], PLAIN.format(file=self.file))
        self.clear(self.plain)
        return run

    def take_in_again(self, rows):
        """The changed edition, each time into what the first one led to."""
        kept = self.folder / "kept.db"
        shutil.copy(self.index, kept)
        self.generate(rows, 2)
        runs = []
        for _ in range(self.options.runs):
            self.clear(self.index)
            shutil.copy(kept, self.index)
            runs.append(self.take_in())
        kept.unlink()
        return runs

    def ratio(self, rows):
        size, speed = self.generate(rows, 1)
        print(f"{rows} rows, {size / 1e6:.1f} MB, {size / rows:.1f} bytes a row (written at {speed:.0f} MB/s)", flush=True)
        ours, plain = [], []
        for _ in range(self.options.runs):
            ours.append(self.take_in_fresh())
            plain.append(self.take_in_plain())
        held = self.index.stat().st_size
        print(f"  (a) lastbolt import   {told(ours)}, at most {max(run.most for run in ours):.0f} MiB")
        print(f"  (b) the sqlite3 shell {told(plain)}")
        print(f"  (a) / (b)             {middle(ours) / middle(plain):8.2f}   (processor {middle(ours, 'worked') / middle(plain, 'worked'):.2f})")
        print(f"  index / file          {held / size:8.2f}   ({held / 1e6:.1f} MB)", flush=True)
        again = self.take_in_again(rows)
        print(f"  1 % changed           {told(again)}, at most {max(run.most for run in again):.0f} MiB")
        print(f"  again / first         {middle(again) / middle(ours):8.2f}", flush=True)

    def growth(self, sizes):
        first = None
        for rows in sizes:
            self.generate(rows, 1)
            runs = [self.take_in_fresh() for _ in range(self.options.runs)]
            each = middle(runs) / rows * 1e6
            first = first or each
            print(f"{rows:9} rows {told(runs)}, {each:.2f} µs a row, {each / first:.2f} of the first size's,"
                  f" at most {max(run.most for run in runs):.0f} MiB", flush=True)


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("mode", nargs="?", default="import_ratio")
    parser.add_argument("rows", nargs="*", type=int)
    parser.add_argument("--program", type=Path)
    parser.add_argument("--generator", type=Path)
    parser.add_argument("--folder", type=Path)
    parser.add_argument("--runs", type=int, default=3)
    parser.add_argument("--offers", action="store_true")
    options = parser.parse_intermixed_args()
    if options.mode.isdigit():
        options.mode, options.rows = "import_ratio", [int(options.mode)] + options.rows
    for tool in ("program", "generator"):
        setattr(options, tool, getattr(options, tool).resolve())
    with tempfile.TemporaryDirectory(dir=options.folder) as folder:
        bench = Bench(options, Path(folder))
        if options.mode == "import_growth":
            bench.growth(options.rows or [500_000, 1_000_000, 2_000_000, 5_000_000])
        elif options.mode == "import_ratio":
            for rows in options.rows or [1_000_000, 5_000_000]:
                bench.ratio(rows)
        else:
            sys.exit(f"{options.mode}: neither import_ratio nor import_growth")


if __name__ == "__main__":
    main()
