"""A random service map with everything that formats.md §3 knows, the same for the same seed."""
import csv
import random
from pathlib import Path

HEADERS = {
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
SPECS = {"bolt": ["M6x20 8.8", "M6x1.0x20 8.8", "M8x30", "M8x1.25x30", ""], "o-ring": ["18.77x1.78", "24.99x3.53", "AS568-214", ""],
         "clip": ["hole 8", "Hole 8", ""], "gasket": ["", "steel"]}
KINDS = {"bolt": ["bolt"], "o-ring": ["o-ring", "seal"], "clip": ["clip", "pin"], "gasket": ["gasket"]}


class Maker:
    def __init__(self, seed, count):
        self.random = random.Random(seed)
        self.names = [f"part-{i:02}" for i in range(count)]
        self.circuits = ["coolant", "oil", "brake-fluid"]
        self.rows = {kind: [] for kind in HEADERS}

    def chance(self, p):
        return self.random.random() < p

    def when(self, p=0.3):
        """Conditions that are true, false and unknown for the vehicle below."""
        if not self.chance(p):
            return ""
        return self.random.choice(["engine = a", "engine != b", "engine = b|c", "ac = yes", "abs = yes ; engine = a",
                                   "built >= 2004-03", "built < 2003", "gearbox = manual|automatic", "year <= 2004", "ac != no",
                                   "built < 2004-06 ; abs = no", "doors > 3", "doors < 4"])

    def add(self, file, **cells):
        self.rows[file].append({"platform": "p1", **cells})

    def components(self):
        for i, name in enumerate(self.names):
            for _ in range(2 if self.chance(0.15) else 1):
                self.add("components", component=name, part_type=f"type-{i % 17}",
                         quantity=self.random.choice(["", "1", "2"]), unit="", when=self.when(0.25),
                         spec=self.random.choice(["", "", f"size {i % 5}"]),
                         wear_km=self.random.choice(["", "", "", "100000"]),
                         steps=self.random.choice(["", "", "", "disconnect connect"]))

    def fastenings(self):
        for i in range(len(self.names) * 3):
            part_type = self.random.choice(list(SPECS))
            self.add("fastenings", component=self.random.choice(self.names), item=f"item {i}",
                     kind=self.random.choice(KINDS[part_type]), part_type=part_type, quantity=self.random.randint(1, 8),
                     reuse=self.random.choice(["never", "check", "always"]), spec=self.random.choice(SPECS[part_type]),
                     tool=self.random.choice(["", "10 mm socket", "13 mm socket", "pick"]),
                     at=self.random.choice(["", "", ""] + STATES), when=self.when())
        for j in range(5):
            for _ in range(self.random.randint(2, 3)):
                self.add("fastenings", component=self.random.choice(self.names), item=f"joint bolt {j}", kind="bolt",
                         part_type="joint-bolt", quantity=self.random.randint(1, 6), joint=f"j{j}",
                         reuse=self.random.choice(["never", "never", "check", "always"]),
                         spec="" if j == 4 else f"M10x{40 + j}", when=self.when(0.2))

    def access(self):
        """Later components only, so that nothing goes round in a circle."""
        for i, name in enumerate(self.names[:-1]):
            for _ in range(self.random.randint(0, 3)):
                self.add("access", component=name, needs=self.random.choice(self.names[i + 1:]),
                         state=self.random.choice(STATES), to=self.random.choice(["", ""] + STATES), when=self.when(0.2))
        self.add("access", component="oil", needs=self.names[-1], state="removed")

    def fluids(self):
        for n, circuit in enumerate(self.circuits):
            mix = [{"mix_percent": "50", "diluent_type": "water"}, {}, {"freeze_to": "-30", "diluent_type": "water"}][n]
            self.add("circuits", circuit=circuit, capacity=self.random.choice(["4.5", "6.8", "1"]), fluid_type=f"{circuit}-type",
                     spec=self.random.choice(["", "G2"]), when=self.when(0.2), **mix)
        for _ in range(8):
            self.add("opens", component=self.random.choice(self.names[:-1]), circuit=self.random.choice(self.circuits),
                     share_percent=self.random.choice(["10", "35.5", "100", "150"]), at=self.random.choice(["", "", "loosened"]),
                     when=self.when(0.2))

    def rest(self):
        for _ in range(12):
            part_type, unit, quantity = self.random.choice([("grease", "g", "5"), ("sealant", "ml", "2.5"), ("cloth", "each", "2"),
                                                            ("tape", "m", "0.25"), ("water", "L", "0.5")])
            self.add("consumables", component=self.random.choice(self.names), part_type=part_type, quantity=quantity,
                     unit=unit, spec=self.random.choice(["", "", "X1"]), at=self.random.choice(["", "", "removed"]),
                     when=self.when(0.2))
        for name in self.random.sample(self.names, 4):
            self.add("cautions", component=name, text=f"mind {name}", when=self.when(0.2))
        self.add("platforms", make="Make", model="Model", when="")

    def sequences(self):
        """Off steps of a later component before those of an earlier one, and the other way round for back steps: what access
        never contradicts. Loosening comes first of all, tightening last."""
        for _ in range(8):
            early, late = sorted(self.random.sample(range(len(self.names)), 2))
            first, then = self.names[late], self.names[early]
            self.add("sequence", first=f"remove {first}", then=f"remove {then}", when=self.when(0.1))
            self.add("sequence", first=f"fit {then}", then=f"fit {first}", when=self.when(0.1))
        for name in self.random.sample(self.names, 3):
            self.add("sequence", first=f"loosen {name}", then=f"remove {self.names[-1]}")
            self.add("sequence", first=f"fit {self.names[-1]}", then=f"tighten {name}")

    def job(self):
        for name in self.random.sample(self.names[: len(self.names) // 2], 3):
            self.add("jobs", job="renewal", component=name, action=self.random.choice(["", "renew", "refit"]), when=self.when(0.2))
        self.add("jobs", job="renewal", component=self.names[0])
        if self.chance(0.4):
            self.add("jobs", job="renewal", circuit=self.random.choice(self.circuits))


def make_case(seed, folder, count=30):
    """Writes the files; returns what is asked for."""
    maker = Maker(seed, count)
    for stage in (maker.components, maker.fastenings, maker.access, maker.fluids, maker.rest, maker.sequences, maker.job):
        stage()
    for kind, rows in maker.rows.items():
        with open(Path(folder) / f"{kind}.csv", "w", newline="", encoding="utf-8") as stream:
            writer = csv.DictWriter(stream, HEADERS[kind].split(), restval="")
            writer.writeheader()
            writer.writerows(rows)
    facts = {"engine": "a", "gearbox": "manual", "doors": "4"}
    for fact in [f for f in facts if maker.chance(0.3)]:
        del facts[fact]
    return {"vehicle": {"make": "Make", "model": "Model", "built": maker.random.choice(["2004", "2002-05", ""]), "facts": facts},
            "job": "renewal", "replace": [maker.random.choice(maker.names)] if maker.chance(0.3) else []}
