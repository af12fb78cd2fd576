#!/usr/bin/env python3
"""An independent reading of the plan: formats.md section 3, by brute force.

    oracle.py FOLDER [--case FILE]      the plan of FOLDER/case.json (or FILE) as JSON in the shape of `kit show`

Nothing here is clever on purpose: the closure is a loop until nothing changes, a suggestion is the whole plan made
again with one more target, and a line is `sure` when it is still there after every provisional row is taken away.
"""

import argparse
import json
from collections import namedtuple
from fractions import Fraction
from pathlib import Path

from order import steps_and_rules, topological
from readings import READING
from rows import load
from specs import amount, canonical

LEVEL = {"loosened": 1, "aside": 2, "removed": 3}
NAME = {number: name for name, number in LEVEL.items()}
SEALING = {"gasket", "seal", "o-ring", "sealant"}
STRICTNESS = {"always": 0, "check": 1, "never": 2}

# ASHRAE Fundamentals, ethylene glycol: volume percent, freezing point in degrees C (outside-checks.md).
GLYCOL = [tuple(map(Fraction, pair.split())) for pair in (
    "0 0", "4.4 -1.4", "8.9 -3.2", "18.1 -7.8", "22.9 -10.7", "27.7 -14.1", "32.6 -17.9", "37.5 -22.3",
    "42.5 -27.5", "47.6 -33.8", "50.6 -37.9", "57.8 -48.3")]

Targets = namedtuple("Targets", "renew refit circuits rows")
Plan = namedtuple("Plan", "map targets states drained atoms")


class Atom:
    """One need before merging. `pool` is stuff (fluids, consumables), part or spare."""

    def __init__(self, key, pool, row, part_type, spec, quantity, unit, reason, components):
        self.key, self.pool, self.row, self.part_type, self.spec = key, pool, row, part_type, spec
        self.quantity, self.unit, self.reason, self.components = quantity, unit, reason, set(components)

    def merge_key(self):
        """3.5 and 3.6: what must agree for two needs to be one line."""
        spec = canonical(self.spec)
        alone = self.pool != "stuff" and spec == ""
        return (self.pool, self.part_type, spec, self.unit, self.key if alone else None)


# --- targets and closure (3.1) -----------------------------------------------------------------------------------

def job_rows(rows, case):
    """The rows of the case's jobs that apply."""
    return [row for row in rows["jobs"] if row["job"] in case.get("jobs", [])]


def find_targets(rows, case, extra=()):
    """Targets of jobs and --replace; `renew` anywhere beats `refit` (3.2)."""
    chosen = job_rows(rows, case)
    renew = set(case.get("replace", [])) | set(extra)
    renew |= {r["component"] for r in chosen if "component" in r and r.get("action", "renew") == "renew"}
    refit = {r["component"] for r in chosen if "component" in r} - renew
    return Targets(renew, refit, {r["circuit"] for r in chosen if "circuit" in r}, chosen)


def at_level(row, default):
    """`at` overrides; a row is met from that state on."""
    return LEVEL[row["at"]] if "at" in row else default


def opened_by(rows, states):
    """The opens rows that are met: at `removed` unless `at` says otherwise (3.4)."""
    return [row for row in rows["opens"] if states.get(row["component"], 0) >= at_level(row, 3)]


def fired(rows, states, drained, target_circuits):
    """The access rows whose `to` is empty or not above the state reached (3.1)."""
    circuits = drained if READING["access_of_opened_circuits"] else target_circuits
    for row in rows["access"]:
        level = max(states.get(row["component"], 0), 3 if row["component"] in circuits else 0)
        if level >= (LEVEL[row["to"]] if "to" in row else 1):
            yield row


def closure(rows, components, circuits=()):
    """(states, drained circuits): loop until nothing changes; the highest state wins."""
    states, drained, before = {name: 3 for name in components}, set(circuits), None
    while before != (dict(states), set(drained)):
        before = (dict(states), set(drained))
        for row in list(fired(rows, states, drained, set(circuits))):
            states[row["needs"]] = max(states.get(row["needs"], 0), LEVEL[row["state"]])
        drained |= {row["circuit"] for row in opened_by(rows, states)}
    return states, drained


