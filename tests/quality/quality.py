#!/usr/bin/env python3
"""How well `lastbolt find` finds: queries made from parts that are known, and queries written by hand; README.md says how.

    quality.py LASTBOLT [--queries 400] [--short] [--sets NAME,...] [--catalog PARTS.csv] [--seed 1] [--no-baseline]
                        [--show N] [--dump FILE]

Exit status 1: a demand is missed, or a query got no answer.
"""
import argparse
import contextlib
import csv
import sys
import tempfile
from pathlib import Path

import by_hand
import parts
import queries
from scores import Tally, of_wanted
from systems import FullText, Program

SETS = {"electronics": parts.electronics, "vehicles": parts.vehicles, "sample": parts.sample}
SEPARATORS = ("number", "number-bare", "number-blanks", "number-separated")
# What is asked of every set: (kinds taken together, score, at least).
DEMANDS = ((("title",), "hit10", 0.95), (SEPARATORS, "hit1", 0.99), (("number-tail",), "hit10", 0.97), (("number-wrong",), "hit10", 0.95))
CLEAN_SHARE = 0.97  # of the clean query's nDCG, that a misspelt one must have


class Outcome:
    """One set's scores: a tally for each kind."""

    def __init__(self, name):
        self.name, self.tallies = name, {}

    def add(self, query, scores):
        self.tallies.setdefault(query.kind, Tally()).add(**scores)

    def pooled(self, kinds, score):
        found = [value for kind in kinds if kind in self.tallies for value in self.tallies[kind].values[score]]
        return (sum(found) / len(found), len(found)) if found else (None, 0)

    def judged(self, slack):
        """(met, words) for each demand that this set has queries for. `slack`: so many queries may miss beyond it."""
        for kinds, score, least in DEMANDS:
            got, count = self.pooled(kinds, score)
            if count:
                yield got + slack / count >= least, f"{self.name}: {', '.join(kinds)}: {score} {got:.3f} of {count}, wanted {least}"
        for kind in ("misspelt", "dropped-misspelt"):
            if kind in self.tallies:
                tally = self.tallies[kind]
                best, reached, count = sum(tally.values["clean"]), sum(tally.values["ndcg"]), tally.count("ndcg")
                got = reached / best if best else 0.0
                yield 0 < best * CLEAN_SHARE <= reached + slack, (f"{self.name}: {kind}: {got:.3f} of the clean"
                                                                  f" queries' nDCG, {count} queries, wanted {CLEAN_SHARE}")


def score_all(part_set, asked, program, baseline):
    """(query, hits, scores) for each."""
    words, clean = [query.words for query in asked], [query.clean or query.words for query in asked]
    answers, meant = program.ask_all(words), program.ask_all(clean)
    others = [baseline.ask_all(words, joined) for joined in ("OR", "AND")] if baseline else []
    for i, query in enumerate(asked):
        scores = of_wanted(answers[i], query.wanted)
        if query.clean:
            scores["clean"] = of_wanted(meant[i], query.wanted)["ndcg"]
        for name, found in zip(("any", "all"), others):
            other = of_wanted(found[i], query.wanted)
            scores.update({f"{name}_ndcg": other["ndcg"], f"{name}_hit1": other["hit1"]})
        yield query, answers[i], scores


def table(outcome):
    head = f"{'set':12} {'kind':18} {'queries':>7} {'nDCG@10':>8} {'Hit@1':>6} {'Hit@10':>6} {'of clean':>8}"
    print(f"{head}   FTS5 any: {'nDCG':>5} {'Hit@1':>6}   all: {'nDCG':>5} {'Hit@1':>6}")
    for kind, tally in outcome.tallies.items():
        def cell(name, width):
            return f"{tally.mean(name):{width}.3f}" if tally.count(name) else " " * width
        share = f"{tally.mean('ndcg') / max(tally.mean('clean'), 1e-9):8.3f}" if tally.count("clean") else " " * 8
        print(f"{outcome.name:12} {kind:18} {tally.count('ndcg'):7} {cell('ndcg', 8)} {cell('hit1', 6)} {cell('hit10', 6)}"
              f" {share}   {cell('any_ndcg', 15)} {cell('any_hit1', 6)}   {cell('all_ndcg', 10)} {cell('all_hit1', 6)}")
    print(flush=True)


