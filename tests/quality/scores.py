"""How good a list of hits is. `found` are the grades of the hits in their order, 0 for what was not wanted; `judged` the
grades of everything that is wanted, in any order."""
import math
from collections import defaultdict

DEPTH = 10


def linear(grade):
    return max(0.0, grade)


def exponential(grade):
    return 2.0 ** max(0.0, grade) - 1.0


def dcg(grades, depth=DEPTH, gain=linear):
    """Discounted cumulative gain: gain over log2 (1 + rank)."""
    return sum(gain(grade) / math.log2(2 + i) for i, grade in enumerate(grades[:depth]))


def ndcg(found, judged, depth=DEPTH, gain=linear):
    """0 to 1, of the best order that there could be; None: nothing is wanted, so nothing can be said."""
    best = dcg(sorted(judged, reverse=True), depth, gain)
    return dcg(found, depth, gain) / best if best > 0 else None


def hit(found, depth):
    """1: something wanted is among the first `depth`."""
    return float(any(grade > 0 for grade in found[:depth]))


def mean(values):
    values = list(values)
    return sum(values) / len(values) if values else float("nan")


class Tally:
    """Scores by name, each a list with one value a query."""

    def __init__(self):
        self.values = defaultdict(list)

    def add(self, **scores):
        for name, value in scores.items():
            self.values[name].append(value)

    def mean(self, name):
        return mean(self.values[name])

    def count(self, name):
        return len(self.values[name])


def of_wanted(hits, wanted, shallow=(1, 3, DEPTH)):
    """The scores of one query whose wanted parts are all worth the same."""
    found = [float(hit in wanted) for hit in dict.fromkeys(hits)]
    scores = {f"hit{depth}": hit(found, depth) for depth in shallow}
    scores["ndcg"] = ndcg(found, [1.0] * len(wanted))
    return scores
