#!/usr/bin/env python3
"""Holds the program against this oracle on generated service maps.

    compare.py LASTBOLT [--cases 40] [--start 1] [--components 30] [--risky all|NAME,...] [--skip FIELD,...]
    compare.py --self [--cases 40]

Fields: teardown lines spares suggestions questions order tools cautions ask_first settles. `--any-reason` takes any
reason that one of a merged line's sources has. `--keep DIR` keeps the maps of failing seeds.
"""

import argparse
import copy
import functools
import json
import random
import re
import shutil
import subprocess
import sys
import tempfile
from collections import Counter
from datetime import date
from fractions import Fraction
from pathlib import Path

import oracle
from conditions import span
from generate import FACTS, generate, risks
from specs import amount, canonical

TOLERANCE = Fraction(1, 10**6) + Fraction(1, 10**9)


# --- running the program -----------------------------------------------------------------------------------------

def run(binary, database, *words, fine=(0,)):
    """One call; RuntimeError when the exit status is not among the fine ones."""
    done = subprocess.run([binary, "--db", database, *words], capture_output=True, text=True, check=False, timeout=120)
    if done.returncode not in fine:
        raise RuntimeError(f"{' '.join(words)}: exit {done.returncode}: {done.stderr.strip()}")
    return done.stdout


def show(binary, folder, case):
    """`kit show` of the case, as JSON (section 4: exit 1 says that the kit has gaps)."""
    database, vehicle = f"{folder}/x.db", case["vehicle"]
    run(binary, database, "import", f"{folder}/map")
    words = ["--built", vehicle["built"]] if vehicle["built"] else []
    for key, value in vehicle["facts"].items():
        words += ["--with", f"{key}={value}"]
    run(binary, database, "vehicle", "add", "v", "--make", vehicle["make"], "--model", vehicle["model"], *words)
    wishes = [word for job in case["jobs"] for word in ("--job", job)]
    wishes += [word for name in case["replace"] for word in ("--replace", name)]
    run(binary, database, "kit", "build", "k", "--vehicle", "v", *wishes, fine=(0, 1))
    return json.loads(run(binary, database, "--json", "kit", "show", "k", fine=(0, 1)))


# --- one comparison a field --------------------------------------------------------------------------------------

def plain(line):
    """(type, canonical spec, base unit) and quantity in base units."""
    quantity, unit = amount(line["quantity"] if isinstance(line["quantity"], str) else f"{float(line['quantity']):.9f}",
                            line.get("unit") or "")
    return (line["part_type"], str(canonical(line.get("spec") or "")), unit), quantity


def near(a, b):
    """Equal within a millionth."""
    return abs(a - b) <= TOLERANCE


def lines_differ(expected, found, any_reason, check_reason=True):
    """Lines as a multiset: pairs each expected line with one found line, tells what is left."""
    left, faults = list(found), []
    for line in expected:
        reasons = line["reasons"] if any_reason else {line["reason"]}
        want, quantity = plain({**line, "quantity": float(line["quantity"])})
        match = next((other for other in left if plain(other)[0] == want and near(plain(other)[1], quantity)
                      and other["need"] == line["need"] and (not check_reason or other["reason"] in reasons)), None)
        if match:
            left.remove(match)
        else:
            faults.append(f"missing  {describe(line)} from {line['sources']}")
    return faults + [f"too many {describe(line)}" for line in left]


def describe(line):
    """A line in words."""
    return (f"{line['part_type']} [{line.get('spec') or ''}] {float(line['quantity']):g} {line.get('unit')} "
            f"{line.get('reason')} {line.get('need')} of {sorted(line.get('components', []))}")


def dicts_differ(expected, found):
    """Two dictionaries, key by key."""
    return [f"{key}: expected {expected.get(key)}, found {found.get(key)}"
            for key in sorted(set(expected) | set(found), key=str) if expected.get(key) != found.get(key)]


def sets_differ(expected, found):
    """Two sets."""
    return [f"missing {x}" for x in sorted(expected - found)] + [f"too many {x}" for x in sorted(found - expected)]


def totals(needs):
    """Extra needs added up by what they are."""
    found = Counter()
    for need in needs:
        key, quantity = plain({**need, "quantity": float(need["quantity"])})
        found[key] += quantity
    return found


def suggestions_differ(expected, found):
    """Component and extra needs."""
    mine = {s["component"]: totals(s["extra_needs"]) for s in expected}
    theirs = {s["component"]: totals(s["extra_needs"]) for s in found}
    faults = sets_differ(set(mine), set(theirs))
    for name in sorted(set(mine) & set(theirs)):
        for key in sorted(set(mine[name]) | set(theirs[name])):
            if not near(mine[name][key], theirs[name][key]):
                faults.append(f"{name}: {key}: expected {float(mine[name][key]):g}, "
                              f"found {float(theirs[name][key]):g}")
    return faults


