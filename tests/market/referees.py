#!/usr/bin/env python3
"""The basket against independent solvers on an independent model (model.py), on generated kits.

    referees.py BASKET_RUN [--seed 1] [--kits 200] [--large 20] [--lines 10-80] [--suppliers 3-15] [--sec 60] [--highs FOLDER]
                [--seconds 10] [--no-cbc] [--keep DIR]

A kit agrees when a referee proves the same price (total and premium). One that finds less than what the program calls proved,
or proves more, is a contradiction, as is a bound above what a referee found. A referee that ran out of time says only that it
found nothing better. Exit status 1: contradictions, or a kit that no referee could judge while the program was sure
(--all-judged). HiGHS: `npm i --ignore-scripts highs` in a folder of its own.
"""

import argparse
import sys
import tempfile
from collections import Counter
from pathlib import Path

from generate import markets, span
from model import lp_text
from solvers import INFEASIBLE, OPTIMAL, Cbc, Highs, run_basket


def price(ours):
    return ours["total"] + ours["premium"] if ours["found"] else None


def judge(ours, answer):
    """`equal`, `no better` (the referee ran out of time) or what contradicts, in words."""
    if answer.status == INFEASIBLE:
        if ours["found"]:
            return f"we found {price(ours)} where there should be nothing"
        return "equal" if ours["proved"] else "no better"
    if answer.objective is None:
        return "no better"
    if ours["proved"] and not ours["found"]:
        return f"we call it impossible, {answer.objective} was found"
    if ours["found"] and ours["proved"] and answer.objective < price(ours):
        return f"{answer.objective} was found, below our {price(ours)}"
    if ours["bound"] > answer.objective:
        return f"{answer.objective} was found, below our bound of {ours['bound']}"
    if answer.status != OPTIMAL:
        return "no better"
    if ours["found"] and answer.objective > price(ours):
        return f"{answer.objective} should be the least, we found {price(ours)}"
    return "equal" if ours["proved"] else "no better"


class Court:
    def __init__(self, args, referees):
        self.args, self.referees = args, referees
        self.counts, self.contradictions, self.unjudged = Counter(), [], []

    def hear(self, label, text, ours):
        path = Path(self.args.keep) / f"{label}.lp"
        path.write_text(lp_text(text), encoding="utf-8")
        verdicts = {}
        for referee in self.referees:
            answer = referee.solve(path)
            verdicts[referee.name] = judge(ours, answer)
            self.counts[referee.name, verdicts[referee.name] if len(verdicts[referee.name]) < 10 else "contradiction"] += 1
            if self.args.verbose:
                print(f"{label} {referee.name} {answer.status} {answer.objective} {answer.seconds:.1f} s", flush=True)
        self.counts["program", "proved" if ours["proved"] else "not proved"] += 1
        wrong = {name: words for name, words in verdicts.items() if words not in ("equal", "no better")}
        # A referee that calculates in floating point may be wrong where another proves our price.
        if wrong and "equal" not in verdicts.values():
            self.contradictions.append(label)
        elif ours["proved"] and "equal" not in verdicts.values():
            self.unjudged.append(label)
        for name, words in wrong.items():
            print(f"{label}: {name}: {words}" + (" (another referee proves ours)" if "equal" in verdicts.values() else ""))
        (Path(self.args.keep) / f"{label}.txt").write_text(text, encoding="utf-8")
        if not wrong:
            path.unlink()


def cases(args):
    yield from ((f"kit-{i}", text) for i, text in enumerate(markets(args.seed, args.kits, args.lines, args.suppliers)))
    yield from ((f"large-{i}", text) for i, text in enumerate(markets(args.seed + 1, args.large, (100, 100), (50, 50))))


def arguments():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("basket_run")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--kits", type=int, default=200)
    parser.add_argument("--large", type=int, default=20)
    parser.add_argument("--lines", type=span, default=(10, 80))
    parser.add_argument("--suppliers", type=span, default=(3, 15))
    parser.add_argument("--seconds", default="10", help="for the program, a kit")
    parser.add_argument("--sec", type=int, default=60, help="for a referee, a kit")
    parser.add_argument("--highs", help="folder with node_modules/highs")
    parser.add_argument("--no-cbc", action="store_true")
    parser.add_argument("--all-judged", action="store_true")
    parser.add_argument("--keep", help="folder for the models; those that agree are deleted")
    parser.add_argument("--verbose", action="store_true")
    return parser.parse_args()


def main():
    args = arguments()
    referees = [] if args.no_cbc else [Cbc(args.sec)]
    referees.append(Highs(args.sec, args.highs))
    for referee in list(referees):
        if referee.missing():
            print(f"{referee.name} is left out: {referee.missing()}")
            referees.remove(referee)
    if not referees:
        print("skipped: there is no referee")
        return 0
    with tempfile.TemporaryDirectory() as folder:
        args.keep = args.keep or folder
        court = Court(args, referees)
        for label, text in cases(args):
            court.hear(label, text, run_basket(args.basket_run, [text], "--seconds", args.seconds)[0])
    for (who, what), count in sorted(court.counts.items()):
        print(f"{who}: {what} {count}")
    if court.unjudged:
        print(f"proved by the program alone: {' '.join(court.unjudged)}")
    print(f"contradictions: {len(court.contradictions)} {' '.join(court.contradictions)}".rstrip())
    return 1 if court.contradictions or (args.all_judged and court.unjudged) else 0


if __name__ == "__main__":
    sys.exit(main())