def tell_worst(rows, count):
    """The first `count` queries of every kind that did not put what was wanted first."""
    told = {}
    for query, hits, scores in rows:
        missed = scores["ndcg"] < 0.999 and told.setdefault(query.kind, 0) < count
        if missed:
            told[query.kind] += 1
            wanted = ", ".join(" ".join(key) for key in sorted(query.wanted)[:3])
            got = ", ".join(" ".join(key) for key in hits[:3]) or "nothing"
            meant = f" (meant: {' '.join(query.clean)})" if query.clean else ""
            print(f"  {query.kind}: {' '.join(query.words)}{meant}\n    nDCG {scores['ndcg']:.2f}; wanted {wanted}; got {got}")


def run_set(part_set, options, folder, dump):
    program = Program(options.program, part_set.files, folder)
    asked = queries.make(part_set, options.queries, options.seed)
    baseline = None if options.no_baseline else FullText(part_set.parts)
    outcome, rows = Outcome(part_set.name), list(score_all(part_set, asked, program, baseline))
    for query, hits, scores in rows:
        outcome.add(query, scores)
        if dump:
            dump.writerow([part_set.name, query.kind, " ".join(query.words), " ".join(query.clean or []), query.note,
                           "|".join(" ".join(key) for key in sorted(query.wanted)),
                           "|".join(" ".join(key) for key in hits), *(scores[name] for name in ("ndcg", "hit1", "hit10"))])
    table(outcome)
    tell_worst(rows, options.show)
    real = sum(bool(query.note) for query in asked)
    if real:
        print(f"  {real} misspelt words are words of other titles of this set\n")
    return outcome, program


def open_dump(path, stack):
    if not path:
        return None
    dump = csv.writer(stack.enter_context(open(path, "w", encoding="utf-8", newline="")))
    dump.writerow(("set", "kind", "query", "meant", "note", "wanted", "got", "ndcg", "hit1", "hit10"))
    return dump


def run_sets(options, wanted, stack):
    """(met, words) for each demand, and the programs by the name of their set."""
    dump, folder = open_dump(options.dump, stack), Path(stack.enter_context(tempfile.TemporaryDirectory()))
    verdicts, programs = [], {}
    for name in wanted:
        if name == "catalog" and options.catalog:
            part_set = parts.from_file(options.catalog, name)
        elif name in SETS:
            part_set = SETS[name](folder)
        else:
            continue
        outcome, programs[name] = run_set(part_set, options, folder, dump)
        verdicts += outcome.judged(1 if options.short else 0)
    if "by-hand" in wanted:
        if "sample" not in programs:
            programs["sample"] = Program(options.program, [parts.SAMPLE], folder)
        verdicts += by_hand.run(programs["sample"], options.show)
    return verdicts, programs


def report(verdicts, programs):
    for met, words in verdicts:
        print(f"{'met   ' if met else 'MISSED'}  {words}")
    troubles = [f"{name}: no answer: {words}" for name, program in programs.items() for words in program.troubles]
    troubles += [f"{name}: import refused {program.refused} rows" for name, program in programs.items() if program.refused]
    for words in troubles[:10] + ([f"{len(troubles) - 10} more"] if len(troubles) > 10 else []):
        print(f"MISSED  {words}")
    return all(met for met, _ in verdicts) and not troubles


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("program", type=Path)
    parser.add_argument("--queries", type=int, help="at most, of each kind and set (400)")
    parser.add_argument("--short", action="store_true", help="60 of each, no baseline, and a query may miss beyond a demand")
    parser.add_argument("--sets", default="electronics,vehicles,sample,by-hand,catalog")
    parser.add_argument("--catalog", type=Path, help="a parts list that make_catalog wrote")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--no-baseline", action="store_true")
    parser.add_argument("--show", type=int, default=0, help="so many misses of each kind")
    parser.add_argument("--dump", help="every query with its answer, as CSV")
    options = parser.parse_args()
    options.queries = options.queries or (60 if options.short else 400)
    options.no_baseline |= options.short
    wanted = options.sets.split(",")
    unknown = set(wanted) - set(SETS) - {"by-hand", "catalog"}
    if unknown:
        parser.error(f"no set is called {', '.join(sorted(unknown))}")
    with contextlib.ExitStack() as stack:
        verdicts, programs = run_sets(options, wanted, stack)
    sys.exit(0 if report(verdicts, programs) else 1)


if __name__ == "__main__":
    main()
