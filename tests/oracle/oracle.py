"""An independent reading of formats.md §2 and §3: slow, plain, and written without a look at the C sources.

Sets and fixpoints instead of graphs; a suggestion is the difference of two whole plans; whether a line is sure is
found by planning again with true rows only. Quantities are Fractions.
"""
import csv
import re
from collections import defaultdict
from datetime import date, timedelta
from fractions import Fraction
from pathlib import Path

LEVELS = {"loosened": 1, "aside": 2, "removed": 3}
SEALING = {"gasket", "seal", "o-ring", "sealant"}
REASONS = ["target", "single-use", "sealing", "fluid", "consumable"]
STRICT = {"never": 0, "check": 1, "always": 2}
GLYCOL = [(0, 0), (4.4, -1.4), (8.9, -3.2), (18.1, -7.8), (22.9, -10.7), (27.7, -14.1), (32.6, -17.9),
          (37.5, -22.3), (42.5, -27.5), (47.6, -33.8), (50.6, -37.9), (57.8, -48.3)]
UNITS = {"each": ("each", 1), "l": ("L", 1), "ml": ("L", Fraction(1, 1000)), "g": ("g", 1), "kg": ("g", 1000),
         "mm": ("mm", 1), "m": ("mm", 1000)}


class Contradiction(Exception):
    """The map goes round in a circle."""


# --- §2: conditions -------------------------------------------------------------------------------------------------

