#!/usr/bin/env python3
"""Holds `lastbolt buy` against the market oracle on generated markets.

    market_compare.py LASTBOLT [--cases 40] [--start 1] [--keep DIR] [--quiet]
    market_compare.py --self [--cases 40]      the search against a plainer one, known answers, and bent baskets

A case too large to go through is passed over and counted. A failing seed is tried again under every other reading
of market_readings.py, one at a time; those under which it passes are named.
"""

import argparse
import json
import os
import shutil
import subprocess
import sys
import tempfile
from collections import Counter
from datetime import datetime, timezone

from market_check import basket_differs, cents
from market_generate import generate
from market_oracle import Answer, closed_gaps, open_gaps
from market_readings import MARKET
from market_search import TooLarge

OTHERS = {"bound": ["chosen"]}


def run(binary, folder, today, *words, fine=(0,)):
    """One call: its standard output; RuntimeError when the exit status is not among the fine ones."""
    noon = datetime.fromisoformat(f"{today}T12:00:00").replace(tzinfo=timezone.utc)
    done = subprocess.run([binary, "--db", f"{folder}/x.db", *words], capture_output=True, text=True, check=False,
                          timeout=120, env={**os.environ, "SOURCE_DATE_EPOCH": str(int(noon.timestamp()))})
    if done.returncode not in fine:
        raise RuntimeError(f"{' '.join(words)}: exit {done.returncode}: {done.stderr.strip() or done.stdout.strip()}")
    return done.stdout, done.returncode


def tell_kits(binary, folder, case):
    """Import, vehicles, kits, decisions."""
    today = case["today"]
    run(binary, folder, today, "import", f"{folder}/market")
    for name, vehicle in case["vehicles"].items():
        facts = [word for key, value in vehicle["facts"].items() for word in ("--with", f"{key}={value}")]
        run(binary, folder, today, "vehicle", "add", name, "--make", vehicle["make"], "--model", vehicle["model"],
            "--built", vehicle["built"], *facts)
    for kit in case["kits"]:
        jobs = [word for job in kit["jobs"] for word in ("--job", job)]
        run(binary, folder, today, "kit", "build", kit["kit"], "--vehicle", kit["vehicle"], *jobs, fine=(0, 1))
    for said in case.get("set", []):
        kit = json.loads(run(binary, folder, today, "--json", "kit", "show", said["kit"], fine=(0, 1))[0])
        number = next(line["line"] for line in kit["lines"] + kit["spares"] if line["part_type"] == said["part_type"]
                      and said["component"] in line["components"])
        run(binary, folder, today, "kit", "set", said["kit"], str(number), said["decision"], *said.get("part", []),
            fine=(0, 1))


def buy(binary, folder, case):
    """`buy --json` of the case, with its exit status beside it."""
    tell_kits(binary, folder, case)
    options, words = case.get("options", {}), []
    if "arrive_by" in options:
        words += ["--arrive-by", options["arrive_by"]]
    if "suppliers_at_most" in options:
        words += ["--suppliers-at-most", str(options["suppliers_at_most"])]
    for word in ("only", "without"):
        words += [each for supplier in options.get(word, []) for each in (f"--{word}", supplier)]
    text, status = run(binary, folder, case["today"], "--json", "buy", *(kit["kit"] for kit in case["kits"]), *words,
                       fine=(0, 1))
    return {**json.loads(text), "exit": status}


def nothing_differs(answer, found):
    """No basket is possible."""
    faults = [] if found["total"] is None and not found["parcels"] else ["a basket, where none is possible"]
    if found["exit"] != 1 or not found["gaps"]:
        faults.append(f"exit {found['exit']} with {len(found['gaps'])} gaps, expected 1 and some")
    codes = Counter(gap["code"] for gap in found["gaps"])
    for words in closed_gaps(answer.problem) if not answer.problem.options else []:
        code = next((code for code in words if codes[code]), None)
        codes[code] -= 1
        if code is None:
            faults.append(f"no gap of {words} among {[gap['code'] for gap in found['gaps']]}")
    return faults


def front_of(found):
    """The front as the oracle has it."""
    return [(cents(point["total"]), point["parcels"], point["arrives"]) for point in found["front"]]


