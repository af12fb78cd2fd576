"""Which parts may answer a line, and what boxes bring: formats.md section 3, "Candidates" and "Boxes"."""

from market_rows import key_of
from specs import canonical


def answers(need, offered):
    """A part's spec answers a need's: every property that the need states is equal."""
    need, offered = canonical(need), canonical(offered)
    if not need:
        return True
    if not offered or need[0] != offered[0]:
        return False
    if need[0] in ("thread", "ring"):
        return all(mine in (None, "") or mine == theirs for mine, theirs in zip(need, offered))
    return need == offered


def pairs(catalogue, relation):
    """[(part, other)] of a relation."""
    return [(key_of(row), key_of(row, "other_brand", "other_number")) for row in catalogue.rows["crossrefs"]
            if row["relation"] == relation]


def groups(catalogue, part):
    """What took the place of a part: alternatives, each [(part, how many for one)] that are needed together."""
    found = {}
    for row in catalogue.rows["supersessions"]:
        if key_of(row) == part:
            one = key_of(row, "new_brand", "new_number"), int(row.get("quantity", "1"))
            found.setdefault(row.get("group", ""), []).append(one)
    return list(found.values())


def successors(catalogue, part):
    """The parts that alone took its place, one for one."""
    return [group[0][0] for group in groups(catalogue, part) if len(group) == 1 and group[0][1] == 1]


class Finder:
    """The candidates of one vehicle's lines."""

    def __init__(self, catalogue, vehicle):
        self.catalogue, self.vehicle = catalogue, vehicle
        self.same, self.instead = pairs(catalogue, "same"), pairs(catalogue, "instead")

    def base(self, line, stuff):
        """{part: truth} of the parts that themselves apply or match."""
        found = {}
        for part, row in self.catalogue.parts.items():
            if row["part_type"] != line["part_type"]:
                continue
            fit, _ = self.catalogue.fit(part, self.vehicle)
            by_spec = answers(line["spec"], row.get("spec", "")) and (stuff or line["spec"])
            if by_spec and (fit is None or not stuff):
                found[part] = "true"
            elif fit in ("true", "unknown") and (by_spec or not stuff):
                found[part] = fit
        return found

    def add(self, found, part, stands_for):
        """One more, with the fit of what it stands for unless its own applications say otherwise."""
        own, _ = self.catalogue.fit(part, self.vehicle)
        fit = own or found[stands_for]
        if part in found or fit == "false" or part not in self.catalogue.parts:
            return False
        found[part] = fit
        return True

    def close_same(self, found):
        """`same`: both ways, transitive."""
        while any(self.add(found, b, a) for x, y in self.same for a, b in ((x, y), (y, x)) if a in found):
            pass

    def candidates(self, line, stuff=False):
        """{part: truth}: base, same, instead (once), successors with their same."""
        found = self.base(line, stuff)
        self.close_same(found)
        for first, other in [pair for pair in self.instead if pair[1] in found]:
            self.add(found, first, other)
        more = True
        while more:
            more = any([self.add(found, new, old) for old in list(found) for new in successors(self.catalogue, old)])
            if more:
                self.close_same(found)
        return found

    def bundles(self, found):
        """{((part, how many for one), ...): truth} of what only several, or more than one, take the place of."""
        return {tuple(sorted(group)): fit for old, fit in found.items() for group in groups(self.catalogue, old)
                if len(group) > 1 or group[0][1] > 1}

    def quantity(self, part):
        """The application's own quantity, or None."""
        return self.catalogue.fit(part, self.vehicle)[1]


def names(content, line, found):
    """A row of contents names this line: its number is a candidate, its spec answers, or it has neither."""
    if content["item_type"] != line["part_type"]:
        return False
    if "item_number" in content:
        return (content["item_brand"], content["item_number"]) in found
    if "item_spec" in content:
        return bool(line["spec"]) and answers(line["spec"], content["item_spec"])
    return True


def loose(content):
    """Neither number nor spec: it covers lines of the component that the box was chosen for only."""
    return "item_number" not in content and "item_spec" not in content