def order_differs(result, order):
    """The exact set of steps, each once, and every rule (3.10)."""
    place = {step: n for n, step in enumerate(order)}
    faults = sets_differ(result["steps"], set(order))
    faults += [f"twice {step}" for step, n in Counter(order).items() if n > 1]
    return faults + [f"{a} must come before {b} ({why})" for a, b, why in sorted(result["rules"])
                     if a in place and b in place and place[a] >= place[b]]


def words_of(items):
    """Cautions and tools: strings, or objects that hold a text."""
    return {item if isinstance(item, str) else item.get("text") or item.get("tool") for item in items}


def cautions_differ(result, items):
    """All expected; others only when they speak of a component to inspect (3.5 gathers those words as well)."""
    found = words_of(items)
    others = {text for text in found - result["cautions"]
              if not any(name in text for name in result["inspect"])}
    return sets_differ(result["cautions"], found & result["cautions"]) + [f"too many {x}" for x in sorted(others)]


# --- questions and ask_first (3.9) -------------------------------------------------------------------------------

def settles_differ(kit):
    """`settles` names lines of the kit that are `ask`."""
    asks = {line["line"] for line in kit["lines"] if line["need"] == "ask"}
    return [f"{q['fact']} settles line {n}, which is not ask" for q in kit["questions"] for n in q["settles"]
            if n not in asks]


def possible(fact):
    """Answers to a fact: the words of the map and one that no row knows; doors are numbers, also those between."""
    if fact == "doors":
        return FACTS["doors"] + ["1", "2.5", "3.5", "4.5", "6"]
    return FACTS.get(fact, ["long"]) + ["something-else"]


@functools.cache
def bounds(folder):
    """The days on either side of every date that the map names."""
    text = " ".join(path.read_text(encoding="utf-8") for path in sorted(Path(folder).glob("map/*.csv")))
    spans = [span(word) for word in sorted(set(re.findall(r"\b[12]\d{3}(?:-\d\d){0,2}\b", text)))]
    ends = [day for first, last in spans for day in (first, last)]
    return sorted({date.fromordinal(end.toordinal() + step) for end in ends for step in (-1, 0, 1)})


def build_day(folder, built, rng):
    """A day in `built`, one time in two one where a condition may turn."""
    first, last = span(built) if built else (span("1995")[0], span("2004")[1])
    turns = [day for day in bounds(folder) if first <= day <= last]
    if turns and rng.random() < 0.5:
        return rng.choice(turns)
    return date.fromordinal(rng.randint(first.toordinal(), last.toordinal()))


def answered(folder, case, facts, rng):
    """The case with a random answer to each fact."""
    vehicle = {**case["vehicle"], "facts": dict(case["vehicle"]["facts"])}
    for fact in facts:
        if fact == "built":
            vehicle["built"] = build_day(folder, vehicle["built"], rng).isoformat()
        else:
            vehicle["facts"][fact] = rng.choice(possible(fact))
    return {**case, "vehicle": vehicle}


def asks_left(folder, case):
    """Lines that still ask; none when the answers take the platform away."""
    try:
        return [line for line in oracle.solve(folder, case)["lines"] if line["need"] == "ask"]
    except ValueError:
        return []


def counterexample(folder, case, facts, rng, tries):
    """(facts given, lines that still ask) of the first random answer that leaves some; None when none does."""
    for _ in range(tries):
        after = answered(folder, case, facts, rng)
        left = asks_left(folder, after)
        if left:
            return {fact: after["vehicle"]["facts"].get(fact, after["vehicle"]["built"]) for fact in facts}, left
    return None


def superfluous(folder, case, facts, rng):
    """Facts that can be left out: no answer to the others was found that leaves a line asking."""
    return [fact for fact in facts
            if not counterexample(folder, case, [f for f in facts if f != fact], rng, 200)]


def ask_first_differs(folder, case, kit, seed):
    """3.9: questions only; every answer to them leaves no line that asks; none of them can be left out."""
    facts, rng = kit["ask_first"], random.Random(seed)
    faults = [f"{fact} is no question" for fact in facts if fact not in {q["fact"] for q in kit["questions"]}]
    left = counterexample(folder, case, facts, rng, 20)
    if left:
        faults.append(f"after {left[0]} still ask: " + "; ".join(describe(line) for line in left[1][:3]))
    return faults + [f"{fact} can be left out" for fact in superfluous(folder, case, facts, rng)]


def own_kit(folder, case, seed):
    """The oracle's own result as a kit, with an `ask_first` found by leaving out what can be left out."""
    kit, rng = oracle.as_json(oracle.solve(folder, case)), random.Random(seed)
    facts = list(kit["ask_first"])
    for fact in kit["ask_first"]:
        if not counterexample(folder, case, [f for f in facts if f != fact], rng, 200):
            facts.remove(fact)
    return {**kit, "ask_first": facts}


