#!/usr/bin/env python3
"""`lastbolt find` beside SQLite's full-text search on a collection that people have judged.

    judged.py LASTBOLT --titles FILE --queries FILE --judgments FILE [--typed FILE] [--gain grade|power] [--depth 10]
              [--labels E=3,S=2] [--heading yes|no] [--part-type article] [--seed 1] [--show N] [--dump FILE]

titles: id, title. queries: query_id, query and, if there is such a column, the query as it was typed (or --typed, a file of its
own: query_id, query). judgments: query_id, id, grade. Without typed queries they are made: one error in one word of five letters
or more. Exit status 1: a query got no answer, or a title could not be imported.
"""
import argparse
import csv
import random
import sys
import tempfile
from pathlib import Path

from collection import Collection
from parts import write_parts
from scores import exponential, hit, linear, mean, ndcg
from spoil import misspell_one
from systems import FullText, Program

SYSTEMS = ("find", "FTS5 any", "FTS5 all")
DRAWS = 1000


def spoilt(asked, seed):
    """Query, or None, as it could have been typed."""
    rng = random.Random(seed)
    for one in asked:
        found = misspell_one(one.clean, rng)
        yield one._replace(typed=found[0] if found else None)


def score(hits, one, gain, depth):
    grades = [one.grades.get(key, 0.0) for key in dict.fromkeys(hits)]
    return {"ndcg": ndcg(grades, list(one.grades.values()), depth, gain), "hit1": hit(grades, 1), "hit10": hit(grades, 10)}


def likely(differences, seed):
    """The mean, and between what it lies in 95 of 100 draws of as many queries."""
    rng = random.Random(seed)
    means = sorted(mean(rng.choices(differences, k=len(differences))) for _ in range(DRAWS))
    return mean(differences), means[int(DRAWS * 0.025)], means[int(DRAWS * 0.975)]


class Round:
    """One way of asking: every system's scores for the same queries."""

    def __init__(self, asked, words, systems, options):
        self.asked, self.words = asked, words
        gain = exponential if options.gain == "power" else linear
        self.hits = {name: ask(words) for name, ask in systems.items()}
        self.scores = {name: [score(hits, one, gain, options.depth) for hits, one in zip(answers, asked)]
                       for name, answers in self.hits.items()}

    def mean(self, system, name, only=None):
        return mean(one[name] for asked, one in zip(self.asked, self.scores[system]) if only is None or asked.id in only)

    def table(self, title, clean, depth):
        print(f"{title:10} {'queries':>7} {f'nDCG@{depth}':>8} {'Hit@1':>6} {'Hit@10':>6} {'of clean' if clean else '':>8}")
        for system in self.scores:
            share = ""
            if clean:
                before = clean.mean(system, "ndcg", {one.id for one in self.asked})
                share = f"{self.mean(system, 'ndcg') / max(before, 1e-9):8.3f}"
            print(f"{system:10} {len(self.asked):7} {self.mean(system, 'ndcg'):8.4f} {self.mean(system, 'hit1'):6.3f}"
                  f" {self.mean(system, 'hit10'):6.3f} {share}")

    def compare(self, other, seed):
        apart = [a["ndcg"] - b["ndcg"] for a, b in zip(self.scores["find"], self.scores[other])]
        middle, low, high = likely(apart, seed)
        print(f"find less {other}: {middle:+.4f} ({low:+.4f} to {high:+.4f}); better in {sum(d > 1e-9 for d in apart)},"
              f" worse in {sum(d < -1e-9 for d in apart)} of {len(apart)}")

    def show(self, count, titles):
        """Where find is furthest behind."""
        behind = [(self.scores["find"][i]["ndcg"] - self.scores["FTS5 any"][i]["ndcg"], i) for i in range(len(self.asked))]
        for apart, i in sorted(behind)[:count]:
            print(f"  {apart:+.2f} {' '.join(self.words[i])}")
            for system in ("find", "FTS5 any"):
                for key in self.hits[system][i][:3]:
                    print(f"      {system}: {self.asked[i].grades.get(key, 0):g} {titles.get(key, '?')[:100]}")

    def dump(self, out, title):
        for system, scores in self.scores.items():
            for one, words, got in zip(self.asked, self.words, scores):
                out.writerow((title, system, one.id, " ".join(words), *(f"{got[name]:.4f}" for name in ("ndcg", "hit1", "hit10"))))


def run(collection, options, folder):
    program = Program(options.program, [write_parts(folder / "titles.csv", collection.parts)], folder)
    other = FullText(collection.parts)
    systems = dict(zip(SYSTEMS, (program.ask_all, lambda words: other.ask_all(words, "OR"),
                                 lambda words: other.ask_all(words, "AND"))))
    asked = collection.asked
    if not any(one.typed for one in asked):
        print("no query is there as it was typed: errors are made")
        asked = list(spoilt(asked, options.seed))
    typed = [one for one in asked if one.typed]
    rounds = {"clean": Round(asked, [one.clean for one in asked], systems, options)}
    if typed:
        rounds["as typed"] = Round(typed, [one.typed for one in typed], systems, options)
    titles = {part.key: part.description for part in collection.parts}
    for title, each in rounds.items():
        each.table(title, rounds["clean"] if title != "clean" else None, options.depth)
        for name in SYSTEMS[1:]:
            each.compare(name, options.seed)
        each.show(options.show, titles)
        print()
    return program, rounds


def parse():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("program", type=Path)
    for name in ("titles", "queries", "judgments"):
        parser.add_argument(f"--{name}", type=Path, required=True)
    parser.add_argument("--typed", type=Path)
    parser.add_argument("--gain", choices=("grade", "power"), default="grade", help="the grade, or 2^grade - 1")
    parser.add_argument("--depth", type=int, default=10, choices=range(1, 11), metavar="1..10")
    parser.add_argument("--labels", default="", help="what grades written as words are worth")
    parser.add_argument("--heading", choices=("yes", "no"), help="whether the files begin with headings (default: found out)")
    parser.add_argument("--part-type", default="article")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--show", type=int, default=0)
    parser.add_argument("--dump", type=Path)
    return parser.parse_args()


def main():
    options = parse()
    labels = dict(pair.split("=", 1) for pair in options.labels.split(",") if "=" in pair)
    header = {"yes": True, "no": False, None: None}[options.heading]
    collection = Collection(options.titles, options.queries, options.judgments, options.typed, options.part_type, header, labels)
    print(f"{len(collection.parts)} titles, {len(collection.asked)} queries")
    print("".join(f"  {words}\n" for words in collection.remarks))
    if not collection.asked:
        sys.exit("no query has anything that is worth something to it: do the ids of the three files belong together?")
    with tempfile.TemporaryDirectory() as name:
        program, rounds = run(collection, options, Path(name))
    if options.dump:
        with open(options.dump, "w", encoding="utf-8", newline="") as file:
            out = csv.writer(file)
            out.writerow(("asked", "system", "query_id", "query", "ndcg", "hit1", "hit10"))
            for title, each in rounds.items():
                each.dump(out, title)
    for words in program.troubles[:10]:
        print(f"no answer: {words}")
    if program.refused:
        print(f"import refused {program.refused} titles")
    print(f"{len(program.troubles)} queries without an answer")
    sys.exit(1 if program.troubles or program.refused else 0)


if __name__ == "__main__":
    main()
