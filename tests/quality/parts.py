"""The sets: parts whose titles and numbers are known, as files for `import` and as an index of their words."""
import csv
import re
import unicodedata
from bisect import bisect_left
from collections import defaultdict
from pathlib import Path
from typing import NamedTuple

from spoil import key_of

HERE = Path(__file__).resolve().parent
SAMPLE = HERE.parent.parent / "sample-catalog"
CODE_LETTERS = "QXZJKVWB"
TITLE_WORDS = range(2, 15)  # nobody types more
HEADER = ("brand", "part_number", "part_type", "description", "spec")


class Part(NamedTuple):
    brand: str
    number: str
    part_type: str
    description: str
    spec: str = ""

    @property
    def key(self):
        return self.brand.casefold(), key_of(self.number)

    @property
    def title(self):
        """What can be read of it; the spec where the description leaves it out."""
        more = self.spec and self.spec.casefold() not in self.description.casefold()
        return f"{self.description} {self.spec}" if more else self.description


def code(i):
    """A running number in letters: nobody's query holds one, and no digits that a query's could be taken for."""
    out = ""
    for _ in range(8):
        out = CODE_LETTERS[i % len(CODE_LETTERS)] + out
        i //= len(CODE_LETTERS)
    return out


def fold(text):
    plain = unicodedata.normalize("NFKD", text).casefold()
    return "".join(c for c in plain if not unicodedata.combining(c))


def stems(text):
    """Its different words, folded, a plural being no other word."""
    return {word[:-1] if len(word) > 3 and word.endswith("s") else word for word in re.findall(r"[^\W_]+", fold(text))}


def typed_words(text):
    """As somebody types a title: cut at blanks, without the punctuation around a word."""
    words = (word.strip(",;:.!?()[]{}\"'“”‘’-–") for word in text.split())
    return [word for word in words if re.search(r"[^\W_]", word)]


class PartSet:
    """`skip`: keys that no query is made from. `without`: kinds of queries that make no sense here."""

    def __init__(self, name, parts, files, skip=(), without=()):
        self.name, self.files, self.skip, self.without = name, files, set(skip), set(without)
        self.parts = list({part.key: part for part in parts}.values())
        self.of_title, self.of_number, self.of_stem = defaultdict(set), defaultdict(set), defaultdict(set)
        for i, part in enumerate(self.parts):
            self.of_title[" ".join(part.title.casefold().split())].add(part.key)
            self.of_number[part.key[1]].add(part.key)
            for stem in stems(f"{part.title} {part.part_type} {part.brand}"):
                self.of_stem[stem].add(i)
        self.sorted_numbers = sorted(self.of_number)

    def same_title(self, part):
        return self.of_title[" ".join(part.title.casefold().split())]

    def same_number(self, part):
        return self.of_number[part.key[1]]

    def holding(self, words):
        """The keys of all parts that have every one of these words somewhere."""
        wanted = sorted((self.of_stem.get(stem, set()) for stem in stems(" ".join(words))), key=len)
        return {self.parts[i].key for i in set.intersection(*wanted)} if wanted else set()

    def beginning_with(self, begun):
        """The different numbers that begin so."""
        numbers, at = [], bisect_left(self.sorted_numbers, begun)
        while at < len(self.sorted_numbers) and self.sorted_numbers[at].startswith(begun):
            numbers.append(self.sorted_numbers[at])
            at += 1
        return numbers


def read(path):
    with open(path, encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def read_parts(path):
    return [Part(*(row.get(name) or "" for name in HEADER)) for row in read(path)]


def write_parts(path, parts):
    with open(path, "w", encoding="utf-8", newline="") as file:
        out = csv.writer(file, lineterminator="\n")
        out.writerow(HEADER)
        out.writerows(parts)
    return path


def electronics(_):
    path = HERE / "electronics.csv"
    return PartSet("electronics", read_parts(path), [path], without=("spelt-out",))


def vehicles(folder):
    """Titles are make and model; where the model is the make, once."""
    parts = []
    for i, row in enumerate(read(HERE / "vehicles.csv")):
        make, model = row["make"], row["model"]
        title = make if model.casefold() == make.casefold() else f"{make} {model}"
        parts.append(Part(make, code(i), "vehicle-name", title))
    return PartSet("vehicles", parts, [write_parts(folder / "vehicles.csv", parts)],
                   without=("abbreviated", "spelt-out", "number"))


def sample(_):
    """Queries are made from living numbers only: what becomes of superseded ones is asked in by_hand.csv."""
    paths = [SAMPLE / "parts.csv", *sorted((SAMPLE / "bulk").glob("parts-*.csv"))]
    parts = [part for path in paths for part in read_parts(path)]
    replaced = {(row["brand"].casefold(), key_of(row["part_number"])) for row in read(SAMPLE / "supersessions.csv")}
    return PartSet("sample", parts, [SAMPLE], skip=replaced, without=("spelt-out",))


def from_file(path, name):
    return PartSet(name, read_parts(path), [Path(path)])
