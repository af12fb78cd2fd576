"""A judged collection from files that somebody else made: titles, queries, and what is worth how much to which query. Forgiving
about headings, separators and encodings; whatever is left out is counted in `remarks`."""
import csv
import sys
from collections import defaultdict
from typing import NamedTuple, Optional

from parts import Part, code

csv.field_size_limit(sys.maxsize)
TITLE = {"id": ("id", "title_id", "doc_id", "docid", "document_id", "product_id", "item_id", "part_number"),
         "title": ("title", "text", "name", "description", "document", "product_title")}
QUERY = {"query_id": ("query_id", "qid", "queryid", "id"), "query": ("query", "clean", "text", "query_text"),
         "typed": ("typed", "as typed", "as_typed", "misspelt", "misspelled", "typo", "query_typed", "noisy")}
JUDGMENT = {"query_id": ("query_id", "qid", "queryid", "query"), "id": TITLE["id"],
            "grade": ("grade", "relevance", "rel", "label", "judgment", "judgement", "gain", "score")}


class Asked(NamedTuple):
    id: str
    clean: list
    typed: Optional[list]
    grades: dict  # by the key of a part; only what is worth something


def read_text(path):
    with open(path, "rb") as file:
        data = file.read()
    try:
        text = data.decode("utf-16" if data[:2] in (b"\xff\xfe", b"\xfe\xff") else "utf-8-sig")
    except UnicodeDecodeError:
        text = data.decode("cp1252", errors="replace")
    return text.replace("\0", "")


def rows_of(path):
    """Its rows, cut at tabs, commas, semicolons or bars, whichever the first line has most of; at blanks where it has none."""
    text = read_text(path)
    lines = text.splitlines(keepends=True)
    first = next((line for line in lines if line.strip()), "")
    separator = max("\t,;|", key=first.count)
    if not first.count(separator):
        return [line.split() for line in lines if line.strip()]
    quoting = csv.QUOTE_NONE if separator == "\t" and '\t"' not in text and '\n"' not in text else csv.QUOTE_MINIMAL
    return [[cell.strip() for cell in row] for row in csv.reader(lines, delimiter=separator, quoting=quoting) if any(row)]


def is_number(text):
    try:
        return float(text) == float(text)
    except ValueError:
        return False


def has_heading(first, names, header):
    """Told, or known by one of its cells; else there is one unless a number stands where grades stand."""
    if header is not None:
        return header
    known = {name for all_names in names.values() for name in all_names}
    return bool(known & {cell.casefold() for cell in first}) or not ("grade" in names and is_number(first[-1]))


def table(path, names, header=None):
    """A dictionary a row. Columns go by their headings; those that no heading names by their places."""
    rows = rows_of(path)
    if not rows:
        raise SystemExit(f"{path}: there are no rows in it")
    heads = [cell.casefold() for cell in rows[0]] if has_heading(rows[0], names, header) else None
    at = {}
    for field, all_names in names.items():
        found = [heads.index(name) for name in all_names if name in heads] if heads else []
        if found and found[0] not in at.values():
            at[field] = found[0]
    free = [i for i in range(len(rows[0])) if i not in at.values()]
    if not heads and "grade" in names and len(rows[0]) == 4:
        free.remove(1)  # query, iteration, document, grade, as evaluation programs write it
    for field in names:
        if field not in at and free and not (field == "typed" and heads and len(at) == len(names) - 1):
            at[field] = free.pop(0)
    return [{field: row[i] if i < len(row) else "" for field, i in at.items()} for row in rows[1 if heads else 0:]]


class Collection:
    """`parts`: a title each. `asked`: the queries for which something is worth something."""

    def __init__(self, titles, queries, judgments, typed=None, part_type="article", header=None, labels=None):
        self.remarks, self.part_type = [], part_type
        self.take_titles(table(titles, TITLE, header))
        grades = self.take_grades(table(judgments, JUDGMENT, header), labels or {})
        typed_of = {row["query_id"]: row.get("query", "") for row in table(typed, QUERY, header)} if typed else {}
        self.take_queries(table(queries, QUERY, header), typed_of, grades)

    def remark(self, count, words):
        if count:
            self.remarks.append(f"{count} {words}")

    def take_titles(self, rows):
        """A running number stands for the id, so that no query is taken for a part number."""
        self.parts, self.key_of_id, twice, empty = [], {}, 0, 0
        for row in rows:
            title = " ".join(row.get("title", "").split())
            twice += row["id"] in self.key_of_id
            empty += not title
            if title and row["id"] not in self.key_of_id:
                part = Part("QJX", code(len(self.parts)), self.part_type, title)
                self.parts.append(part)
                self.key_of_id[row["id"]] = part.key
        self.remark(twice, "titles have an id that came before; the first one counts")
        self.remark(empty, "titles are empty")

    def take_grades(self, rows, labels):
        """{query: {key: grade}}; of several grades for one pair the highest."""
        grades, strange, unknown = defaultdict(dict), 0, 0
        for row in rows:
            text = labels.get(row.get("grade", ""), row.get("grade", ""))
            key = self.key_of_id.get(row.get("id"))
            strange += not is_number(text)
            unknown += key is None
            if key and is_number(text) and float(text) > 0:
                grades[row["query_id"]][key] = max(float(text), grades[row["query_id"]].get(key, 0.0))
        self.remark(strange, "judgments have a grade that is no number")
        self.remark(unknown, "judgments are of titles that are not there")
        return grades

    def take_queries(self, rows, typed_of, grades):
        self.asked, empty = [], 0
        for row in rows:
            clean = row.get("query", "").split()
            typed = (typed_of.get(row["query_id"]) or row.get("typed") or "").split()
            empty += not clean
            if clean and grades.get(row["query_id"]):
                self.asked.append(Asked(row["query_id"], clean, typed or None, grades[row["query_id"]]))
        self.remark(empty, "queries are empty")
        self.remark(len(rows) - empty - len(self.asked), "queries have nothing that is worth anything to them, and are left out")
