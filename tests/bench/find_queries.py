#!/usr/bin/env python3
"""Mixed queries for `find`, made from a parts catalogue (CSV), the same for the same file and options.

    find_queries.py CSV [--count 2000] [--seed 1]          a line each: kind<TAB>text

The file is read once; about 20,000 rows in equal distances are what the queries are taken from, so that a word or number
comes as often in them as in the file.
"""
import argparse
import collections
import csv
import random
import re
import string
from pathlib import Path

SAMPLE = 20_000
FREQUENT = 100  # words that count as frequent
KEYBOARD = ("qwertyuiop", "asdfghjkl", "zxcvbnm")
WRITTEN_OUT = {"upr": "upper", "lwr": "lower", "frt": "front", "rr": "rear", "lh": "left", "rh": "right", "inr": "inner",
               "otr": "outer", "assy": "assembly", "stl": "steel", "blk": "black", "adj": "adjustable", "reinf": "reinforced"}


def words_of(text):
    return re.findall(r"[a-z0-9]+", text.lower())


def written_out():
    """brief: word, as make_catalog abbreviates them."""
    text = Path(__file__).with_name("make_catalog_words.h").read_text()
    pairs = {brief.lower(): word for word, brief in re.findall(r'\{"([a-z]+)", +"([A-Z]+)"\}', text)}
    return {brief: word for brief, word in {**pairs, **WRITTEN_OUT}.items() if brief != word}


