"""Who is asked: the program, and SQLite's own full-text search over the same parts. Both answer with keys of parts, best
first."""
import json
import os
import re
import sqlite3
import subprocess
import tempfile
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

from parts import fold
from spoil import key_of

DAY = "1790000000"  # on which offers are live
SECONDS = 60
WORKERS = 2


class Program:
    """An index of its own; `refused` rows did not get into it; `troubles` are the answers that were none."""

    def __init__(self, program, files, folder):
        self.program, self.troubles, self.known = str(Path(program).resolve()), [], {}
        self.index = Path(tempfile.mkdtemp(dir=folder)) / "index.db"
        self.environment = dict(os.environ, SOURCE_DATE_EPOCH=DAY, LC_ALL="C.UTF-8", LASTBOLT_DB=str(self.index))
        done = self.run("import", "--json", "--quiet", "--encoding", "UTF-8", *map(str, files), seconds=3600)
        if done.returncode not in (0, 3):
            raise SystemExit(f"import ended with {done.returncode}: {done.stderr.decode(errors='replace')[:2000]}")
        self.refused = sum(file["rejected"] for file in json.loads(done.stdout)["files"])

    def run(self, *words, seconds=SECONDS):
        return subprocess.run([self.program, *words], env=self.environment, capture_output=True, timeout=seconds,
                              stdin=subprocess.DEVNULL)

    def read(self, words):
        """Words that begin with a dash are no options here. Exit status 1 may mean that nothing was found. Punctuation alone
        is not asked: it is refused, and rightly."""
        if not re.search(r"[^\W_]", " ".join(words)):
            return []
        try:
            done = self.run("find", "--limit", "10", "--json", "--", *filter(None, words))
            if done.returncode not in (0, 1):
                raise ValueError(f"status {done.returncode}: {done.stderr.decode(errors='replace').strip()[:200]}")
            return [(hit["brand"].casefold(), key_of(hit["part_number"])) for hit in json.loads(done.stdout)["hits"]]
        except (ValueError, KeyError, TypeError, AttributeError, OSError, subprocess.SubprocessError) as trouble:
            self.troubles.append(f"{' '.join(words)[:100]}: {type(trouble).__name__} {str(trouble)[:300]}")
            return []

    def ask_all(self, queries):
        """A list of hits for each; what is asked twice is asked once."""
        new = [words for words in dict.fromkeys(map(tuple, queries)) if words not in self.known]
        with ThreadPoolExecutor(WORKERS) as pool:
            self.known.update(zip(new, pool.map(self.read, new)))
        return [self.known[tuple(query)] for query in queries]


class FullText:
    """FTS5, porter stems, bm25 as it comes. `joined` is OR or AND."""

    def __init__(self, parts):
        self.store = sqlite3.connect(":memory:")
        self.store.execute("CREATE VIRTUAL TABLE title USING fts5(brand, number, part_type, description, spec,"
                           " tokenize='porter unicode61')")
        self.keys = [part.key for part in parts]
        self.store.executemany("INSERT INTO title(rowid, brand, number, part_type, description, spec)"
                               " VALUES (?, ?, ?, ?, ?, ?)", ((i, *part) for i, part in enumerate(parts)))

    def ask(self, words, joined):
        terms = dict.fromkeys(re.findall(r"[^\W_]+", fold(" ".join(words))))
        if not terms:
            return []
        asked = f" {joined} ".join(f'"{term}"' for term in terms)
        rows = self.store.execute("SELECT rowid FROM title WHERE title MATCH ? ORDER BY rank LIMIT 10", (asked,))
        return [self.keys[row] for row, in rows]

    def ask_all(self, queries, joined):
        return [self.ask(query, joined) for query in queries]
