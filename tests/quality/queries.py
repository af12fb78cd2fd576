"""Queries from parts: what somebody types who has this part in mind. The same seed gives the same queries."""
import random
from typing import NamedTuple, Optional

import spoil
from parts import TITLE_WORDS, typed_words

SHOWN = 10  # so many hits are looked at
KINDS = ("title", "reordered", "dropped", "abbreviated", "spelt-out", "misspelt", "dropped-misspelt", "number",
         "number-bare", "number-blanks", "number-separated", "brand-number", "number-brand", "number-tail", "number-wrong")


class Query(NamedTuple):
    kind: str
    words: list
    wanted: set  # the keys of parts
    clean: Optional[list] = None  # misspelt: what was meant
    note: str = ""


def fewer_words(part_set, part, words, rng):
    """At least two words are left, and enough that only the wanted parts have them all."""
    for least in range(2, len(words)):
        for _ in range(4):
            kept = sorted(rng.sample(range(len(words)), rng.randint(least, len(words) - 1)))
            left = [words[i] for i in kept]
            if part_set.holding(left) <= part_set.same_title(part):
                return left
    return None


def plain(kind, words, wanted):
    return Query(kind, words, wanted) if words else None


def misspelt(kind, part_set, words, wanted, rng):
    found = words and spoil.misspell_one(words, rng)
    if not found:
        return None
    spoilt, at = found
    known = spoil.key_of(spoilt[at]).casefold() in part_set.of_stem
    return Query(kind, spoilt, wanted, words, "a word of other titles" if known else "")


def word_queries(part_set, part, rng):
    """All kinds that this part's title allows."""
    words, wanted = typed_words(part.title), part_set.same_title(part)
    if len(words) not in TITLE_WORDS:
        return
    fewer = fewer_words(part_set, part, words, rng) if len(words) > 2 else None
    yield plain("title", words, wanted)
    yield plain("reordered", spoil.reorder(words, rng), wanted)
    yield plain("dropped", fewer, wanted)
    yield plain("abbreviated", spoil.abbreviate(words, rng), wanted)
    yield plain("spelt-out", spoil.spell_out(words), wanted)
    yield misspelt("misspelt", part_set, words, wanted, rng)
    yield misspelt("dropped-misspelt", part_set, fewer, wanted, rng)


def has_number(part):
    key = part.key[1]
    return len(key) >= 5 and key.isascii() and any(c.isdigit() for c in key) and not key.startswith("CONN")


def counted_tail(part_set, begun):
    """More numbers begin so than are shown: then fewer than ten complete it by exactly two characters."""
    key = spoil.key_of(begun)
    numbers = part_set.beginning_with(key)
    return len(numbers) <= SHOWN or sum(len(number) == len(key) + 2 for number in numbers) < SHOWN


def wrong_number(part_set, part, rng):
    """Not one that is another part's number: nobody could know."""
    for _ in range(20):
        words = spoil.one_wrong(part.number, rng)
        if spoil.key_of("".join(words)) not in part_set.of_number:
            return words
    return None


def number_queries(part_set, part, rng):
    if "number" in part_set.without or not has_number(part):
        return
    wanted, number, brand = part_set.same_number(part), part.number, part.brand.split()
    yield plain("number", number.split(), wanted)
    yield plain("number-bare", spoil.without_separators(number, rng), wanted)
    yield plain("number-blanks", spoil.with_blanks(number, rng), wanted)
    yield plain("number-separated", spoil.with_separators(number, rng), wanted)
    yield plain("brand-number", brand + number.split(), wanted)
    yield plain("number-brand", number.split() + brand, wanted)
    begun = spoil.without_tail(number, rng)
    yield plain("number-tail", begun if begun and counted_tail(part_set, "".join(begun)) else None, wanted)
    yield plain("number-wrong", wrong_number(part_set, part, rng), wanted)


def make(part_set, most, seed):
    """Up to `most` queries a kind, from parts in random order."""
    rng = random.Random(f"{part_set.name} {seed}")
    parts = [part for part in part_set.parts if part.key not in part_set.skip]
    rng.shuffle(parts)
    kinds = {}
    for source in (word_queries, number_queries):
        for part in parts[:most * 12]:
            for query in source(part_set, part, rng):
                if query and query.kind not in part_set.without and len(kinds.setdefault(query.kind, [])) < most:
                    kinds[query.kind].append(query)
    return [query for kind in KINDS for query in kinds.get(kind, [])]
