#!/usr/bin/env python3
"""Markets as real kits make them, in the text form of market_text.h: lines of hardware, seals, fluids and big parts, each with
a few candidate parts that a good part of the suppliers offer; suppliers with price levels, minimum orders and free shipping
from a value. Each can be bought: some supplier without a minimum has a candidate of every line, stock enough.

    generate.py SEED COUNT [--lines 10-80] [--suppliers 3-15] > markets.txt

The same words give the same markets.
"""

import argparse
import random

MILLION = 10**6
TAXES = (19 * MILLION, 7_700_000)
MINOR = {"EUR": 100, "GBP": 100, "JPY": 1}
RATES = {"GBP": 1_163_700, "JPY": 6_123}  # of EUR
# what lines are: how often, price of one from and to (EUR), how many are needed, packs it is sold in
KINDS = (
    ("bolt", 30, 0.30, 2.50, (2, 4, 4, 6, 8, 12), (1, 1, 1, 10, 50)),
    ("pin", 15, 0.35, 1.60, (3, 7, 12, 16, 23), (1, 10, 10, 50)),
    ("seal", 25, 0.90, 14.00, (1, 1, 1, 2, 4), (1, 1, 1, 10)),
    ("fluid", 7, 3.00, 11.00, (0.25, 0.5, 1.3, 3.6, 6.2), (1, 1, 5)),
    ("part", 23, 8.00, 180.00, (1, 1, 1, 1, 2), (1,)),
)


class Line:
    def __init__(self, draw, index):
        self.index = index
        kind = draw.choices(KINDS, [kind[1] for kind in KINDS])[0]
        self.kind, self.packs = kind[0], kind[5]
        self.price = kind[2] * (kind[3] / kind[2]) ** draw.random()
        self.quantity = int(draw.choice(kind[4]) * MILLION)
        self.options = []  # (part, quantity, premium, companions)