class Catalogue:
    """A sample of a catalogue's rows, and the words of their titles, most frequent first."""

    def __init__(self, path):
        with open(path, newline="", encoding="utf-8") as lines:
            head = next(lines)
            first = lines.readline()
            distance = max(1, Path(path).stat().st_size // max(1, len(first)) // SAMPLE)
            taken = [head, first] + [line for at, line in enumerate(lines, 1) if at % distance == 0]
        self.rows = list(csv.DictReader(taken))
        self.counts = collections.Counter(word for row in self.rows for word in set(self.title(row)))
        self.frequent = [word for word, _ in self.ranked() if word.isalpha() and len(word) > 2]
        self.written_out = written_out()

    def ranked(self):
        return sorted(self.counts.items(), key=lambda pair: (-pair[1], pair[0]))

    @staticmethod
    def title(row):
        """Each word once, in the order in which they stand."""
        return list(dict.fromkeys(words_of(row["part_type"] + " " + row["description"])))

    def frequent_pairs(self, count):
        """Two frequent words of one row, each pair once."""
        known, pairs = set(self.frequent[:FREQUENT]), {}
        for row in self.rows:
            both = [word for word in self.title(row) if word in known][:2]
            if len(both) == 2:
                pairs.setdefault(frozenset(both), both)
            if len(pairs) == count:
                break
        return list(pairs.values())


class Maker:
    def __init__(self, catalogue, seed):
        self.catalogue, self.random = catalogue, random.Random(seed)

    def row(self):
        return self.random.choice(self.catalogue.rows)

    def some(self, least=2, most=4):
        """Neighbouring words of one row's title, in order; never digits alone."""
        title = [word for word in self.catalogue.title(self.row()) if word[0].isalpha() and len(word) > 1]
        count = min(len(title), self.random.randint(least, most))
        begin = self.random.randint(0, len(title) - count)
        return title[begin:begin + count]

    def frequent(self):
        return self.random.choice(self.catalogue.frequent[:FREQUENT])

    def words(self):
        return " ".join(self.some())

    def turned(self):
        words = self.some()
        self.random.shuffle(words)
        return " ".join(words)

    def full(self):
        return " ".join(dict.fromkeys(self.catalogue.written_out.get(word, word) for word in self.some()))

    def begun(self, word):
        return word[:self.random.randint(2, max(2, len(word) - 1))]

    def prefix(self):
        return self.begun(self.some(1, 1)[0])

    def prefix_behind(self):
        words = self.some(2, 4)
        return " ".join(words[:-1] + [self.begun(words[-1])])

    def neighbour(self, letter):
        line = next((line for line in KEYBOARD if letter in line), string.digits)
        at = line.find(letter)
        return self.random.choice(line[max(0, at - 1):at] + line[at + 1:at + 2])

    def mistyped(self, word):
        at = self.random.randint(1, len(word) - 2)
        wrong = self.random.choice((
            word[:at] + word[at + 1:],                                 # a letter is missing
            word[:at] + word[at] + word[at:],                          # twice
            word[:at] + word[at + 1] + word[at] + word[at + 2:],       # two are swapped
            word[:at] + self.neighbour(word[at]) + word[at + 1:],      # the key beside it
            word[:at] + self.random.choice(string.ascii_lowercase) + word[at:]))
        return wrong if wrong != word else self.mistyped(word)

    def typo(self):
        while True:
            words = self.some(1, 3)
            long = [at for at, word in enumerate(words) if len(word) > 3]
            if long:
                at = self.random.choice(long)
                words[at] = self.mistyped(words[at])
                return " ".join(words)

    def number(self):
        return self.row()["part_number"]

    def bare(self):
        return re.sub(r"[^0-9A-Za-z]", "", self.number())

    def number_bare(self):
        return self.random.choice((str.lower, str.upper))(self.bare())

    def number_blanks(self):
        number, parts = self.bare(), []
        while number:
            length = self.random.randint(2, 4)
            parts.append(number[:length])
            number = number[length:]
        return " ".join(parts)

    def number_short(self):
        return self.random.choice((self.bare(), self.number()))[:-2].rstrip(" -./")

    def number_piece(self):
        number = self.bare()
        length = min(self.random.randint(4, 6), len(number) - 2)
        begin = self.random.randint(1, len(number) - length - 1)
        return number[begin:begin + length]

    def number_wrong(self):
        number = self.bare()
        at = self.random.randrange(len(number))
        choice = string.digits if number[at].isdigit() else string.ascii_uppercase
        return number[:at] + self.random.choice(choice.replace(number[at], "")) + number[at + 1:]

    def number_brand(self):
        row = self.row()
        both = [row["brand"], row["part_number"]]
        return " ".join(both if self.random.random() < 0.5 else both[::-1])

    def number_word(self):
        row = self.row()
        word = self.random.choice([word for word in self.catalogue.title(row) if word[0].isalpha()])
        number = re.sub(r"[^0-9A-Za-z]", "", row["part_number"])
        return " ".join((number, word) if self.random.random() < 0.5 else (word, number))

    def dimension(self):
        """`6PK2120`, `M8x30 10.9`: as it stands, in small letters, with blanks, or a word before it."""
        while True:
            spec = self.row()["spec"]
            if re.match(r"\dPK|M\d", spec):
                break
        belt = re.match(r"(\d)PK(\d+)$", spec)
        loose = " ".join((belt[1], "pk", belt[2])) if belt else spec.replace("x", " x ")
        word = "belt" if belt else "bolt"
        return self.random.choice((spec, spec.lower(), loose, f"{word} {spec}", f"{spec.lower()} {word}"))


MADE = (("frequent", 10, Maker.frequent), ("words", 14, Maker.words), ("turned", 7, Maker.turned),
        ("written-out", 8, Maker.full), ("prefix", 7, Maker.prefix), ("prefix-behind", 9, Maker.prefix_behind),
        ("typo", 11, Maker.typo), ("number", 5, Maker.number), ("number-bare", 5, Maker.number_bare),
        ("number-blanks", 3, Maker.number_blanks), ("number-short", 4, Maker.number_short),
        ("number-piece", 3, Maker.number_piece), ("number-wrong", 3, Maker.number_wrong),
        ("number-brand", 3, Maker.number_brand), ("number-word", 3, Maker.number_word),
        ("dimension", 5, Maker.dimension))  # of a hundred


def make_queries(catalogue, count, seed=1):
    """Pairs of kind and text, mixed."""
    assert sum(share for _, share, _ in MADE) == 100
    maker = Maker(catalogue, seed)
    kinds = [(kind, make) for kind, share, make in MADE for _ in range(share)]
    queries = []
    for begin in range(0, count, len(kinds)):
        turn = kinds[:]
        maker.random.shuffle(turn)
        queries += [(kind, make(maker)) for kind, make in turn[:count - begin]]
    return queries


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("catalogue", type=Path)
    parser.add_argument("--count", type=int, default=2000)
    parser.add_argument("--seed", type=int, default=1)
    options = parser.parse_args()
    for kind, text in make_queries(Catalogue(options.catalogue), options.count, options.seed):
        print(f"{kind}\t{text}")


if __name__ == "__main__":
    main()
