"""What our CSV reader is to give, as decisions upon what Python's csv.reader gives. README.md has them in words.

Python judges every record (strict, newline=''); a rule either prepares the text for it or says what becomes of
its answer, and is counted when it made a difference. Nothing here was written from the C code's way of working.
"""
import csv
import io
import re

MIB = 1 << 20
CELLS_MAX = 1024
BLANKS = " \t\r\n"
csv.field_size_limit(1 << 30)

UNCLOSED = "a quote is opened in this line and not closed"
AFTER = "text follows a closing quote (a quote within a quoted cell is written twice)"
LONG = "the line is longer than 1 MiB"
NUL = "a NUL byte; this is no text"
NOT_UTF8 = "the bytes are not UTF-8"

# Rules that change where a record ends, or whether Python goes on after it.
FRAMING = {"blanks-around-quotes", "text-after-quote", "unclosed-quote", "distrusted-line", "too-long"}

LINE = re.compile(r"[^\r\n]*(?:\r\n|\r|\n)|[^\r\n]+")
BODY = re.compile(r'[^"]*(?:""[^"]*)*')


def detect(text):
    """The separator that the first line has most of, outside quotes; the earlier of `,` `;` tab `|` in a tie. Behind
    text that follows a closing quote no other opens: such a row is refused whole."""
    text = text.lstrip(" \r\n")
    counts = dict.fromkeys(",;\t|", 0)
    pos, start = 0, True
    while pos < len(text) and text[pos] not in "\r\n":
        if start and text[pos] == '"':
            pos = BODY.match(text, pos + 1).end() + 1
            start = False
            after = text[pos:].lstrip(" ")[:1]
            if after and after not in ",;\t|\r\n":
                rest = LINE.match(text, pos).group()
                for sep in counts:
                    counts[sep] += rest.count(sep)
                break
            continue
        if text[pos] in counts:
            counts[text[pos]] += 1
            start = True
        elif text[pos] != " ":
            start = False
        pos += 1
    return max(counts, key=counts.get)  # the first of equals


def python_reads(text, sep):
    """The records, and the words of the exception that stopped it or None."""
    records = []
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=sep, strict=True)
    try:
        for record in reader:
            records.append((record, reader.line_num))
    except csv.Error as error:
        return records, str(error), reader.line_num
    return records, None, reader.line_num


class Walk:
    """One record from `pos`: its cells' places, and the text without blanks around quotes (the rule of that name)."""

    def __init__(self, text, pos, end, sep):
        blank = "[ ]" if sep == "\t" else "[ \t]"
        opens, blanks = re.compile(blank + '*"'), re.compile(blank + "*")
        plain = re.compile("[^" + re.escape(sep) + "\r\n]*")
        self.starts, prepared = [], []
        while True:
            self.starts.append(pos)
            found = opens.match(text, pos, end)
            if found:
                body = BODY.match(text, found.end(), end)
                prepared += ['"', body.group()]
                pos = body.end()
                if pos < end:  # the closing quote
                    prepared.append('"')
                    after = blanks.match(text, pos + 1, end).end()
                    if after < end and text[after] not in sep + "\r\n":
                        line = LINE.match(text, pos + 1, end)
                        prepared.append(line.group())
                        self.end = line.end()
                        break
                    pos = after
            else:
                cell = plain.match(text, pos, end)
                prepared.append(cell.group())
                pos = cell.end()
            if pos < end and text[pos] == sep:
                prepared.append(sep)
                pos += 1
                continue
            if pos < end:
                line_end = LINE.match(text, pos, end)
                prepared.append(line_end.group())
                pos = line_end.end()
            self.end = pos
            break
        self.prepared = "".join(prepared)

    def column(self, offset):
        """The 1-based cell that the offset is in."""
        return sum(start <= offset for start in self.starts)