# --- needs (3.2 to 3.5) ------------------------------------------------------------------------------------------

def target_atoms(rows, targets):
    """3.2: each applying row of a renewed component is a need."""
    for row in rows["components"]:
        if row["component"] in targets.renew:
            quantity, unit = amount(row.get("quantity", "1"), row.get("unit", ""))
            yield Atom(row.place, "part", row, row["part_type"], row.get("spec", ""), quantity, unit, "target",
                       [row["component"]])


def disturbed_fastenings(rows, states):
    """3.3: hardware from `loosened` on, sealing at `removed`; `at` overrides."""
    return [row for row in rows["fastenings"]
            if states.get(row["component"], 0) >= at_level(row, 3 if row["kind"] in SEALING else 1)]


def fastening_atoms(rows, states):
    """3.3: of the disturbed rows of one joint the largest quantity and the strictest reuse, once."""
    joints = {}
    for row in disturbed_fastenings(rows, states):
        joints.setdefault(("joint", row["joint"]) if "joint" in row else row.place, []).append(row)
    for key, members in joints.items():
        reuse = max((row["reuse"] for row in members), key=STRICTNESS.get)
        if reuse == "always":
            continue
        first = members[0]
        sizes = [amount(row["quantity"], row.get("unit", "")) for row in members]
        yield Atom(key, "part" if reuse == "never" else "spare", first, first["part_type"], first.get("spec", ""),
                   max(size for size, _ in sizes), sizes[0][1],
                   "sealing" if first["kind"] in SEALING else "single-use", [row["component"] for row in members])


def glycol_share(celsius):
    """3.4 `freeze_to`: the least share that protects, straight lines between the points of the table."""
    for (low, warm), (high, cold) in zip(GLYCOL, GLYCOL[1:]):
        if celsius >= cold:
            return max(Fraction(0), low + (high - low) * (warm - celsius) / (warm - cold)) / 100
    raise ValueError("freeze_to below the data")


def share_of(rows, circuit, states, target_circuits):
    """3.4: the largest share among what opens the circuit; 100 for a target."""
    shares = [Fraction(row["share_percent"]) for row in opened_by(rows, states) if row["circuit"] == circuit]
    return max(shares + ([Fraction(100)] if circuit in target_circuits else [])) / 100


def mixture(row):
    """Share of concentrate: mix_percent or freeze_to, else the fluid is used neat (3.4)."""
    shares = {}
    if "mix_percent" in row:
        shares["mix_percent"] = Fraction(row["mix_percent"]) / 100
    if "freeze_to" in row:
        shares["freeze_to"] = glycol_share(Fraction(row["freeze_to"]))
    return shares.get(READING["both_mixes"], next(iter(shares.values()), Fraction(1)))


def applying_circuits(rows, drained):
    """The circuits rows that count, see reading (d)."""
    found = [row for row in rows["circuits"] if row["circuit"] in drained]
    if READING["circuit_rows"] == "each":
        return found
    largest = {}
    for row in sorted(found, key=lambda r: amount(r["capacity"], "L")[0]):
        largest[row["circuit"]] = row
    return list(largest.values())


def fluid_atoms(rows, states, drained, target_circuits):
    """3.4: concentrate and diluent of every opened circuit."""
    for row in applying_circuits(rows, drained):
        volume = amount(row["capacity"], "L")[0] * share_of(rows, row["circuit"], states, target_circuits)
        part = mixture(row)
        yield Atom((*row.place, "fluid"), "stuff", row, row["fluid_type"], row.get("spec", ""), volume * part, "L",
                   "fluid", [])
        if "diluent_type" in row:
            yield Atom((*row.place, "diluent"), "stuff", row, row["diluent_type"], row.get("diluent_spec", ""),
                       volume * (1 - part), "L", "fluid", [])


