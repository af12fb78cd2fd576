#!/usr/bin/env python3
"""A random service map, the same for the same seed: OUTDIR/map/*.csv and OUTDIR/case.json.

    generate.py SEED OUTDIR [--components N] [--risky all|NAME,...]

Components are numbered from the outside in: access needs lower numbers only, so nothing goes round in a circle.
`Clock` gives every conceivable step a moment; sequence rows are drawn along it, so they never contradict the map.
Features whose reading is doubtful come with --risky only, see RISKS.
"""

import argparse
import csv
import json
import random
from pathlib import Path

from conditions import condition

RISKS = {"absent": "components whose every row is false, but which access or a job names",
         "freeze": "freeze_to between the points of the table",
         "units": "cells with a unit of their own: capacity `6.5 qt`",
         "both": "mix_percent and freeze_to in one row",
         "positions": "components of one type and spec on contradicting positions"}

COLUMNS = {
    "platforms": "platform make model built_from built_to when",
    "components": "platform component part_type name quantity unit spec position when wear_km wear_months inspect steps",
    "fastenings": "platform component item kind part_type quantity reuse unit spec joint torque angle tool at when note",
    "access": "platform component needs state to when",
    "sequence": "platform first then when note",
    "circuits": "platform circuit capacity fluid_type spec mix_percent freeze_to diluent_type diluent_spec when",
    "opens": "platform component circuit share_percent at when",
    "consumables": "platform component part_type quantity unit spec at when note",
    "cautions": "platform component text when",
    "jobs": "platform job component circuit action when",
}

STATES = ["loosened", "aside", "removed"]
WORDS = ["pump", "cover", "belt", "hose", "bracket", "pulley", "tray", "fan", "sensor", "pipe", "shield", "mount"]
FACTS = {"engine": ["m50", "m52", "m54"], "gearbox": ["manual", "automatic"], "ac": ["yes", "no"],
         "abs": ["yes", "no"], "doors": ["2", "3", "4", "5"], "trim": ["base", "sport"]}
# kind -> (part_type, unit, specs); two spellings of one spec stand side by side.
HARDWARE = {
    "bolt": ("hex-bolt", "", ["M6x1.0x20 8.8", "M6x20 8.8", "m6X1x20 8.8", "M8x1.25x30", "M8x30 10.9", "M8x30", ""]),
    "nut": ("hex-nut", "", ["M8", "M8x1.25", "M10x1.25", "M10x1.5", "M10"]),
    "screw": ("screw", "", ["M4x0.7x12", "M4x12", "T25 x 16", "t25x16", ""]),
    "clip": ("trim-clip", "each", ["8 mm hole", "8MM HOLE", ""]),
    "o-ring": ("o-ring", "", ["AS568-210", "18.64x3.53", "24.99x3.53", "AS568-214", "9.25x1.78", "AS568-012",
                              "20.22x3.53"]),
    "gasket": ("gasket", "", ["", "", "type A"]),
    "seal": ("shaft-seal", "", ["35x50x8", "35X50X8", ""]),
    "sealant": ("sealant", "ml", ["RTV grey", "rtv  GREY"])}
PARTS = [("drive-belt", ["6PK1538", "6 pk 1538", "6PK1550"]), ("o-ring", ["AS568-210", "18.64x3.53"]),
         ("hex-bolt", ["M8x30", "M8x1.25x30"]), ("hose", ["", "12 mm"])]
STUFF = [("grease", ["g", "kg"], ["", "NLGI 2"]), ("thread-locker", ["ml", "L"], ["blue", "BLUE"]),
         ("distilled-water", ["L", "ml"], [""]), ("rag", ["each"], [""]), ("tape", ["m", "mm"], ["", "19 mm"])]
CIRCUITS = [("coolant-circuit", "coolant-concentrate", "G48", True), ("oil-circuit", "engine-oil", "5W-30", False),
            ("brake-circuit", "brake-fluid", "DOT 4", False), ("heater-circuit", "coolant-concentrate", "g 48", True)]


class Clock:
    """The moment of every step of the imagined whole job: off by rising number, back by falling number."""

    def __init__(self, count):
        self.count, self.early = count, {}

    def back(self, moment):
        """The mirrored moment on the way back."""
        return 2 * self.count - moment

    def off_step(self, maker, number):
        """A random step of taking component `number` off, with its moment; early loosening where allowed."""
        name = maker.names[number]
        verb = maker.pick([maker.steps.get(name, "remove fit").split()[0], "set-aside", "loosen"])
        moment = self.early.get(number, number) if verb == "loosen" else number
        return f"{verb} {name}", moment

    def back_step(self, maker, number):
        """The same on the way back."""
        name = maker.names[number]
        verb = maker.pick([maker.steps.get(name, "remove fit").split()[1], "refit", "tighten"])
        moment = self.early.get(number, number) if verb == "tighten" else number
        return f"{verb} {name}", self.back(moment)