class Market:
    def __init__(self, draw, lines, suppliers):
        self.draw = draw
        self.rows = ["market EUR"]
        self.parts = []  # (on hand, offers as texts)
        self.contents = []
        self.make_suppliers(suppliers)
        self.lines = [Line(draw, i) for i in range(lines)]
        for line in self.lines:
            self.make_candidates(line)
        for _ in range(draw.randint(0, 1 + lines // 15)):
            self.make_box()

    # --- suppliers

    def make_suppliers(self, count):
        draw = self.draw
        self.suppliers = []
        for i in range(count):
            currency = draw.choice(("GBP", "JPY")) if i and draw.random() < 0.06 else "EUR"
            minimum = draw.choice((15, 20, 25, 50)) if i and draw.random() < 0.3 else None
            self.suppliers.append({
                "currency": currency, "level": draw.uniform(0.82, 1.18), "breadth": draw.uniform(0.25, 0.8),
                "lead": draw.randint(0, 3)})
            self.rows.append(f"supplier s{i:02d} {currency} {self.money(minimum, currency)} {draw.randint(1, 6)} "
                             f"{draw.choice(TAXES)}")
            self.rows += self.shipping(i, currency)
        for currency in sorted({s["currency"] for s in self.suppliers} - {"EUR"}):
            self.rows.append(f"rate {currency} EUR {RATES[currency]}")

    def shipping(self, index, currency):
        draw, charge = self.draw, self.draw.choice((2.95, 3.9, 4.9, 5.95, 6.5, 7.9, 9.9))
        free = draw.choice((40, 50, 60, 75, 100, 150))
        kind = "free" if index == 0 else draw.choice(("free",) * 5 + ("flat", "steps", "rising", "above", "none"))
        tables = {
            "free": ((0, charge), (free, 0)),
            "flat": ((0, charge),),
            "steps": ((0, charge), (free / 2, charge / 2), (free, 0)),
            "rising": ((0, charge), (free, 1.6 * charge), (3 * free, 2.5 * charge)),
            "above": ((12, charge), (free, 0)),  # nothing is sent below
            "none": (),
        }
        return [f"ship {self.money(goods, currency)} {self.money(cost, currency)}" for goods, cost in tables[kind]]

    def money(self, euros, currency):
        if euros is None:
            return -1
        return round(euros * MINOR[currency] * MILLION / RATES.get(currency, MILLION))

    # --- parts and who has them

    def offer(self, supplier, one, pack, plenty=False):
        draw, terms = self.draw, self.suppliers[supplier]
        price = one * pack * terms["level"] * draw.uniform(0.94, 1.06) * {1: 1, 5: 0.88, 10: 0.78, 50: 0.6}[pack]
        deposit = price * 0.3 if one > 40 and draw.random() < 0.15 else 0
        least = draw.choice((2, 4, 5, 10)) if one < 2 and pack == 1 and draw.random() < 0.3 else 1
        stock = -1 if plenty or draw.random() < 0.6 else draw.randint(0, max(2, 16 // pack))
        return (f"offer {supplier} {terms['currency']} {max(1, self.money(price, terms['currency']))} "
                f"{self.money(deposit, terms['currency'])} {pack * MILLION} {least} {stock} "
                f"{terms['lead'] + draw.choice((0, 0, 0, 2, 7))}")

    def part(self, one, packs, sure):
        """A part that costs `one` a piece; sure: somebody has it for certain."""
        draw, offers = self.draw, []
        for supplier, terms in enumerate(self.suppliers):
            if draw.random() < terms["breadth"]:
                offers += [self.offer(supplier, one, pack) for pack in sorted({draw.choice(packs), draw.choice(packs)})]
        if sure:
            offers.append(self.offer(0, one * 1.15, packs[0], plenty=True))
        on_hand = draw.randint(1, 6) * MILLION if one < 5 and draw.random() < 0.06 else 0
        self.parts.append((on_hand, offers))
        return len(self.parts) - 1

    def make_candidates(self, line):
        draw = self.draw
        earlier = [other for other in self.lines[:line.index] if other.kind == line.kind and other.options]
        if earlier and line.kind in ("bolt", "pin") and draw.random() < 0.08:  # the same part on another line
            part = draw.choice(earlier).options[0][0]
            line.options.append((part, line.quantity, 0, []))
            return
        for i in range(draw.randint(1, 4)):
            part = self.part(line.price * draw.uniform(0.75, 1.35), line.packs, i == 0)
            premium = round(draw.uniform(0, 0.15) * 100 * line.price * line.quantity / MILLION) if draw.random() < 0.1 else 0
            companions = []
            if line.kind == "part" and draw.random() < 0.06:  # two parts took the place of one
                companions.append((self.part(line.price * 0.2, (1,), i == 0), line.quantity))
            line.options.append((part, line.quantity, premium, companions))

    # --- boxes

    def make_box(self):
        """A set that answers one line, and has in it what one to four others need."""
        draw = self.draw
        solid = [line for line in self.lines if line.kind != "fluid"]
        lines = draw.sample(solid, min(len(solid), draw.randint(2, 5)))
        if not lines:
            return
        opener, held = lines[0], lines[1:]
        whole = -(-opener.quantity // MILLION)
        worth = opener.price * draw.uniform(0.8, 1.3) + sum(
            min(60, line.price * line.quantity / MILLION / whole) for line in held) * draw.uniform(0.3, 0.9)
        part = self.part(worth, (1,), False)
        opener.options.append((part, whole * MILLION, 0, []))
        for line in held:
            quantity = max(1, round(line.quantity / MILLION / whole * draw.choice((0.5, 1, 1, 1, 2))))
            line.options.append((part, 0, 0, []))  # what is in a box is an option of the line that it is for
            bare = draw.random() < 0.4  # only for who takes the box
            self.contents.append((part, quantity * MILLION, line.index, f" {opener.index} {line.index}" if bare else ""))

    # --- as text

    def text(self):
        rows = list(self.rows)
        for on_hand, offers in self.parts:
            rows += [f"part {on_hand}"] + offers
        for line in self.lines:
            rows.append(f"need {line.quantity}")
            for part, quantity, premium, companions in line.options:
                rows.append(f"option {part} {quantity} {premium}")
                rows += [f"with {other} {count}" for other, count in companions]
        for part, quantity, need, openers in self.contents:
            rows += [f"content {part} {quantity}", f"cover {need}{openers}"]
        return "\n".join(rows + ["end", ""])


def span(words):
    least, _, most = words.partition("-")
    return int(least), int(most or least)


def markets(seed, count, lines=(10, 80), suppliers=(3, 15)):
    """Texts; market i of a seed does not depend on how many are asked for."""
    for i in range(count):
        draw = random.Random(f"{seed}/{i}")
        yield Market(draw, draw.randint(*lines), draw.randint(*suppliers)).text()


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("seed", type=int)
    parser.add_argument("count", type=int)
    parser.add_argument("--lines", type=span, default=(10, 80))
    parser.add_argument("--suppliers", type=span, default=(3, 15))
    args = parser.parse_args()
    for text in markets(args.seed, args.count, args.lines, args.suppliers):
        print(text, end="")


if __name__ == "__main__":
    main()
