"""Whether what comes meets every line: whole boxes cover by their contents, each line has one part for the rest."""

from itertools import product

from market_problem import SURPLUS
from market_readings import MARKET


def supplies(problem, basket):
    """{part: millionths that come}."""
    found = {}
    for offer in problem.offers:
        if basket.get(offer.index):
            found[offer.part] = found.get(offer.part, 0) + basket[offer.index] * offer.pack
    return found


def parts_of(choice):
    """The parts that a choice names."""
    return {part for part, _ in choice[1]} if choice else set()


def nodes(problem, chosen):
    """[(line, part or None, millionths)]: what is to be filled. Where no part comes, contents must do."""
    found = []
    for n, line in enumerate(problem.lines):
        takes = chosen[n][1] if chosen[n] and chosen[n][0] == "direct" else [(None, line.quantity)]
        found += [(n, part, need) for part, need in takes]
    return found


def reach(problem, content, chosen):
    """Indices of the lines that a row of contents covers, given what the box was chosen for."""
    if not content.loose:
        return content.reached
    lines = problem.lines
    homes = [(lines[n].kit, component) for n, choice in chosen.items() if content.box in parts_of(choice)
             for component in lines[n].components]
    return {n for n in content.reached if any(
        component in lines[n].components and (kit == lines[n].kit or not MARKET["loose_within_kit"])
        for kit, component in homes)}


def sources(problem, come, chosen):
    """[(quantity, nodes it may go to)]: parts go to the lines that chose them, contents to the lines they cover."""
    places, found = list(enumerate(nodes(problem, chosen))), []
    for part, quantity in come.items():
        found.append((quantity, {at for at, (_, wanted, _) in places if wanted == part}))
    for content in problem.contents:
        whole = come.get(content.box, 0) // 10**6
        if whole:
            lines = reach(problem, content, chosen)
            found.append((whole * content.quantity, {at for at, (n, _, _) in places if n in lines}))
    return [(quantity, reached) for quantity, reached in found if reached]


def demands(problem, chosen):
    """What is to be filled, in the units of the part that answers."""
    return [need for _, _, need in nodes(problem, chosen)]


def flows(wanted, given):
    """A transport problem: can the sources fill every demand? Along augmenting paths, as far as they lead."""
    left = [quantity for quantity, _ in given]
    sent = [[0] * len(wanted) for _ in given]
    for n, want in enumerate(wanted):
        while want > 0:
            path = augment(n, given, left, sent)
            if path is None:
                return False
            want -= push(path, want, left, sent)
    return True


def augment(start, given, left, sent):
    """Lines and sources from a line that wants to a source that has something left: [line, source, line, source]."""
    paths, seen, tried = [[start]], {start}, set()
    while paths:
        path = paths.pop(0)
        for s, (_, lines) in enumerate(given):
            if path[-1] not in lines or s in tried:
                continue
            tried.add(s)
            if left[s] > 0:
                return path + [s]
            for other in range(len(sent[s])):
                if sent[s][other] > 0 and other not in seen:
                    seen.add(other)
                    paths.append(path + [s, other])
    return None


def push(path, want, left, sent):
    """Move along a path: each line takes from the source after it, the line after gives up as much of that source."""
    steps = list(zip(path[0::2], path[1::2]))
    size = min([want, left[steps[-1][1]]] + [sent[s][steps[k + 1][0]] for k, (_, s) in enumerate(steps[:-1])])
    for k, (line, s) in enumerate(steps):
        sent[s][line] += size
        if k + 1 < len(steps):
            sent[s][steps[k + 1][0]] -= size
        else:
            left[s] -= size
    return size


def within_bounds(problem, basket, chosen):
    """Reading (B) "chosen": the surplus is counted from the lines that the part answers."""
    for offer in problem.offers:
        need = sum(problem.taken(problem.lines[n], choice, offer.part) for n, choice in chosen.items() if choice)
        if basket.get(offer.index, 0) > max(-(-need // offer.pack), offer.least) + SURPLUS:
            return False
    return True


def idle(problem, come, chosen):
    """Reading (C) False: a part without which everything would be met as well."""
    for part in come:
        others = {n: None if part in parts_of(choice) else choice for n, choice in chosen.items()}
        rest = {other: quantity for other, quantity in come.items() if other != part}
        if flows(demands(problem, others), sources(problem, rest, others)):
            return True
    return False


def feasible(problem, basket, chosen):
    """All lines are met by this choice of parts, and no part comes that answers none."""
    come = supplies(problem, basket)
    if set(come) != set().union(*map(parts_of, chosen.values())):
        return False
    if MARKET["bound"] == "chosen" and not within_bounds(problem, basket, chosen):
        return False
    return (flows(demands(problem, chosen), sources(problem, come, chosen))
            and (MARKET["nominal"] or not idle(problem, come, chosen)))


def feasible_somehow(problem, basket):
    """Some choice of parts among those that come meets all lines."""
    come = supplies(problem, basket)
    choices = [[choice for choice in problem.choices(line) if parts_of(choice) <= set(come)] + [None]
               for line in problem.lines]
    return any(feasible(problem, basket, dict(enumerate(chosen))) for chosen in product(*choices))