def consumables_used(rows, states):
    """3.5: over disturbed components in any state; `at` overrides."""
    return [row for row in rows["consumables"] if states.get(row["component"], 0) >= at_level(row, 1)]


def consumable_atoms(rows, states):
    """3.5: they add up."""
    for row in consumables_used(rows, states):
        quantity, unit = amount(row["quantity"], row["unit"])
        yield Atom(row.place, "stuff", row, row["part_type"], row.get("spec", ""), quantity, unit, "consumable",
                   [row["component"]])


def make_plan(rows, case, extra=()):
    """The plan before merging. `extra` are more targets to renew."""
    targets = find_targets(rows, case, extra)
    states, drained = closure(rows, targets.renew | targets.refit, targets.circuits)
    atoms = [*target_atoms(rows, targets), *fastening_atoms(rows, states),
             *fluid_atoms(rows, states, drained, targets.circuits), *consumable_atoms(rows, states)]
    return Plan(rows, targets, states, drained, [atom for atom in atoms if atom.quantity > 0])


# --- merging, sure and ask ---------------------------------------------------------------------------------------

def merge(atoms):
    """{merge key: line} with all components and sources kept (3.5, 3.6)."""
    lines = {}
    for atom in atoms:
        line = lines.setdefault(atom.merge_key(), {
            "part_type": atom.part_type, "spec": atom.spec, "quantity": Fraction(0), "unit": atom.unit,
            "reasons": set(), "components": set(), "atoms": set(), "sources": []})
        line["quantity"] += atom.quantity
        line["reasons"].add(atom.reason)
        line["components"] |= atom.components
        line["atoms"].add((atom.pool, atom.key))
        line["sources"].append(atom.row.place)
    for line in lines.values():
        line["reason"] = min(line["reasons"], key=READING["reason_order"].index)
    return lines


def sure_atoms(rows, case):
    """Every (pool, key) that true rows alone derive; none when the platform itself is provisional (3.9)."""
    if rows.truth != "true" and READING["platform_asks"]:
        return set()
    return {(atom.pool, atom.key) for atom in make_plan(rows.only_true(), case).atoms}


def mark(lines, sure):
    """3.9: a line is `ask` unless some derivation of it uses true rows only."""
    for line in lines.values():
        line["need"] = "sure" if line["atoms"] & sure else "ask"
    return lines


# --- suggestions and questions (3.8, 3.9) ------------------------------------------------------------------------

def wear_components(rows):
    """Components with a wear interval, in the order of the file."""
    found = [row["component"] for row in rows["components"] if ("wear_km" in row or "wear_months" in row)
             and (row.truth == "true" or READING["provisional_wear"])]
    return list(dict.fromkeys(found))


def worth_doing(rows, plan, name):
    """3.8: no target; own closure within the teardown; itself in it or with a non-empty closure."""
    if name in plan.targets.renew | plan.targets.refit:
        return False
    own = {other: level for other, level in closure(rows, [name])[0].items() if other != name}
    inside = all(plan.states.get(other, 0) >= level for other, level in own.items())
    return inside and (name in plan.states or bool(own))


def extra_needs(rows, case, plan, name):
    """The whole plan again with one more target, and what it has more than this one."""
    old, new = merge(plan.atoms), merge(make_plan(rows, case, [name]).atoms)
    extra = []
    for key, line in new.items():
        more = line["quantity"] - (old[key]["quantity"] if key in old else 0)
        if key[0] != "spare" and more > 0:
            extra.append({"part_type": line["part_type"], "spec": line["spec"], "quantity": more,
                          "unit": line["unit"]})
    return extra


def suggest(rows, case, plan):
    """3.8, in the order of the components file."""
    kinds = {row["component"]: row["part_type"] for row in reversed(rows["components"])}
    return [{"component": name, "part_type": kinds[name], "extra_needs": extra_needs(rows, case, plan, name)}
            for name in wear_components(rows) if worth_doing(rows, plan, name)]


