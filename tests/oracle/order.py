"""The order of work: formats.md 3.10. Which steps there are, and which must come before which.

Where the text leaves room only the weaker rule is stated, so that a stricter program passes too.
"""

from readings import READING

LEVEL = {"loosened": 1, "aside": 2, "removed": 3}


class Contradiction(Exception):
    """The rules go round in a circle."""


def verbs(rows, name, level):
    """(off, back) steps of a component in a state; the verb pair counts at `removed` only."""
    words = {1: "loosen tighten", 2: "set-aside refit", 3: "remove fit"}[level]
    if level == 3:
        stated = [row["steps"] for row in rows["components"] if row["component"] == name and "steps" in row]
        words = stated[0] if stated else words
    off, back = words.split()
    return f"{off} {name}", f"{back} {name}"


class Order:
    """Steps and rules as they come together."""

    def __init__(self, rows, plan):
        self.rows, self.plan, self.rules = rows, plan, set()
        self.pair = {name: verbs(rows, name, level) for name, level in plan.states.items()}
        self.steps = {step for pair in self.pair.values() for step in pair}
        self.created = set()
        for off, back in self.pair.values():
            self.before(off, back, "off before back")
        for circuit in plan.drained:
            self.circuit(circuit)

    def before(self, first, then, why):
        """One rule."""
        if first != then:
            self.rules.add((first, then, why))

    def circuit(self, name):
        """Drain, fill, bleed."""
        self.steps |= {f"drain {name}", f"fill {name}", f"bleed {name}"}
        self.before(f"drain {name}", f"fill {name}", "drain, then fill")
        self.before(f"fill {name}", f"bleed {name}", "fill, then bleed")

    def creatable(self, step):
        """`loosen X` or `tighten X` of a removed X."""
        verb, _, name = step.partition(" ")
        return verb in ("loosen", "tighten") and self.plan.states.get(name) == 3

    def create(self, step):
        """Before `remove X`, or after `fit X`."""
        if step in self.steps:
            return
        verb, _, name = step.partition(" ")
        self.steps.add(step)
        self.created.add(step)
        off, back = self.pair[name]
        if verb == "loosen":
            self.before(step, off, "created before removal")
        else:
            self.before(back, step, "created after fitting")

    def sequence(self, row):
        """A row applies when both steps are in the plan (or are created)."""
        ends = (row["first"], row["then"])
        there = [end in self.steps or self.creatable(end) for end in ends]
        if not all(there) and READING["create_needs_partner"]:
            return
        for end in ends:
            if self.creatable(end):
                self.create(end)
        if all(there):
            self.before(*ends, f"sequence line {row.place[1]}")

    def reached(self, name, level):
        """(step after which X is in a state of at least `level`, step up to which it stays there)."""
        off, back = self.pair[name]
        early, late = f"loosen {name}", f"tighten {name}"
        return (early if level == 1 and early in self.created else off,
                late if level == 1 and late in self.created else back)

    def access(self, row):
        """Honoured both ways: off before, back after."""
        name, why = row["component"], f"access line {row.place[1]}"
        off, back = self.reached(row["needs"], LEVEL[row["state"]])
        if name in self.plan.states:
            bound = READING["access_binds_created"] and LEVEL[row.get("to", "loosened")] == 1
            mine = self.reached(name, 1) if bound else self.pair[name]
            self.before(off, mine[0], why)
            self.before(mine[1], back, why)
        else:
            self.before(off, f"drain {name}", why)
            if READING["circuit_access_back"]:
                self.before(f"fill {name}", back, why)

    def opened(self, row):
        """A drain precedes the first step that opens; fill follows the refitting."""
        why = f"opens line {row.place[1]}"
        off = self.reached(row["component"], LEVEL[row.get("at", "removed")])[0]
        self.before(f"drain {row['circuit']}", off, why)
        self.before(self.pair[row["component"]][1], f"fill {row['circuit']}", why)


def steps_and_rules(rows, plan, opened, fired):
    """(steps, rules) of a plan; a rule is (step, later step, why)."""
    order = Order(rows, plan)
    for row in rows["sequence"]:
        order.sequence(row)
    for row in fired:
        order.access(row)
    for row in opened:
        order.opened(row)
    return order.steps, order.rules


def topological(steps, rules):
    """Some order that keeps every rule; Contradiction when there is none."""
    left, done = set(steps), []
    while left:
        free = sorted(step for step in left if not any(b == step and a in left for a, b, _ in rules))
        if not free:
            raise Contradiction(sorted(left))
        done.append(free[0])
        left.remove(free[0])
    return done
