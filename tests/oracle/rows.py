"""Reading the CSV files of a service map: formats.md section 1 (kinds from headers) and 2 (which rows apply)."""

import csv
from pathlib import Path

from conditions import choose_platform, condition

REQUIRED = {
    "platforms": "platform make model",
    "components": "platform component part_type",
    "fastenings": "platform component item kind part_type quantity reuse",
    "access": "platform component needs state",
    "sequence": "platform first then",
    "circuits": "platform circuit capacity fluid_type",
    "opens": "platform component circuit share_percent",
    "consumables": "platform component part_type quantity unit",
    "cautions": "platform component text",
    "jobs": "platform job",
}


class Row(dict):
    """The stated cells of one row, with `truth`, `asks` (unknown facts), `kind` and `place` (file, line)."""

    def __init__(self, cells, kind, place):
        super().__init__({k.strip().lower(): v.strip() for k, v in cells.items() if k and v and v.strip()})
        self.kind, self.place, self.truth, self.asks = kind, place, "true", set()


def kind_of(header, stem):
    """The kind whose required columns are all there (section 1); the file's name decides first.

    Taken literally "the one with the most" makes a consumables file of every components file that has the further
    columns quantity and unit (5 required columns against 3), so the name is asked before the count.
    """
    names = {name.strip().lower() for name in header}
    fits = [kind for kind, needed in REQUIRED.items() if set(needed.split()) <= names]
    return stem if stem in fits else max(fits, key=lambda kind: len(REQUIRED[kind].split()), default=None)


def read_file(path):
    """All rows of one CSV file; [] when its kind is not of the service map."""
    with open(path, newline="", encoding="utf-8-sig") as stream:
        reader = csv.DictReader(stream)
        kind = kind_of(reader.fieldnames or [], path.stem.lower())
        return [Row(cells, kind, (path.name, reader.line_num)) for cells in reader] if kind else []


def read_folder(folder):
    """{kind: rows} of every CSV file under a folder, in the order of the file names."""
    found = {kind: [] for kind in REQUIRED}
    for path in sorted(Path(folder).rglob("*.csv")):
        for row in read_file(path):
            found[row.kind].append(row)
    return found


class Map:
    """The rows of one vehicle's platform that are not false, each with its truth (section 2)."""

    def __init__(self, rows, platform, truth="true", asks=()):
        self.rows, self.platform, self.truth, self.asks = rows, platform, truth, set(asks)

    def __getitem__(self, kind):
        return self.rows[kind]

    def only_true(self):
        """The same map without its provisional rows."""
        return Map({kind: [row for row in rows if row.truth == "true"] for kind, rows in self.rows.items()},
                   self.platform)


def load(folder, vehicle):
    """The map of the vehicle's platform; ValueError when the platform is not decided."""
    everything = read_folder(folder)
    platform, truth, asks = choose_platform(everything["platforms"], vehicle)
    kept = {}
    for kind, rows in everything.items():
        mine = [row for row in rows if row["platform"] == platform]
        for row in mine:
            row.truth, row.asks = condition(row.get("when", ""), vehicle)
        kept[kind] = [row for row in mine if row.truth != "false"]
    return Map(kept, platform, truth, asks)