# --- a whole case ------------------------------------------------------------------------------------------------

def differences(folder, case, kit, options, seed=0):
    """{field: faults} of one kit."""
    result = oracle.solve(folder, case)
    found = {
        "teardown": dicts_differ(result["teardown"], {t["component"]: t["state"] for t in kit["teardown"]}),
        "lines": lines_differ(result["lines"], kit["lines"], options.any_reason),
        "spares": lines_differ(result["spares"], kit["spares"], True, check_reason=False),
        "suggestions": suggestions_differ(result["suggestions"], kit["suggestions"]),
        "questions": sets_differ(result["questions"], {q["fact"] for q in kit["questions"]}),
        "order": order_differs(result, kit["order_of_work"]),
        "tools": sets_differ(result["tools"], words_of(kit["tools"])),
        "cautions": cautions_differ(result, kit["cautions"]),
        "settles": settles_differ(kit),
    }
    if "ask_first" not in options.skip:
        found["ask_first"] = ask_first_differs(folder, case, kit, seed)
    return {field: faults for field, faults in found.items() if faults and field not in options.skip}


def say(seed, found):
    """The differences of a seed, readable."""
    for field, faults in found.items():
        print(f"seed {seed}: {field} differs")
        for fault in faults[:12]:
            print(f"    {fault}")
        if len(faults) > 12:
            print(f"    ... and {len(faults) - 12} more")


def check(seed, options, tally):
    """One seed against the program (or, with --self, against the oracle's own JSON)."""
    with tempfile.TemporaryDirectory() as folder:
        case = generate(seed, folder, options.components, risks(options.risky))
        try:
            kit = own_kit(folder, case, seed) if options.self else show(options.binary, folder, case)
            found = differences(folder, case, kit, options, seed)
        except (RuntimeError, subprocess.TimeoutExpired) as fault:
            found = {"run": [str(fault)]}
        if options.self and not found:
            found = unnoticed(folder, case, kit, options)
        if found and options.keep:
            shutil.copytree(folder, f"{options.keep}/{seed}", dirs_exist_ok=True)
    tally.update(found.keys())
    say(seed, found)
    return not found


# --- the comparer itself -----------------------------------------------------------------------------------------

def bend_line(kit):
    kit["lines"][0]["quantity"] += 0.001


def bend_need(kit):
    kit["lines"][-1]["need"] = "ask" if kit["lines"][-1]["need"] == "sure" else "sure"


def bend_teardown(kit):
    kit["teardown"].pop()


def bend_spare(kit):
    kit["spares"].append(dict(kit["lines"][0]))


def bend_order(kit):
    kit["order_of_work"].reverse()


def bend_question(kit):
    kit["questions"].append({"fact": "moon", "settles": []})


def bend_suggestion(kit):
    kit["suggestions"].append({"component": "nothing", "part_type": "x", "extra_needs": []})


BENDS = {"lines": [bend_line, bend_need], "teardown": [bend_teardown], "spares": [bend_spare],
         "order": [bend_order], "questions": [bend_question], "suggestions": [bend_suggestion]}


def unnoticed(folder, case, kit, options):
    """Change one thing at a time in a right kit: the field's comparison must notice."""
    missed, quick = [], copy.copy(options)
    quick.skip = options.skip | {"ask_first"}
    for field, bends in BENDS.items():
        for bend in bends:
            bent = json.loads(json.dumps(kit))
            if not bent["lines"]:
                continue
            bend(bent)
            if field not in differences(folder, case, bent, quick):
                missed.append(f"{bend.__name__} went unnoticed")
    return {"self": missed} if missed else {}


def parse():
    """The command line."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("binary", nargs="?")
    parser.add_argument("--self", action="store_true")
    parser.add_argument("--cases", type=int, default=40)
    parser.add_argument("--start", type=int, default=1)
    parser.add_argument("--components", type=int, default=30)
    parser.add_argument("--risky", default="")
    parser.add_argument("--skip", default="", type=lambda text: set(text.split(",")))
    parser.add_argument("--any-reason", action="store_true")
    parser.add_argument("--keep")
    options = parser.parse_args()
    if not options.binary and not options.self:
        parser.error("LASTBOLT or --self")
    return options


def main():
    """Exit status 1 when a seed failed."""
    options, tally = parse(), Counter()
    seeds = range(options.start, options.start + options.cases)
    passed = sum(check(seed, options, tally) for seed in seeds)
    for field, count in tally.most_common():
        print(f"{field}: {count} seeds")
    print(f"{passed} passed, {len(seeds) - passed} failed")
    sys.exit(passed != len(seeds))


if __name__ == "__main__":
    main()