def differences(answer, found):
    """{field: faults}."""
    problem = answer.problem
    if not answer.best:
        return {"basket": faults} if (faults := nothing_differs(answer, found)) else {}
    if found["total"] is None:
        return {"basket": [f"none, expected a total of {answer.best[0]}; gaps {found['gaps']}"]}
    faults = {"basket": basket_differs(problem, found)}
    here = (cents(found["total"]), len(found["parcels"]), max(parcel["arrives"] for parcel in found["parcels"]))
    best = (answer.best[0], answer.best[1], answer.best[2].isoformat())
    faults["optimum"] = [] if here == best else [f"{here}, expected {best}"]
    names = sorted(parcel["supplier"] for parcel in found["parcels"])
    faults["names"] = [] if here != best or names == answer.suppliers else [f"{names}, expected {answer.suppliers}"]
    front = [(total, n, day.isoformat()) for total, n, day in answer.front]
    faults["front"] = [] if sorted(front_of(found)) == front else [f"{front_of(found)}, expected {front}"]
    sure = found["proved"] is True and found.get("front_complete", True) is True
    faults["proved"] = [] if sure else ["the optimum or the front is not proved"]
    codes, wanted = sorted(gap["code"] for gap in found["gaps"]), open_gaps(problem)
    faults["gaps"] = [] if codes == wanted else [f"{codes}, expected {wanted}"]
    faults["exit"] = [] if found["exit"] == (1 if wanted else 0) else [f"{found['exit']} with gaps {wanted}"]
    return {field: found for field, found in faults.items() if found}


def other_readings(folder, found):
    """Readings, each a change of one switch, under which nothing differs."""
    passing = []
    for switch, usual in MARKET.items():
        for value in OTHERS.get(switch, [not usual]):
            MARKET[switch] = value
            try:
                passing += [f"{switch} = {value}"] if not differences(Answer(folder), found) else []
            except TooLarge:
                pass
        MARKET[switch] = usual
    return passing


def say(seed, folder, faults, found, answer):
    """Both sides of a difference."""
    for field, words in faults.items():
        print(f"seed {seed}: {field} differs")
        for word in words[:8]:
            print(f"    {word}")
    if found:
        print(f"  program: {json.dumps(found)}")
        print(f"  oracle:  {json.dumps(answer.as_json())}")
        passing = other_readings(folder, found)
        print(f"  passes when read otherwise: {', '.join(passing) or 'never'}")


def check(seed, options, tally):
    """One seed."""
    with tempfile.TemporaryDirectory() as folder:
        case, found, answer = generate(seed, folder), None, None
        try:
            answer = Answer(folder)
            tally["no basket" if not answer.best else "a basket"] += 1
            found = buy(options.binary, folder, case)
            faults = differences(answer, found)
        except TooLarge:
            tally["too large"] += 1
            return
        except (RuntimeError, subprocess.TimeoutExpired, StopIteration) as fault:
            faults = {"run": [repr(fault)]}
        if faults:
            tally["failed"] += 1
            tally.update(f"{field} differs" for field in faults)
            say(seed, folder, faults, None if options.quiet else found, answer)
            if options.keep:
                shutil.copytree(folder, f"{options.keep}/{seed}", dirs_exist_ok=True)


def parse():
    """The command line."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("binary", nargs="?")
    parser.add_argument("--self", action="store_true")
    parser.add_argument("--cases", type=int, default=40)
    parser.add_argument("--start", type=int, default=1)
    parser.add_argument("--keep")
    parser.add_argument("--quiet", action="store_true")
    options = parser.parse_args()
    if not options.binary and not options.self:
        parser.error("LASTBOLT or --self")
    return options


def main():
    """Exit status 1 when a seed failed."""
    options, tally = parse(), Counter()
    if options.self:
        from market_self import check_self  # the comparer does not need it otherwise
        sys.exit(check_self(options.start, options.cases))
    for seed in range(options.start, options.start + options.cases):
        check(seed, options, tally)
    print(", ".join(f"{name}: {count}" for name, count in tally.most_common()))
    sys.exit(tally["failed"] > 0)


if __name__ == "__main__":
    main()