def day_range(text):
    """`1999` is January to December."""
    parts = [int(p) for p in text.split("-")]
    if len(parts) == 1:
        return date(parts[0], 1, 1), date(parts[0], 12, 31)
    if len(parts) == 2:
        after = date(parts[0] + parts[1] // 12, parts[1] % 12 + 1, 1)
        return date(parts[0], parts[1], 1), after - timedelta(days=1)
    return date(*parts), date(*parts)


def kleene_or(truths):
    truths = list(truths)
    return True if True in truths else None if None in truths else False


def inside(have, want):
    if want[0] <= have[0] and have[1] <= want[1]:
        return True
    return False if have[1] < want[0] or have[0] > want[1] else None


def ordered(low, high, op, first, last):
    """low..high compared with a value that spans first..last."""
    if op == "<":
        return True if high < first else False if low >= first else None
    if op == "<=":
        return True if high <= last else False if low > last else None
    below = ordered(low, high, "<=" if op == ">" else "<", first, last)
    return None if below is None else not below


def clause_truth(key, op, values, vehicle):
    facts = vehicle["facts"]
    if key == "built":
        if not vehicle.get("built"):
            return None
        have = day_range(vehicle["built"])
        if op in ("=", "!="):
            truth = kleene_or(inside(have, day_range(v)) for v in values)
            return truth if op == "=" or truth is None else not truth
        return ordered(*have, op, *day_range(values[0]))
    have = facts.get(key)
    if have is None and key == "year" and vehicle.get("built"):
        have = vehicle["built"][:4]
    if have is None:
        return None
    if op in ("=", "!="):
        return (have.lower() in [v.lower() for v in values]) == (op == "=")
    return ordered(Fraction(have), Fraction(have), op, Fraction(values[0]), Fraction(values[0]))


def condition(text, vehicle):
    """(truth, unknown facts)"""
    truth, unknown = True, set()
    for clause in filter(None, (c.strip() for c in (text or "").split(";"))):
        key, op, value = re.match(r"([^=!<>]+?)\s*(!=|<=|>=|=|<|>)\s*(.*)", clause).groups()
        one = clause_truth(key.lower(), op, [v.strip() for v in value.split("|")], vehicle)
        if one is False:
            return False, set()
        if one is None:
            truth = None
            unknown.add(key.lower())
    return truth, unknown


# --- rows -----------------------------------------------------------------------------------------------------------

class Row(dict):
    """One CSV row with its place, and the facts that it hangs on."""
    doubts = frozenset()
    place = None


def read_rows(folder, kind, vehicle, platform=None):
    rows = []
    for path in sorted(Path(folder).rglob(kind + ".csv")):
        with open(path, newline="", encoding="utf-8") as stream:
            for number, cells in enumerate(csv.DictReader(stream), start=2):
                if platform and cells["platform"] != platform:
                    continue
                row = Row({k: (v or "") for k, v in cells.items()})
                row.place = (path.name, number)
                truth, unknown = condition(row.get("when"), vehicle)
                for bound in ("built_from", "built_to"):
                    if row.get(bound):
                        day = day_range(row[bound])
                        have = day_range(vehicle["built"]) if vehicle.get("built") else None
                        span = (day[0], date.max) if bound == "built_from" else (date.min, day[1])
                        one = inside(have, span) if have else None
                        if one is False:
                            truth = False
                        elif one is None:
                            unknown.add("built")
                if truth is False:
                    continue
                row.doubts = frozenset(unknown)
                rows.append(row)
    return rows


KINDS = ["components", "fastenings", "access", "sequence", "circuits", "opens", "consumables", "cautions", "jobs"]


class Map:
    def __init__(self, folder, vehicle):
        mine = [p for p in read_rows(folder, "platforms", vehicle)
                if p["make"].lower() == vehicle["make"].lower() and p["model"].lower() == vehicle["model"].lower()]
        sure = [p for p in mine if not p.doubts]
        chosen = sure or mine
        assert len({p["platform"] for p in chosen}) == 1, "the platform is not decided"
        self.platform_doubts = frozenset() if sure else chosen[0].doubts
        self.rows = {kind: read_rows(folder, kind, vehicle, chosen[0]["platform"]) for kind in KINDS}
        self.all_components = set()
        for path in Path(folder).rglob("components.csv"):
            with open(path, newline="", encoding="utf-8") as stream:
                self.all_components |= {c["component"] for c in csv.DictReader(stream)}

    def only(self, test):
        """The same map with the rows that pass."""
        other = Map.__new__(Map)
        other.platform_doubts, other.all_components = self.platform_doubts, self.all_components
        other.rows = {kind: [r for r in rows if test(r)] for kind, rows in self.rows.items()}
        return other


def key_of_spec(text):
    """What makes two specs one: threads, belts and O-rings by their numbers, anything else as text."""
    text = re.sub(r"\s+", " ", text.strip().lower())
    thread = re.fullmatch(r"m(\d+)(?:x([\d.]+))?(?:x([\d.]+))?(?: ([\d.]+))?", text)
    if thread:
        coarse = {"3": .5, "4": .7, "5": .8, "6": 1, "8": 1.25, "10": 1.5, "12": 1.75, "14": 2, "16": 2}[thread[1]]
        pitch, length = thread[2], thread[3]
        if pitch and not length and float(pitch) > coarse:
            pitch, length = None, pitch
        return ("thread", thread[1], float(pitch or coarse), float(length or 0), thread[4] or "")
    ring = re.fullmatch(r"([\d.]+)x([\d.]+)", text)
    if ring:
        return ("ring", float(ring[1]), float(ring[2]))
    if text == "as568-214":
        return ("ring", 24.99, 3.53)
    return ("text", text.replace(" ", ""))


def measure(row):
    symbol, factor = UNITS[(row.get("unit") or "each").lower()]
    return Fraction(row.get("quantity") or "1") * factor, symbol


def at_of(row, otherwise):
    return LEVELS[row["at"]] if row.get("at") else otherwise


def fastening_at(row):
    return at_of(row, 3 if row["kind"] in SEALING else 1)


# --- §3.1: the closure ----------------------------------------------------------------------------------------------

def close(rows, targets):
    """{thing: level}; a circuit that is opened is drained, so its access rows count too."""
    levels = defaultdict(int)
    for thing in targets:
        levels[thing] = 3
    changed = True
    while changed:
        changed = False
        for row in rows["access"]:
            thing = row["component"]
            trigger = LEVELS[row["to"]] if row.get("to") else 1
            if levels[thing] >= trigger and levels[row["needs"]] < LEVELS[row["state"]]:
                levels[row["needs"]] = LEVELS[row["state"]]
                changed = True
        for row in rows["opens"]:
            if levels[row["component"]] >= at_of(row, 3) and levels[row["circuit"]] < 3:
                levels[row["circuit"]] = 3
                changed = True
    return {thing: level for thing, level in levels.items() if level}


# --- §3.2-3.6: needs --------------------------------------------------------------------------------------------------

def glycol_share(celsius):
    for (s0, t0), (s1, t1) in zip(GLYCOL, GLYCOL[1:]):
        if celsius >= t1:
            s0, t0, s1, t1 = (Fraction(str(x)) for x in (s0, t0, s1, t1))
            return max(Fraction(0), s0 + (t0 - celsius) / (t0 - t1) * (s1 - s0)) / 100
    raise Contradiction("freeze_to below the data")


class Lines:
    """Needs, merged; keys that may not merge are made unique."""

    def __init__(self):
        self.lines = {}

    def add(self, pool, row, part_type, spec, quantity, unit, reason, component):
        if not quantity:
            return
        alone = pool != "fluid" and not spec.strip()
        key = (pool, part_type, None if alone else key_of_spec(spec), unit,
               (row.get("joint") or row.place) if alone else None)
        line = self.lines.setdefault(key, {"pool": pool, "part_type": part_type, "spec": spec, "quantity": Fraction(0),
                                           "unit": unit, "reason": reason, "components": set()})
        line["quantity"] += quantity
        line["components"].add(component)
        if REASONS.index(reason) < REASONS.index(line["reason"]):
            line["reason"] = reason


def joints(rows):
    """The disturbed fastenings as (row that counts, strictest reuse, all rows of the joint)."""
    groups = {}
    for row in rows:
        groups.setdefault(row.get("joint") or row.place, []).append(row)
    for group in groups.values():
        largest = max(group, key=lambda r: Fraction(r["quantity"]))
        yield group[0], largest, min((r["reuse"] for r in group), key=STRICT.get), group


def needs(rows, levels, renew, drained):
    lines = Lines()
    for row in rows["components"]:
        if row["component"] in renew:
            lines.add("need", row, row["part_type"], row.get("spec", ""), *measure(row), "target", row["component"])
    disturbed = [r for r in rows["fastenings"] if levels.get(r["component"], 0) >= fastening_at(r)]
    for first, largest, reuse, group in joints(disturbed):
        if reuse == "always":
            continue
        reason = "sealing" if first["kind"] in SEALING else "single-use"
        for row in group:
            lines.add("need" if reuse == "never" else "spare", first, first["part_type"], first.get("spec", ""),
                      measure(largest)[0] / len(group), measure(largest)[1], reason, row["component"])
    for row in rows["circuits"]:
        share = max([Fraction(r["share_percent"]) for r in rows["opens"] if r["circuit"] == row["circuit"]
                     and levels.get(r["component"], 0) >= at_of(r, 3)] + [100 * (row["circuit"] in drained)])
        volume = Fraction(row["capacity"]) * share / 100
        mix = Fraction(1)
        if row.get("freeze_to"):
            mix = glycol_share(Fraction(row["freeze_to"]))
        elif row.get("mix_percent"):
            mix = Fraction(row["mix_percent"]) / 100
        lines.add("fluid", row, row["fluid_type"], row.get("spec", ""), volume * mix, "L", "fluid", row["circuit"])
        if row.get("diluent_type"):
            lines.add("fluid", row, row["diluent_type"], row.get("diluent_spec", ""), volume * (1 - mix), "L", "fluid",
                      row["circuit"])
    for row in rows["consumables"]:
        if levels.get(row["component"], 0) >= at_of(row, 1):
            lines.add("fluid", row, row["part_type"], row.get("spec", ""), *measure(row), "consumable", row["component"])
    return lines.lines


# --- the whole plan -----------------------------------------------------------------------------------------------------

def targets_of(rows, job, replace, circuits):
    """(renewed, only off and on, drained)"""
    renew, refit, drained = set(), set(), set()
    for row in rows["jobs"]:
        if row["job"] != job:
            continue
        if row.get("circuit"):
            drained.add(row["circuit"])
        elif row.get("action") == "refit":
            refit.add(row["component"])
        else:
            renew.add(row["component"])
    for name in replace:
        (drained if name in circuits else renew).add(name)
    return renew, refit - renew, drained


def solve(rows, job, replace, circuits, extra=(), platform_sure=True):
    if not platform_sure:
        return {}, {}, set(), set(), set()
    renew, refit, drained = targets_of(rows, job, replace, circuits)
    renew = renew | set(extra)
    levels = close(rows, renew | refit | drained)
    return levels, needs(rows, levels, renew, drained), renew, refit, drained


def met_facts(rows, job, levels, renew):
    met = [r for r in rows["jobs"] if r["job"] == job]
    met += [r for r in rows["components"] if r["component"] in renew]
    met += [r for r in rows["access"] if levels.get(r["component"], 0) >= (LEVELS[r["to"]] if r.get("to") else 1)]
    met += [r for r in rows["fastenings"] if levels.get(r["component"], 0) >= fastening_at(r)]
    met += [r for r in rows["opens"] if levels.get(r["component"], 0) >= at_of(r, 3)]
    met += [r for r in rows["circuits"] if levels.get(r["circuit"])]
    met += [r for r in rows["consumables"] if levels.get(r["component"], 0) >= at_of(r, 1)]
    return set().union(*(r.doubts for r in met)) if met else set()


def suggestions(rows, job, replace, circuits, levels, plan, targets):
    found = {}
    for component in sorted({r["component"] for r in rows["components"] if r.get("wear_km") or r.get("wear_months")}):
        if component in targets:
            continue
        own = close(rows, {component})
        own.pop(component, None)
        opened = {r["circuit"] for r in rows["opens"]}
        own = {thing: level for thing, level in own.items() if thing not in circuits | opened}
        if any(levels.get(thing, 0) < level for thing, level in own.items()):
            continue
        if component not in levels and not own:
            continue
        after = solve(rows, job, replace, circuits, extra=(component,))[1]
        extra = defaultdict(Fraction)
        for key, line in after.items():
            more = line["quantity"] - (plan[key]["quantity"] if key in plan else 0)
            if more > 0 and line["pool"] != "spare":
                extra[line["part_type"], key_of_spec(line["spec"]) if line["spec"].strip() else None, line["unit"]] += more
        found[component] = dict(extra)
    return found


def plan(folder, case):
    """Everything that can be held against `kit show`."""
    vehicle = case["vehicle"]
    whole = Map(folder, vehicle)
    circuits = {r["circuit"] for r in whole.rows["circuits"]} | {r["circuit"] for r in whole.rows["opens"]}
    circuits |= {r["circuit"] for r in whole.rows["jobs"] if r.get("circuit")}
    job, replace = case.get("job"), case.get("replace", [])
    levels, lines, renew, refit, drained = solve(whole.rows, job, replace, circuits)
    true_map = whole.only(lambda r: not r.doubts)
    sure = solve(true_map.rows, job, replace, circuits, platform_sure=not whole.platform_doubts)[1]
    for key, line in lines.items():
        line["need"] = "sure" if key in sure else "ask"
    return {
        "levels": levels, "circuits": circuits, "lines": lines, "rows": whole.rows,
        "teardown": {t: n for t, n in levels.items() if t not in circuits},
        "questions": met_facts(whole.rows, job, levels, renew) | set(whole.platform_doubts),
        "suggestions": suggestions(whole.rows, job, replace, circuits, levels, lines, renew | refit),
        "tools": {r["tool"] for r in whole.rows["fastenings"]
                  if r.get("tool") and levels.get(r["component"], 0) >= fastening_at(r)},
    }


# --- §3.10: the order of work ---------------------------------------------------------------------------------------------

def steps_and_rules(result):
    """The steps that must be there, and pairs (before, after)."""
    rows, levels, circuits = result["rows"], result["levels"], result["circuits"]
    off, back, steps, rules = {}, {}, set(), set()
    for thing, level in levels.items():
        if thing in circuits:
            off[thing], back[thing] = f"drain {thing}", f"fill {thing}"
            steps |= {off[thing], back[thing], f"bleed {thing}"}
            rules.add((back[thing], f"bleed {thing}"))
        else:
            verbs = {1: "loosen tighten", 2: "set-aside refit", 3: "remove fit"}[level]
            if level == 3:
                mine = [r for r in rows["components"] if r["component"] == thing]
                mine = [r for r in mine if not r.doubts] or mine
                verbs = (mine and mine[0].get("steps")) or verbs
            off[thing], back[thing] = (f"{verb} {thing}" for verb in verbs.split())
            steps |= {off[thing], back[thing]}
        rules.add((off[thing], back[thing]))
    creatable = {f"loosen {t}": t for t, n in levels.items() if n == 3 and t not in circuits}
    creatable.update({f"tighten {t}": t for t, n in levels.items() if n == 3 and t not in circuits})
    for row in rows["sequence"]:
        if all(name in steps or name in creatable for name in (row["first"], row["then"])):
            rules.add((row["first"], row["then"]))
            for name in (row["first"], row["then"]):
                if name not in steps:
                    steps.add(name)
                    thing = creatable[name]
                    rules.add((name, off[thing]) if name.startswith("loosen ") else (back[thing], name))
    for row in rows["access"]:
        thing, other = row["component"], row["needs"]
        if thing in levels and thing not in circuits and levels[thing] >= (LEVELS[row["to"]] if row.get("to") else 1):
            rules |= {(off[other], off[thing]), (back[thing], back[other])}
    for row in rows["opens"]:
        if levels.get(row["component"], 0) >= at_of(row, 3):
            rules |= {(f"drain {row['circuit']}", off[row["component"]]),
                      (back[row["component"]], f"fill {row['circuit']}")}
    return steps, rules


def goes_round(result):
    """Do the rules of the order contradict each other? Peels off what has nothing before it."""
    steps, rules = steps_and_rules(result)
    while steps:
        free = steps - {b for a, b in rules if a in steps and b in steps}
        if not free:
            return True
        steps = steps - free
    return False
