"""What somebody at the bench types, written by hand against the sample: bench_queries.csv, with the parts of which one
should be among the first three. Scores by kind; nothing is demanded, except that every wanted part exists."""
from collections import defaultdict
from typing import NamedTuple

import parts
from scores import Tally, of_wanted
from spoil import key_of

PATH = parts.HERE / "bench_queries.csv"
FIRST = 3


class Asked(NamedTuple):
    kind: str
    query: str
    wanted: set


def key_of_part(text):
    """`KESTOVA KV 4410`: no brand of the sample has a blank in it."""
    brand, _, number = text.strip().partition(" ")
    return brand.casefold(), key_of(number)


def read():
    return [Asked(row["kind"], row["query"], {key_of_part(text) for text in row["wanted"].split("|")})
            for row in parts.read(PATH)]


def unknown(asked):
    """Wanted parts that the sample does not have: a mistake in the file."""
    known = {part.key for part in parts.sample(None).parts}
    return sorted({" ".join(key) for one in asked for key in one.wanted - known})


def share_right(hits, wanted):
    """Of the first three, or of as many as are wanted."""
    most = min(FIRST, len(wanted))
    return sum(hit in wanted for hit in hits[:most]) / most


def run(program, show):
    """The program holds the sample; (met, words) for what must hold."""
    asked = read()
    answers = program.ask_all([one.query.split() for one in asked])
    tallies, missed = defaultdict(Tally), []
    for one, hits in zip(asked, answers):
        scores = of_wanted(hits, one.wanted) | {"right": share_right(hits, one.wanted)}
        for kind in (one.kind, "all"):
            tallies[kind].add(**scores)
        if not scores["hit3"]:
            missed.append((one, hits))
    print(f"{'by hand':18} {'queries':>7} {'Hit@1':>6} {'Hit@3':>6} {'Hit@10':>6} {'right of 3':>10}")
    for kind, tally in sorted(tallies.items(), key=lambda pair: pair[0] == "all"):
        print(f"{kind:18} {tally.count('hit3'):7} {tally.mean('hit1'):6.3f} {tally.mean('hit3'):6.3f}"
              f" {tally.mean('hit10'):6.3f} {tally.mean('right'):10.3f}")
    for one, hits in missed[:None if show else 0]:
        wanted = ", ".join(" ".join(key) for key in sorted(one.wanted)[:3])
        print(f"  {one.kind}: {one.query}\n    wanted {wanted}; got {', '.join(' '.join(key) for key in hits[:3]) or 'nothing'}")
    print()
    wrong = unknown(asked)
    return [(not wrong, f"by hand: every wanted part is in the sample{': not ' if wrong else ''}{', '.join(wrong[:5])}")]
