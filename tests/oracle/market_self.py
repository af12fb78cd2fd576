"""The market oracle itself: its search against one without any cleverness, known answers, baskets with one thing bent."""

import copy
import csv
import json
import tempfile
from fractions import Fraction
from itertools import chain, combinations, product
from math import prod
from pathlib import Path

from market_check import basket_differs
from market_feasible import nodes, parts_of, reach
from market_generate import generate
from market_known import KNOWN
from market_oracle import Answer, nondominated
from market_search import TooLarge

LARGEST = 6_000


# --- the plainest search: every number of packs of every offer -----------------------------------------------------

def plain_cost(problem, packs):
    """(total, parcels, arrives) or None, from the rows, all in fractions."""
    total, names, last = 0, {offer.supplier for offer, n in packs if n}, None
    for name in names:
        mine = [(offer, n) for offer, n in packs if n and offer.supplier == name]
        goods = sum(offer.price * n for offer, n in mine)
        charge = problem.catalogue.charge(name, goods)
        if charge is None or goods < problem.catalogue.least_order(name):
            return None
        percent = Fraction(problem.catalogue.suppliers[name].get("tax_percent", "0"))
        tax = int((goods + charge) * percent / 100 + Fraction(1, 2))
        total += sum(int(money * problem.rate(name) + Fraction(1, 2)) for money in (goods, charge, tax))
        last = max([problem.arrivals[offer.index] for offer, _ in mine] + ([last] if last else []))
    return (total, len(names), last) if names else None


def plain_supply(problem, packs, chosen):
    """[(quantity, lines)] of all that comes."""
    given, whole = [], {}
    for offer, n in packs:
        whole[offer.part] = whole.get(offer.part, 0) + n * offer.pack
    wanted = nodes(problem, chosen)
    for part, quantity in whole.items():
        given.append((quantity, {at for at, (_, other, _) in enumerate(wanted) if other == part}))
    for content in problem.contents:
        boxes, lines = whole.get(content.box, 0) // 10**6, reach(problem, content, chosen)
        given.append((boxes * content.quantity, {at for at, (n, _, _) in enumerate(wanted) if n in lines}))
    return given


def plain_met(problem, packs, chosen):
    """Hall's condition: every set of lines is wanted no more than what can go to one of them."""
    given = plain_supply(problem, packs, chosen)
    want = [need for _, _, need in nodes(problem, chosen)]
    some = chain.from_iterable(combinations(range(len(want)), size) for size in range(1, len(want) + 1))
    return all(sum(want[n] for n in lines) <= sum(q for q, reached in given if reached & set(lines)) for lines in some)


def plain_possible(problem, packs):
    """Some choice of one part a line, of those that come and all of those, meets everything."""
    come = {offer.part for offer, n in packs if n}
    choices = [[choice for choice in problem.choices(line) if parts_of(choice) <= come] + [None] for line in problem.lines]
    for one in product(*choices):
        if set().union(*map(parts_of, one)) == come and plain_met(problem, packs, dict(enumerate(one))):
            return True
    return False


def plain_front(problem):
    """The front, from every basket there is; None when there are too many."""
    ranges = [[0, *range(offer.least, problem.bounds[offer.index] + 1)] for offer in problem.offers]
    if prod(map(len, ranges)) > LARGEST:
        return None
    points, last = {}, problem.options.get("arrive_by", "9999")
    for counts in product(*ranges):
        packs = list(zip(problem.offers, counts))
        point = plain_cost(problem, packs)
        if point and not any(all(a <= b for a, b in zip(other, point)) for other in points) and point[2].isoformat() <= last and \
                point[1] <= problem.options.get("suppliers_at_most", 99) and plain_possible(problem, packs):
            points[point] = counts
    return nondominated(points)


def against_plain(seed):
    """None when it was too large, else the faults of a seed."""
    with tempfile.TemporaryDirectory() as folder:
        generate(seed, folder, tiny=True)
        try:
            answer = Answer(folder)
        except TooLarge:
            return None
        if answer.stuck or not answer.problem.lines:
            return [] if not plain_front(answer.problem) else [f"seed {seed}: stuck, yet there is a basket"]
        plain = plain_front(answer.problem)
        if plain is None:
            return None
        faults = [] if plain == answer.front else [f"seed {seed}: {answer.front}, plainly {plain}"]
        return faults + (bent(seed, answer) if answer.best else [])


# --- baskets with one thing bent -----------------------------------------------------------------------------------

def one_more(found):
    found["parcels"][0]["lines"][0]["packs"] += 1


def one_less(found):
    found["parcels"][0]["lines"].pop()


def dearer(found):
    found["total"]["amount"] = "1" + found["total"]["amount"]


def untaxed(found):
    found["parcels"][0]["tax"]["amount"] = found["parcels"][0]["tax"]["amount"].replace("0.", "7.")  + "1"


def later(found):
    found["parcels"][-1]["arrives"] = "2031-01-01"


def stranger(found):
    found["parcels"][0]["lines"][0]["part_number"] = "XX-1"


def bent(seed, answer):
    """The right basket passes, every bent one is noticed."""
    found = answer.as_json()
    faults = [f"seed {seed}: the oracle's own basket: {fault}" for fault in basket_differs(answer.problem, found)]
    for bend in (one_more, one_less, dearer, untaxed, later, stranger):
        crooked = copy.deepcopy(found)
        bend(crooked)
        if not basket_differs(answer.problem, crooked):
            faults.append(f"seed {seed}: {bend.__name__} went unnoticed")
    return faults


# --- known answers -------------------------------------------------------------------------------------------------

def write_known(folder, known):
    """The rows of a known case as files."""
    where = Path(folder, "market")
    where.mkdir()
    for kind, lines in known["rows"].items():
        with open(where / f"{kind}.csv", "w", newline="", encoding="utf-8") as stream:
            writer = csv.writer(stream)
            writer.writerow(known["columns"][kind].split())
            writer.writerows(line.split("|") for line in lines)
    Path(folder, "case.json").write_text(json.dumps(known["case"]), encoding="utf-8")


def against_known(name, known):
    """Faults of one known case."""
    with tempfile.TemporaryDirectory() as folder:
        write_known(folder, known)
        answer = Answer(folder)
    front = [(total, n, day.isoformat()) for total, n, day in answer.front]
    faults = [] if front == known["front"] else [f"{name}: {front}, expected {known['front']}"]
    if known.get("suppliers") and answer.suppliers != known["suppliers"]:
        faults.append(f"{name}: {answer.suppliers}, expected {known['suppliers']}")
    return faults


def check_self(start, cases):
    """Exit status 1 when something is wrong."""
    faults, tried = [], 0
    for name, known in KNOWN.items():
        faults += against_known(name, known)
    for seed in range(start, start + cases):
        found = against_plain(seed)
        tried += found is not None
        faults += found or []
    print("\n".join(faults + [f"{len(KNOWN)} known answers, {tried} of {cases} searched plainly, {len(faults)} faults"]))
    return 1 if faults else 0