def rows_met(rows, plan):
    """3.9: the rows that the closure, the targets, fastenings, opens, circuits and consumables meet."""
    asked = plan.targets.renew | (plan.targets.refit if READING["refit_rows_ask"] else set())
    return [*plan.targets.rows, *(row for row in rows["components"] if row["component"] in asked),
            *fired(rows, plan.states, plan.drained, plan.targets.circuits),
            *disturbed_fastenings(rows, plan.states), *opened_by(rows, plan.states),
            *(row for row in rows["circuits"] if row["circuit"] in plan.drained),
            *consumables_used(rows, plan.states)]


def questions(rows, plan):
    """Every fact unknown in a provisional row that is met."""
    found = set(rows.asks) if READING["platform_asks"] else set()
    return found.union(*(row.asks for row in rows_met(rows, plan)))


# --- everything together -----------------------------------------------------------------------------------------

def gathered(rows, plan):
    """3.5: tools, cautions and `inspect` words of what is disturbed."""
    tools = {row["tool"] for row in disturbed_fastenings(rows, plan.states) if "tool" in row}
    cautions = {row["text"] for row in rows["cautions"] if row["component"] in plan.states}
    inspect = {row["component"]: row["inspect"] for row in rows["components"]
               if "inspect" in row and row["component"] in plan.states}
    return tools, cautions, inspect


def solve(folder, case):
    """All that can be held against `kit show`, for one case."""
    rows = load(folder, case["vehicle"])
    plan = make_plan(rows, case)
    lines = mark(merge(plan.atoms), sure_atoms(rows, case))
    tools, cautions, inspect = gathered(rows, plan)
    steps, rules = steps_and_rules(rows, plan, opened_by(rows, plan.states),
                                   list(fired(rows, plan.states, plan.drained, plan.targets.circuits)))
    return {"platform": rows.platform, "teardown": {name: NAME[level] for name, level in plan.states.items()},
            "lines": [line for key, line in lines.items() if key[0] != "spare"],
            "spares": [line for key, line in lines.items() if key[0] == "spare"],
            "suggestions": suggest(rows, case, plan), "questions": questions(rows, plan),
            "steps": steps, "rules": rules, "tools": tools, "cautions": cautions, "inspect": inspect}


def line_json(number, line):
    """One line in the shape of section 5."""
    kept = {key: line[key] for key in ("part_type", "spec", "unit", "reason", "need")}
    return {"line": number, **kept, "quantity": float(line["quantity"]), "components": sorted(line["components"]),
            "sources": [{"file": file, "line": row} for file, row in line["sources"]]}


def as_json(result):
    """The result in the shape of `kit show` (section 5), as far as the oracle knows it."""
    lines = [line_json(n, line) for n, line in enumerate(result["lines"], 1)]
    suggestions = [{**s, "extra_needs": [{**n, "quantity": float(n["quantity"])} for n in s["extra_needs"]]}
                   for s in result["suggestions"]]
    asks = sorted(result["questions"])
    return {"version": 1, "platform": result["platform"], "lines": lines,
            "spares": [line_json(n, line) for n, line in enumerate(result["spares"], 1)],
            "teardown": [{"component": c, "state": s} for c, s in sorted(result["teardown"].items())],
            "suggestions": suggestions, "questions": [{"fact": fact, "settles": []} for fact in asks],
            "ask_first": asks if any(line["need"] == "ask" for line in result["lines"]) else [],
            "order_of_work": topological(result["steps"], result["rules"]),
            "tools": sorted(result["tools"]), "cautions": sorted(result["cautions"])}


def main():
    """Print the plan of a case."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("folder")
    parser.add_argument("--case")
    options = parser.parse_args()
    case = json.loads(Path(options.case or f"{options.folder}/case.json").read_text(encoding="utf-8"))
    print(json.dumps(as_json(solve(options.folder, case)), indent=1))


if __name__ == "__main__":
    main()
