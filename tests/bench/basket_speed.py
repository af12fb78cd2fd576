#!/usr/bin/env python3
"""How quick the basket is on generated kits (tests/market/generate.py), beside cbc and GLPK on the plain model.

    basket_speed.py BASKET_RUN [--glpk GLPK_PLAIN] [--kits 200] [--sec 60] [--glpk-sec 10] [--only kits,large,growth,front,purpose]

    kits     10 to 80 lines, 3 to 15 suppliers, one after the other: seconds of the library call, of a cbc process (with
             starting it and reading the model), of glp_intopt with presolve on the same model. A kit on which one ran out of
             time (--sec, --glpk-sec) counts with what it took, so that sum is "at least".
    large    100 lines, 50 suppliers, 10 seconds each: proved, or how far from its bound
    growth   10 to 160 lines, 15 suppliers, a process each: seconds and peak memory, medians of five
    front    60 lines, 15 suppliers: all that nothing beats in total, parcels and arrival; a thread for each processor
    purpose  each line at its cheapest offer against the optimum, over the kits
"""

import argparse
import json
import os
import statistics
import subprocess
import sys
import tempfile
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent.parent / "market"))
from generate import markets  # noqa: E402
from model import lp_text  # noqa: E402
from solvers import LIMIT, Cbc, run_basket  # noqa: E402

SEED = 1


def kits(args):
    return list(markets(SEED, args.kits))


def quantile(values, share):
    values = sorted(values)
    return values[min(len(values) - 1, int(share * len(values)))]


def price(ours):
    return ours["total"] + ours["premium"]


def gap(ours):
    return 100 * (price(ours) - ours["bound"]) / price(ours)


def bench_purpose(args, said=None):
    said = said or run_basket(args.basket_run, kits(args), "--seconds", args.seconds)
    more = [100 * (one["cheapest"] / one["total"] - 1) for one in said if one["cheapest"] is not None]
    sent = [one for one in said if one["cheapest_orders"]]
    dearer = [100 * (one["cheapest"] / one["total"] - 1) for one in sent]
    print(f"purpose: each line at its cheapest offer, over {len(said)} kits: {len(said) - len(sent)} such baskets cannot be "
          f"ordered; those that can cost more by a median of {statistics.median(dearer):.1f} %, p90 {quantile(dearer, 0.9):.1f} % "
          f"(all: {statistics.median(more):.1f} %, {quantile(more, 0.9):.1f} %)")


def run_glpk(args, paths):
    said = subprocess.run([args.glpk, str(args.glpk_sec), *map(str, paths)], capture_output=True, text=True, check=True).stdout
    return [json.loads(line) for line in said.splitlines()]


def against(name, ours, seconds, late, differ):
    least = "at least " if late else ""
    print(f"kits: {name} {least}{seconds:.1f} s, {late} out of time; {least}{seconds / ours:.1f} times ours; "
          f"{len(differ)} optima differ{''.join(differ)}", flush=True)


def disagree(said, theirs):
    """Kits whose optimum is another one, with both; theirs: None where it ran out of time."""
    return [f"; kit {i}: {other}, ours {price(one)}{'' if one['proved'] else ' not proved'}"
            for i, (one, other) in enumerate(zip(said, theirs)) if other not in (None, price(one))]


def bench_kits(args):
    texts = kits(args)
    said = run_basket(args.basket_run, texts, "--seconds", args.seconds)
    took = [one["seconds"] for one in said]
    ours = sum(took)
    print(f"kits: {len(texts)}, ours {ours:.2f} s; a kit {statistics.median(took):.3f} s, p90 {quantile(took, 0.9):.3f}, "
          f"p99 {quantile(took, 0.99):.3f}, slowest {max(took):.3f}; {sum(one['proved'] for one in said)} proved", flush=True)
    bench_purpose(args, said)
    with tempfile.TemporaryDirectory() as folder:
        paths = [Path(folder) / f"{i}.lp" for i in range(len(texts))]
        for path, text in zip(paths, texts):
            path.write_text(lp_text(text), encoding="utf-8")
        if Cbc.missing():
            print(f"kits: {Cbc.missing()}")
        else:
            answers = [Cbc(args.sec).solve(path) for path in paths]
            differ = disagree(said, [None if a.status == LIMIT else a.objective for a in answers])
            against("cbc", ours, sum(a.seconds for a in answers), sum(a.status == LIMIT for a in answers), differ)
        if args.glpk:
            answers = run_glpk(args, paths)
            differ = disagree(said, [round(a["objective"]) if a["optimal"] else None for a in answers])
            against("GLPK", ours, sum(a["seconds"] for a in answers), sum(not a["optimal"] for a in answers), differ)


def bench_large(args):
    said = run_basket(args.basket_run, list(markets(SEED + 1, args.large, (100, 100), (50, 50))), "--seconds", "10")
    open_ones = [gap(one) for one in said if one["found"] and not one["proved"]]
    print(f"large: {len(said)} of 100 lines, 50 suppliers, 10 s: {sum(one['proved'] for one in said)} proved, median "
          f"{statistics.median(one['seconds'] for one in said):.2f} s; {sum(not one['found'] for one in said)} not found; "
          f"gaps of the others: {', '.join(f'{value:.2f} %' for value in sorted(open_ones)) or 'none'}")


def bench_growth(args):
    for lines in (10, 20, 40, 80, 160):
        said = [run_basket(args.basket_run, [text], "--seconds", "60")[0]
                for text in markets(SEED + 2, 5, (lines, lines), (15, 15))]
        print(f"growth: {lines} lines, 15 suppliers: {statistics.median(one['seconds'] for one in said):.3f} s (slowest "
              f"{max(one['seconds'] for one in said):.3f}), {statistics.median(one['peak_kb'] for one in said) / 1024:.0f} MiB; "
              f"{sum(one['proved'] for one in said)} of 5 proved", flush=True)


def bench_front(args):
    said = run_basket(args.basket_run, list(markets(SEED + 3, 5, (60, 60), (15, 15))), "--seconds", "60", "--front",
                      "--workers", str(len(os.sched_getaffinity(0))))
    for one in said:
        print(f"front: 60 lines, 15 suppliers: {one['front'] + 1} points{'' if one['front_complete'] else ' (not complete)'}, "
              f"{one['front_seconds']:.2f} s beside {one['seconds']:.2f} s for the first")


BENCHES = {"kits": bench_kits, "large": bench_large, "growth": bench_growth, "front": bench_front, "purpose": bench_purpose}


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("basket_run")
    parser.add_argument("--glpk", help="the program glpk_plain; left out: GLPK is not asked")
    parser.add_argument("--kits", type=int, default=200)
    parser.add_argument("--large", type=int, default=20)
    parser.add_argument("--seconds", default="10", help="for the program, a kit")
    parser.add_argument("--sec", type=int, default=60, help="for cbc, a kit")
    parser.add_argument("--glpk-sec", type=int, default=10, help="for GLPK, a kit")
    parser.add_argument("--only", default="kits,large,growth,front")
    args = parser.parse_args()
    for name in args.only.split(","):
        BENCHES[name](args)


if __name__ == "__main__":
    main()
