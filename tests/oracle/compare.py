"""Holds the program against the oracle on generated service maps.

    python3 tests/oracle/compare.py LASTBOLT [--cases 40] [--start 1] [--components 30]
"""
import argparse
import json
import subprocess
import sys
import tempfile
from collections import Counter
from pathlib import Path

import oracle
from generate import make_case


def run(binary, folder, *words):
    done = subprocess.run([binary, "--db", f"{folder}/x.db", *words], capture_output=True, text=True, check=False)
    if done.returncode != 0:
        raise RuntimeError(f"{' '.join(words)}: exit {done.returncode}: {done.stderr.strip()} {done.stdout[-300:]}")
    return done.stdout


def show(binary, folder, case):
    """The kit as the program sees it."""
    vehicle = case["vehicle"]
    run(binary, folder, "import", f"{folder}/map")
    facts = [word for key, value in vehicle["facts"].items() for word in ("--with", f"{key}={value}")]
    built = ["--built", vehicle["built"]] if vehicle["built"] else []
    run(binary, folder, "vehicle", "add", "v", "--make", vehicle["make"], "--model", vehicle["model"], *built, *facts)
    replace = [word for name in case["replace"] for word in ("--replace", name)]
    run(binary, folder, "kit", "build", "k", "--vehicle", "v", "--job", case["job"], *replace)
    return json.loads(run(binary, folder, "--json", "kit", "show", "k"))


def spec(text):
    return oracle.key_of_spec(text) if text and text.strip() else None


def line(part_type, text, quantity, unit, reason, need):
    return part_type, spec(text), round(float(quantity), 6), unit, reason, need


def lines_of(kit, what):
    return Counter(line(n["part_type"], n["spec"], n["quantity"], n["unit"], n["reason"], n["need"]) for n in kit[what])


def expected_lines(lines, spares):
    return Counter(line(n["part_type"], n["spec"], n["quantity"], n["unit"], n["reason"], n["need"])
                   for n in lines.values() if (n["pool"] == "spare") == spares)


def suggestions_of(kit):
    found = {}
    for s in kit["suggestions"]:
        extra = Counter()
        for need in s["extra_needs"]:
            extra[need["part_type"], spec(need["spec"]), need["unit"]] += need["quantity"]
        found[s["component"]] = {key: round(value, 6) for key, value in extra.items()}
    return found


def order_faults(kit, result):
    steps, rules = oracle.steps_and_rules(result)
    order = kit["order_of_work"]
    at = {step: i for i, step in enumerate(order)}
    faults = [f"missing step {s}" for s in steps - set(order)] + [f"step too many {s}" for s in set(order) - steps]
    if len(at) != len(order):
        faults.append("a step stands twice")
    faults += [f"{a} must come before {b}" for a, b in sorted(rules) if a in at and b in at and at[a] >= at[b]]
    return faults


def near(expected, found):
    """Equal but for the millionth that rounding may add."""
    if isinstance(expected, dict) and isinstance(found, dict):
        return set(expected) == set(found) and all(near(expected[k], found[k]) for k in expected)
    if isinstance(expected, float):
        return abs(expected - found) < 2.5e-6
    return expected == found


def differences(kit, result):
    """(what, expected, found) for all that differs."""
    levels = {1: "loosened", 2: "aside", 3: "removed"}
    pairs = [
        ("teardown", {t: levels[n] for t, n in result["teardown"].items()}, {t["component"]: t["state"] for t in kit["teardown"]}),
        ("lines", expected_lines(result["lines"], False), lines_of(kit, "lines")),
        ("spares", expected_lines(result["lines"], True), lines_of(kit, "spares")),
        ("suggestions", {c: {k: round(float(v), 6) for k, v in e.items()} for c, e in result["suggestions"].items()},
         suggestions_of(kit)),
        ("questions", result["questions"], {q["fact"] for q in kit["questions"]}),
        ("tools", result["tools"], set(kit["tools"])),
        ("order", [], order_faults(kit, result)),
    ]
    return [pair for pair in pairs if not near(pair[1], pair[2])]


def say(seed, what, expected, found):
    print(f"seed {seed}: {what} differs")
    if isinstance(expected, dict):
        for key in sorted(set(expected) | set(found), key=str):
            if expected.get(key) != found.get(key):
                print(f"    {key}: expected {expected.get(key)}, found {found.get(key)}")
    else:
        print(f"    expected {expected}\n    found {found}")


def check(binary, seed, components):
    with tempfile.TemporaryDirectory() as folder:
        (Path(folder) / "map").mkdir()
        case = make_case(seed, f"{folder}/map", components)
        try:
            kit = show(binary, folder, case)
        except RuntimeError as fault:
            if "contradicts itself" in str(fault) and oracle.goes_round(oracle.plan(f"{folder}/map", case)):
                return True
            print(f"seed {seed}: {fault}")
            return False
        faults = differences(kit, oracle.plan(f"{folder}/map", case))
    for fault in faults:
        say(seed, *fault)
    return not faults


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("binary")
    parser.add_argument("--cases", type=int, default=40)
    parser.add_argument("--start", type=int, default=1)
    parser.add_argument("--components", type=int, default=30)
    options = parser.parse_args()
    passed = sum(check(options.binary, seed, options.components)
                 for seed in range(options.start, options.start + options.cases))
    print(f"{passed} passed, {options.cases - passed} failed")
    sys.exit(passed != options.cases)


if __name__ == "__main__":
    main()
