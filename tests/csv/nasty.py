"""Nasty delimited files, the same for the same seed.

    python3 tests/csv/nasty.py SEED       that file, on standard output
"""
import random
import sys

SEPARATORS = b",;\t|"
MIB = 1 << 20

LATIN = [b"\xe9", b"\xff", b"\xc3", b"\xc0\x80", b"\xed\xa0\x80", b"\xf4\x90\x80\x80", b"\xe2\x82", b"\x80"]
WORDS = [b"hose", b"o-ring", b"12", b"M6x25", b"x", b"1.5", "Kühler".encode(), "日本".encode(), "e\u0301".encode(),
         "\U0001f527".encode(), b"it's", b"a\\b", b"\\", b"\x0b", b"\x0c", "\x85".encode(), "\u2028".encode(),
         "\u00a0".encode(), b"\xef\xbb\xbf", b"=1+1", b"5\" hose", b"a\"b\"c", b"x\"", b"x\"\"", b"two words", b"a , b"]


def word(rng):
    return rng.choice(WORDS)


def blanks(rng):
    return b"".join(rng.choice([b" ", b"\t"]) for _ in range(rng.randint(1, 3)))


def line_end(rng, ends):
    return rng.choice(ends)


def quoted(rng, sep, ends):
    parts = []
    for _ in range(rng.randint(0, 4)):
        parts.append(rng.choice([word(rng).replace(b'"', b'""'), b'""', sep, blanks(rng), line_end(rng, ends),
                                 b"\r", b"\n", b"\r\n", b"plain"]))
    return b'"' + b"".join(parts) + b'"'


def mischief(rng, sep, ends):
    """A cell that is not as it should be."""
    return rng.choice([
        lambda: quoted(rng, sep, ends) + word(rng),                 # text after a closing quote
        lambda: quoted(rng, sep, ends) + b" " + quoted(rng, sep, ends),
        lambda: b'"' + word(rng),                                   # never closed, or by a later cell
        lambda: b'"',
        lambda: b'"""',
        lambda: b'""x""',
        lambda: word(rng) + b"\0" + word(rng),
        lambda: b"\0",
        lambda: b'"a\0"',
        lambda: word(rng) + rng.choice(LATIN),
        lambda: b'"' + rng.choice(LATIN) + b'"',
        lambda: blanks(rng) + b'"' + word(rng),
        lambda: rng.choice(SEPARATORS_APART),
    ])()


SEPARATORS_APART = [bytes([c]) for c in SEPARATORS]


def sound(rng, sep, ends):
    return rng.choice([
        lambda: word(rng),
        lambda: word(rng),
        lambda: word(rng),
        lambda: b"",
        lambda: blanks(rng),
        lambda: blanks(rng) + word(rng) + blanks(rng),
        lambda: quoted(rng, sep, ends),
        lambda: quoted(rng, sep, ends),
        lambda: b'""',
        lambda: b'""""',
        lambda: blanks(rng) + quoted(rng, sep, ends),
        lambda: quoted(rng, sep, ends) + blanks(rng),
        lambda: rng.choice(SEPARATORS_APART) if sep != b"," else b".",
    ])()


def rows(rng, sep, ends):
    share = rng.choice([0, 0, 0.02, 0.02, 0.1, 0.4])
    columns = rng.randint(1, 6)
    out = []
    for _ in range(rng.randint(1, 14)):
        kind = rng.random()
        count = columns if kind < 0.8 else rng.randint(1, 8)
        row = sep.join(mischief(rng, sep, ends) if rng.random() < share else sound(rng, sep, ends) for _ in range(count))
        if kind > 0.95:
            row = rng.choice([b"", blanks(rng), sep * columns, b"\n" * 20])
        out.append(row + line_end(rng, ends))
    return b"".join(out)


def soup(rng, sep, _):
    alphabet = [b'"'] * 3 + [sep] * 3 + [b"a", b"b", b" ", b"\t", b"\r", b"\n", b"\r\n", b"\0", b"\xff", "é".encode(), b";"]
    return b"".join(rng.choice(alphabet) for _ in range(rng.randint(1, 60)))


def tiny(rng, sep, _):
    return b"".join(rng.choice([b'"', sep, b"a", b" ", b"\r", b"\n", b"\0", b"\xef", b"\xbb", b"\xbf"])
                    for _ in range(rng.randint(0, 3)))[:3]


def only(rng, sep, ends):
    return rng.choice([b'"', sep, b" ", b"\t", b"\n", b"\r", b"\r\n", b'"' + sep, b'"\n']) * rng.randint(1, 40)


def many_cells(rng, sep, ends):
    count = rng.choice([1000, 1023, 1024, 1025, 1026, 3000])
    cell = rng.choice([b"x", b'"x"', b""])
    return sep.join([cell] * count) + line_end(rng, ends) + b"a" + sep + b"b" + line_end(rng, ends)


def long_cells(rng, sep, ends):
    """Around the reader's own limits: how far it looks ahead, its window, the longest record."""
    size = rng.choice([4090, 4095, 4096, 4097, 5000, 65536, 70000])
    if rng.random() < 0.12:
        size = rng.choice([MIB - 3, MIB - 2, MIB - 1, MIB, MIB + 1, MIB + 2, (5 << 18) - 2, (5 << 18) + 3])
    filler = rng.choice([b"x", b"x", b"x" * 1000 + b"\n", b'""', b" "])
    body = (filler * (size // len(filler) + 1))[:size]
    if rng.random() < 0.5:
        body = b'"' + body + rng.choice([b'"', b'"', b'"', b'"z', b""])
        if rng.random() < 0.3:
            return b"x" * size + rng.choice([b"", b"\n", b"\r\n"])
    before = rng.choice([b"", b"k" + sep, b'"one\ntwo"' + sep])
    return b"a" + sep + b"b\n" + before + body + rng.choice([b"", line_end(rng, ends)]) + b"c" + sep + b"d" + line_end(rng, ends)


SHAPES = [rows] * 14 + [soup] * 4 + [tiny] * 2 + [only] * 1 + [many_cells] * 1 + [long_cells] * 2


def nasty(seed):
    """(the separator, the bytes)"""
    rng = random.Random(seed)
    sep = bytes([rng.choice(SEPARATORS)])
    ends = rng.choice([[b"\n"], [b"\r\n"], [b"\r"], [b"\n", b"\r\n", b"\r"]])
    data = rng.choice(SHAPES)(rng, sep, ends)
    if rng.random() < 0.1:
        data = b"\xef\xbb\xbf" + data
    if rng.random() < 0.3:
        data = data.rstrip(b"\r\n")
    if rng.random() < 0.05:
        data = data[:rng.randint(0, len(data))]
    return sep, data


if __name__ == "__main__":
    sys.stdout.buffer.write(nasty(int(sys.argv[1]))[1])