class Maker:
    """Everything of one seed."""

    def __init__(self, seed, count, risky=()):
        self.random, self.count, self.risky = random.Random(seed), count, set(risky)
        self.rows = {kind: [] for kind in COLUMNS}
        self.names = [f"{self.pick(WORDS)}-{n}" for n in self.random.sample(range(10, 10 + 3 * count), count)]
        self.steps, self.needed, self.clock = {}, set(), Clock(count)
        self.vehicle = self.make_vehicle()

    def pick(self, options):
        """One of several."""
        return self.random.choice(options)

    def chance(self, percent):
        """True in so many of a hundred."""
        return self.random.random() * 100 < percent

    def add(self, file, platform="e-series", **cells):
        """One row; empty cells stay empty."""
        self.rows[file].append({"platform": platform, **cells})

    # --- vehicle and conditions (section 2) ---

    def make_vehicle(self):
        """Some facts stated, some not; built in one of three precisions, or not at all."""
        facts = {key: self.pick(values) for key, values in FACTS.items() if self.chance(60)}
        built = self.pick(["1999", "1998-06", "1999-03", "1998-11-15", "2000", ""])
        return {"make": "Acme", "model": "Roadster", "built": built, "facts": facts}

    def clause(self):
        """One random clause."""
        if self.chance(35):
            return f"built {self.pick(['<', '<=', '>', '>='])} {self.pick(['1999', '1999-03', '1998-11-15', '1999-07'])}"
        if self.chance(10) and self.vehicle["built"]:
            return self.pick(["year < 1999", "year = 1998|1999", "year != 2000", "year >= 1999"])
        key = self.pick(sorted(FACTS))
        if key == "doors" and self.chance(60):
            return f"doors {self.pick(['<', '<=', '>', '>='])} {self.pick(['3', '4'])}"
        words = self.random.sample(FACTS[key], self.pick([1, 1, 2]))
        return f"{key} {self.pick(['=', '!='])} {'|'.join(word.upper() if self.chance(20) else word for word in words)}"

    def when(self, percent=20, never_false=False):
        """A random condition, or none."""
        while self.chance(percent):
            text = " ; ".join(self.clause() for _ in range(self.pick([1, 1, 2])))
            if not never_false or condition(text, self.vehicle)[0] != "false":
                return text
        return ""

    def split(self):
        """Two conditions that exclude each other and leave no gap."""
        key = self.pick(["built", "engine", "gearbox"])
        if key == "built":
            day = self.pick(["1999-03", "1999", "1998-11-15"])
            return f"built < {day}", f"built >= {day}"
        word = FACTS[key][0]
        return f"{key} = {word}", f"{key} != {word}"

    # --- the map ---

    def platforms(self):
        """The platform of the vehicle (true, or now and then provisional) and decoys."""
        style = self.pick(["plain"] * 6 + ["range", "overlap", "fact"])
        cells = {"range": {"built_from": "1995", "built_to": "2003-06"}, "overlap": {"built_from": "1999-03-10"},
                 "fact": {"when": "wheelbase = long"}}.get(style, {})
        if style == "overlap" and self.vehicle["built"] not in ("", "1999", "1999-03"):
            cells = {}
        self.add("platforms", make="ACME", model="roadster", **cells)
        self.add("platforms", platform="f-series", make="Acme", model="Van")
        if self.vehicle["built"]:
            self.add("platforms", platform="d-series", make="Acme", model="Roadster", built_to="1989-12")

    def access(self):
        """Up to three rows a component, lower numbers only; a few keep a way for loosening early."""
        for number in range(1, self.count):
            rows = [self.access_row(number, other)
                    for other in self.random.sample(range(number), min(number, self.pick([1, 1, 2, 2, 3, 4])))]
            late = [other for other, to in rows if to == "removed"]
            bound = [other for other, to in rows if to in ("", "loosened")]
            if late and self.chance(85) and max(late) > max(bound, default=-1):
                self.clock.early[number] = max(late) - 0.5

    def access_row(self, number, other):
        """One row; (needed number, to)."""
        to = self.pick(["", "removed", "removed", "removed", "aside", "loosened"])
        self.add("access", component=self.names[number], needs=self.names[other], state=self.pick(STATES), to=to,
                 when=self.when(15))
        self.needed.add(other)
        return other, to

    def components(self):
        """One row each or a split pair; shared types and specs, wear, verbs."""
        for number, name in enumerate(self.names):
            if self.chance(15):
                self.steps[name] = self.pick(["disconnect connect", "unlock lock", "support release"])
            whens = self.split() if self.chance(20) else [self.lone_condition(number)]
            shared = self.pick(PARTS) if self.chance(35) else (name, ["", "", f"size {number}"])
            wear = {"wear_km": self.pick(["60000", "100000", ""]), "wear_months": self.pick(["48", ""])}
            wear = wear if self.chance(35) else {}
            for when in whens:
                self.add("components", component=name, part_type=shared[0], spec=self.pick(shared[1]), when=when,
                         quantity=self.pick(["", "1", "2", "3"]), steps=self.steps.get(name, ""), **wear,
                         position=self.pick(["", "front left", "rear right"]) if "positions" in self.risky else "",
                         inspect=self.pick(["", "", "yes"]))

    def lone_condition(self, number):
        """A condition for the only row of a component; false ones are a doubtful matter."""
        if "absent" in self.risky:
            return self.when(20)
        return "" if number in self.needed else self.when(20, never_false=True)

    def fastenings(self):
        """Loose items, and joints that several components share."""
        for name in self.names:
            for _ in range(self.pick([0, 1, 2, 3])):
                self.fastening(name, self.pick(sorted(HARDWARE)))
        for number in range(self.count // 4):
            kind = self.pick(["bolt", "nut", "o-ring", "gasket", "clip"])
            spec = self.pick(HARDWARE[kind][2])
            for name in self.random.sample(self.names, self.pick([2, 2, 3])):
                self.fastening(name, kind, f"joint-{number}", spec)

    def fastening(self, name, kind, joint="", spec=None):
        """One row."""
        part_type, unit, specs = HARDWARE[kind]
        self.add("fastenings", component=name, item=f"{kind} of {name}", kind=kind, part_type=part_type, unit=unit,
                 quantity=self.pick(["5", "12.5"]) if kind == "sealant" else self.random.randint(1, 8),
                 reuse=self.pick(["never", "never", "check", "always"]), joint=joint,
                 spec=self.pick(specs) if spec is None else spec, torque=self.pick(["", "10", "22"]),
                 tool=self.pick(["", "", "10 mm socket", "13 mm socket", "Torx T25", "pick"]),
                 at=self.pick(["", "", "", *STATES]), when=self.when(20))

    def circuits(self):
        """Neat, mixed by percent and by freezing point; split pairs too."""
        for name, fluid, spec, mixed in CIRCUITS:
            whens = self.split() if self.chance(25) else [""]
            for when in whens:
                self.add("circuits", circuit=name, capacity=self.capacity(), fluid_type=fluid, spec=spec, when=when,
                         **(self.mixture() if mixed else {}))

    def capacity(self):
        """In litres unless risky."""
        text = str(self.random.randint(8, 95) / 10)
        return f"{text} {self.pick(['qt', 'gal'])}" if "units" in self.risky and self.chance(40) else text

    def mixture(self):
        """Percent, freezing point or neat."""
        cells = {"diluent_type": "distilled-water"}
        style = self.pick(["mix", "freeze", "neat", "both" if "both" in self.risky else "mix"])
        if style in ("mix", "both"):
            cells["mix_percent"] = self.pick(["50", "40", "35"])
        if style in ("freeze", "both"):
            cells["freeze_to"] = self.pick(["-30", "-36.5", "-12"] if "freeze" in self.risky
                                           else ["-27.5", "-33.8", "-37.9", "-48.3"])
        return cells if style != "neat" else {}

    def opens(self):
        """Who opens what; drains are placed on the clock just before the outermost opener."""
        for name, *_ in CIRCUITS:
            openers = self.random.sample(range(1, self.count), self.pick([0, 1, 2, 4]))
            for number in openers:
                at = self.pick(["", "", "removed", "aside"] + ([] if number in self.clock.early else ["loosened"]))
                self.add("opens", component=self.names[number], circuit=name, at=at, when=self.when(20),
                         share_percent=self.pick(["10", "35", "60", "100", "120"]))
            outermost = min(openers, default=self.random.randrange(1, self.count))
            self.clock.early[name] = outermost - 0.25
            self.circuit_access(name, outermost)

    def circuit_access(self, name, outermost):
        """To drain it, something further out must be off first."""
        for other in self.random.sample(range(outermost), min(outermost, self.pick([0, 1, 2]))):
            self.needed.add(other)
            self.add("access", component=name, needs=self.names[other], state=self.pick(STATES), when=self.when(15))

    def consumables(self):
        """Stuff in several units of one dimension."""
        for name in self.names:
            if self.chance(40):
                part_type, units, specs = self.pick(STUFF)
                unit = self.pick(units)
                small = unit in ("kg", "L", "m")
                self.add("consumables", component=name, part_type=part_type, unit=unit, spec=self.pick(specs),
                         quantity=self.pick(["0.05", "0.2"] if small else ["2", "5", "7.5"]),
                         at=self.pick(["", "", *STATES]), when=self.when(20))

    def cautions(self):
        """A few words."""
        for name in self.random.sample(self.names, self.count // 5):
            self.add("cautions", component=name, text=f"mind the {name}", when=self.when(20))

    # --- sequence rows along the clock ---

    def moment(self):
        """A random step and its moment."""
        if self.chance(20):
            name = self.pick(CIRCUITS)[0]
            drain = self.clock.early[name]
            back = self.clock.back(drain)
            return self.pick([(f"drain {name}", drain), (f"fill {name}", back), (f"bleed {name}", back + 0.05)])
        number = self.random.randrange(self.count)
        return self.pick([self.clock.off_step, self.clock.back_step])(self, number)

    def sequence(self):
        """Random pairs in the order of the clock, and the loosening that wants something still on."""
        for _ in range(self.count):
            (first, start), (then, end) = sorted([self.moment(), self.moment()], key=lambda pair: pair[1])
            if start < end:
                self.add("sequence", first=first, then=then, when=self.when(15))
        for number, moment in self.clock.early.items():
            if isinstance(number, int) and self.chance(70):
                outer, name = self.names[int(moment + 0.5)], self.names[number]
                off, back = self.steps.get(outer, "remove fit").split()
                self.add("sequence", first=f"loosen {name}", then=f"{off} {outer}")
                self.add("sequence", first=f"{back} {outer}", then=f"tighten {name}")

    # --- jobs, decoys, case ---

    def jobs(self):
        """Jobs with several targets, some circuits, some refits."""
        for job in ("big-service", "small-service"):
            for number in self.random.sample(range(self.count // 3, self.count), self.pick([2, 3, 4])):
                self.add("jobs", job=job, component=self.names[number], when=self.when(15, job == "big-service"),
                         action=self.pick(["", "renew", "refit"]))
            if self.chance(40):
                self.add("jobs", job=job, circuit=self.pick(CIRCUITS)[0], when=self.when(15))

    def decoys(self):
        """Rows of another platform with the same names must play no part."""
        for name in self.names[:4]:
            self.add("components", platform="f-series", component=name, part_type="decoy")
            self.add("access", platform="f-series", component=self.names[-1], needs=name, state="removed")
            self.add("fastenings", platform="f-series", component=name, item="decoy", kind="bolt", part_type="decoy",
                     quantity=9, reuse="never")

    def case(self):
        """Vehicle, jobs and replace list."""
        replace = [self.pick(self.names[self.count // 2:])] if self.chance(40) else []
        return {"vehicle": self.vehicle, "replace": replace,
                "jobs": self.pick([["big-service"], ["big-service"], ["big-service", "small-service"]])}


def risks(text):
    """The set of names that --risky gives."""
    return set(RISKS) if text == "all" else {name for name in (text or "").split(",") if name}


def generate(seed, folder, count=30, risky=()):
    """Write one case; returns it."""
    maker = Maker(seed, count, risky)
    for stage in (maker.platforms, maker.access, maker.opens, maker.components, maker.fastenings, maker.circuits,
                  maker.consumables, maker.cautions, maker.sequence, maker.jobs, maker.decoys):
        stage()
    where = Path(folder) / "map"
    where.mkdir(parents=True, exist_ok=True)
    for kind, rows in maker.rows.items():
        with open(where / f"{kind}.csv", "w", newline="", encoding="utf-8") as stream:
            writer = csv.DictWriter(stream, COLUMNS[kind].split(), restval="")
            writer.writeheader()
            writer.writerows(rows)
    case = maker.case()
    (Path(folder) / "case.json").write_text(json.dumps(case, indent=1), encoding="utf-8")
    return case


def main():
    """The command line."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("seed", type=int)
    parser.add_argument("outdir")
    parser.add_argument("--components", type=int, default=30)
    parser.add_argument("--risky", default="", help="; ".join(f"{k}: {v}" for k, v in RISKS.items()))
    options = parser.parse_args()
    generate(options.seed, options.outdir, options.components, risks(options.risky))


if __name__ == "__main__":
    main()