class Expected:
    """What is expected of one file: .records, and .counts by rule."""

    def __init__(self, data, sep, expect):
        self.counts, self.records, self.steps = {}, [], []
        self.expect = 0 if expect else None
        text = data.decode("latin-1")
        if data.startswith(b"\xef\xbb\xbf"):
            self.count("byte-order-mark")
            text = text[3:]
        self.text = text
        self.sep = sep or detect(text)
        self.lines = [0] + [found.end() for found in LINE.finditer(text)]
        self.distrust = 0  # lines before this index, 0-based, end their records
        self.line = 0
        while self.line < len(self.lines) - 1:
            self.step()

    def count(self, rule):
        self.counts[rule] = self.counts.get(rule, 0) + 1
        self.fired.add(rule) if hasattr(self, "fired") else None

    def refuse(self, fault, column):
        self.records.append({"line": self.line + 1, "fault": fault, "column": column})

    def step(self):
        self.fired = set()
        answer, taken = self.judge()
        self.steps.append((answer, self.line + taken, self.fired))
        if not self.fired:
            self.count("the-same")
        self.line += taken

    def line_of(self, offset):
        line = self.line
        while self.lines[line + 1] <= offset:
            line += 1
        return line

    def judge(self):
        """(Python's answer or None, physical lines that are done with)"""
        start, first_end = self.lines[self.line], self.lines[self.line + 1]
        first = self.text[start:first_end].rstrip("\r\n")
        if len(first) > MIB:
            self.count("too-long")
            self.refuse(LONG, 0)
            return None, 1
        single = self.line < self.distrust
        walk = Walk(self.text, start, first_end if single else len(self.text), self.sep)
        if walk.prepared != self.text[start:walk.end]:
            self.count("blanks-around-quotes")
        answers, trouble, last = python_reads(walk.prepared, self.sep)
        if trouble and trouble.endswith("""expected after '"'"""):
            return None, self.text_after(walk, last)
        if trouble == "unexpected end of data":
            return None, self.unclosed(walk, last, single)
        assert trouble is None and len(answers) == 1, (trouble, answers)
        raw = self.text[start:walk.end].rstrip("\r\n") if last == 1 else re.sub("(\r\n|\r|\n)$", "", self.text[start:walk.end])
        if len(raw) > MIB:
            return None, self.cut(walk, min(self.line + last, self.line_of(start + MIB + 1)), "too-long")
        self.accept(walk, raw, answers[0][0], last)
        return answers[0][0], last

    def text_after(self, walk, last):
        """Python stops the file; we refuse the row, or the first of several lines."""
        if last == 1:
            self.count("text-after-quote")
            # Python stops where the text begins; the cell that it is in is the last that was begun.
            self.refuse(AFTER, len(walk.starts))
            return 1
        return self.cut(walk, self.line + last - 1, "text-after-quote")

    def unclosed(self, walk, last, single):
        """Python takes the rest of the file; we refuse the first line."""
        return self.cut(walk, self.line + 1 if single else len(self.lines) - 1, "distrusted-line" if single else "unclosed-quote")

    def cut(self, walk, until, rule):
        """Refuses the first line; the lines before `until` may not open a quote that runs on."""
        start = self.lines[self.line]
        if walk.end - start > MIB and self.line_of(min(start + MIB + 1, walk.end - 1)) < until:
            until = self.line_of(start + MIB + 1)
        self.count(rule)
        first_end = start + len(self.text[start:self.lines[self.line + 1]].rstrip("\r\n"))
        self.refuse(UNCLOSED, walk.column(first_end))
        self.distrust = max(self.distrust, until)
        return 1

    def accept(self, walk, raw, answer, lines):
        fault, at = bad_bytes(raw)
        if fault:
            self.count("nul" if fault == NUL else "not-utf-8")
            self.refuse(fault, walk.column(self.lines[self.line] + at))
            return
        if not raw.strip(" \t"):
            self.count("blank-line")
            return
        cells = [cell.strip(BLANKS) for cell in answer]
        if cells != answer:
            self.count("blanks-at-both-ends")
        words = self.miscounted(cells, lines)
        if words:
            self.count("other-number-of-cells")
            self.refuse(words, 0)
            return
        if len(cells) > CELLS_MAX:
            self.count("cells-beyond-1024")
        if self.expect == 0:
            self.expect = min(len(cells), CELLS_MAX)
        cells = [cell.encode("latin-1").decode() for cell in cells[:CELLS_MAX]]
        self.records.append({"line": self.line + 1, "cells": cells})

    def miscounted(self, cells, lines):
        if not self.expect or (len(cells) >= self.expect and not any(cells[self.expect:])):
            return None
        words = f"the row has {len(cells)} cell{'s' * (len(cells) != 1)}, the heading {self.expect}"
        return words + (f"; it runs over {lines} lines, so a quote may be missing" if lines > 1 else "")

    def whole_file(self):
        """Python over the whole file: the same records up to the first rule of framing. Returns a difference or None,
        and whether Python stopped with an exception."""
        records, trouble, _ = python_reads(self.text, self.sep)
        for i, (answer, line, fired) in enumerate(self.steps):
            if fired & FRAMING:
                return None, trouble
            if i >= len(records):
                return f"Python stops at record {i + 1}: {trouble}", trouble
            if records[i] != (answer, line):
                return f"record {i + 1} alone: {answer} to line {line}; within the file: {records[i]}", trouble
        return (None if len(records) == len(self.steps) and not trouble else "Python has more"), trouble


def bad_bytes(raw):
    if "\0" in raw:
        return NUL, raw.index("\0")
    try:
        raw.encode("latin-1").decode()
    except UnicodeDecodeError as error:
        return NOT_UTF8, error.start
    return None, 0
