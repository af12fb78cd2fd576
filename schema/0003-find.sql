-- What find goes by, beyond the lookup: the owner's own synonyms (rows of a file like any other); and derived,
-- made anew with the lookup: the words of all titles with how many titles have each, the same words packed by
-- length for repairing what is misspelt, and what fits each vehicle of the garage.
CREATE TABLE synonyms (id INTEGER PRIMARY KEY, term TEXT NOT NULL, means TEXT NOT NULL, note TEXT);
CREATE TABLE word (word TEXT PRIMARY KEY, titles INTEGER NOT NULL) WITHOUT ROWID;
CREATE TABLE spelling (id INTEGER PRIMARY KEY, length INTEGER NOT NULL, words BLOB NOT NULL);
CREATE INDEX spelling_length ON spelling(length);
CREATE TABLE fitting (
    vehicle INTEGER PRIMARY KEY REFERENCES vehicle(id) ON DELETE CASCADE,
    stamp TEXT NOT NULL,   -- of the index and the vehicle that it was made from
    parts BLOB NOT NULL);
ALTER TABLE state ADD COLUMN titles INTEGER NOT NULL DEFAULT 0;       -- rows of parts that have one, stale ones too
ALTER TABLE state ADD COLUMN title_words INTEGER NOT NULL DEFAULT 0;  -- their lengths in all
