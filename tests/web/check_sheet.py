#!/usr/bin/env python3
"""Reads job sheets as a browser would, with nothing but Python: well nested, ids unique and references met, no script,
nothing from outside, each box labelled, headings in order, tables with captions and scope, under 200 KB each.

    check_sheet.py PROGRAM SAMPLE      the sheets of the sample's kits (sheets.sh)
    check_sheet.py --self              this reader against pages that are wrong on purpose
"""
import os
import re
import subprocess
import sys
import tempfile
from html.parser import HTMLParser

VOID = {"area", "base", "br", "col", "embed", "hr", "img", "input", "link", "meta", "source", "track", "wbr"}
LIMIT = 200 * 1000
FOREIGN = {"script", "link", "iframe", "object", "embed", "img", "audio", "video", "source", "base", "form"}
OUTSIDE = {"src", "srcset", "href", "xlink:href", "action", "data", "poster", "background", "formaction"}


class Page(HTMLParser):
    def __init__(self):
        super().__init__(convert_charrefs=True)
        self.faults, self.open, self.ids, self.wanted = [], [], set(), []
        self.boxes, self.labels, self.levels, self.html_attrs = [], set(), [], {}
        self.tables, self.title, self.style = [], "", ""

    def fault(self, words):
        self.faults.append("line %d: %s" % (self.getpos()[0], words))

    def handle_starttag(self, tag, attrs):
        names = [name for name, _ in attrs]
        values = dict(attrs)
        if len(names) != len(set(names)):
            self.fault("an attribute of %s twice" % tag)
        if tag in FOREIGN:
            self.fault("<%s>" % tag)
        for name, value in attrs:
            if name.startswith("on"):
                self.fault("script in %s" % name)
            if name in OUTSIDE and not (value or "").startswith("#"):
                self.fault("%s points outside: %s" % (name, value))
            if name == "style" and "url(" in (value or ""):
                self.fault("a style points outside")
        if "id" in values:
            if values["id"] in self.ids:
                self.fault("id %s twice" % values["id"])
            self.ids.add(values["id"])
        for name in ("for", "aria-labelledby", "aria-describedby"):
            self.wanted += (values.get(name) or "").split()
        if (values.get("href") or "").startswith("#"):
            self.wanted.append(values["href"][1:])
        self.note(tag, values)
        if tag not in VOID:
            self.open.append(tag)

    def note(self, tag, values):
        if tag == "html":
            self.html_attrs = values
        if tag == "input":
            self.boxes.append(values.get("id"))
            if values.get("type") != "checkbox":
                self.fault("an input that is no checkbox")
        if tag == "label":
            self.labels.add(values.get("for"))
        if re.fullmatch("h[1-6]", tag):
            self.levels.append(int(tag[1]))
        if tag == "table":
            self.tables.append({"caption": False, "bare": 0})
        if tag == "caption":
            self.tables[-1]["caption"] = True
        if tag == "th" and values.get("scope") not in ("row", "col"):
            self.tables[-1]["bare"] += 1

    def handle_startendtag(self, tag, attrs):
        self.handle_starttag(tag, attrs)
        if tag not in VOID:
            self.open.pop()

    def handle_endtag(self, tag):
        if tag in VOID:
            self.fault("</%s>" % tag)
        elif not self.open or self.open[-1] != tag:
            self.fault("</%s> closes %s" % (tag, self.open[-1:]))
        else:
            self.open.pop()

    def handle_data(self, data):
        if self.open[-1:] == ["title"]:
            self.title += data
        if self.open[-1:] == ["style"]:
            self.style += data
        if self.open[-1:] in (["ul"], ["ol"], ["table"], ["tr"]) and data.strip():
            self.fault("text between items: %s" % data.strip()[:40])

    def finish(self):
        self.close()
        if self.open:
            self.faults.append("left open: %s" % self.open)
        for wanted in self.wanted:
            if wanted not in self.ids:
                self.faults.append("nothing has the id %s" % wanted)
        for box in self.boxes:
            if not box or box not in self.labels:
                self.faults.append("box %s has no label" % box)
        if self.levels[:1] != [1] or self.levels.count(1) != 1:
            self.faults.append("not one h1 at the top")
        for before, after in zip(self.levels, self.levels[1:]):
            if after > before + 1:
                self.faults.append("h%d follows h%d" % (after, before))
        for table in self.tables:
            if not table["caption"] or table["bare"]:
                self.faults.append("a table without caption or scope")
        if not self.html_attrs.get("lang") or not self.title.strip():
            self.faults.append("no language or no title")
        if re.search(r"@import|url\(|expression\(", self.style):
            self.faults.append("the style sheet points outside")
        return self.faults


def faults_of(data):
    found = []
    if len(data) >= LIMIT:
        found.append("%d bytes" % len(data))
    text = data.decode("utf-8")  # strictly
    if not text.startswith("<!DOCTYPE html>\n"):
        found.append("does not begin as HTML 5")
    for c in text:
        if (ord(c) < 32 and c != "\n") or 127 <= ord(c) < 160:
            found.append("control character U+%04X" % ord(c))
    page = Page()
    page.feed(text)
    return found + page.finish()


def self_test():
    good = ('<!DOCTYPE html>\n<html lang="en"><head><title>t</title></head><body><h1>x</h1>'
            '<input type="checkbox" id="a"><label for="a">b</label></body></html>')
    wrong = [("</h1>", ""), ('for="a"', 'for="b"'), ('<h1>x</h1>', '<h2>x</h2>'), ("<h1>", '<h1 onclick="x">'),
             ("</body>", "<script></script></body>"), ("</body>", '<a href="https://x.example/">y</a></body>'),
             ('id="a"', 'id="a" id="b"'), ("x</h1>", "x</h1><p id=a></p>"), ("<title>t</title>", ""), ("</body>", ""),
             (' lang="en"', ""), ("x</h1>", "x\x07</h1>"), ("x</h1>", "x</h1><h3>y</h3>"),
             ("</body>", "<table><tr><th>x</th></tr></table></body>"), ("<!DOCTYPE html>\n", ""),
             ("</body>", "<p>%s</p></body>" % ("x" * LIMIT))]
    assert faults_of(good.encode()) == [], faults_of(good.encode())
    for old, new in wrong:
        assert old in good
        assert faults_of(good.replace(old, new, 1).encode()), "not found: %r" % (new or old)
    print("the reader finds %d of %d faults" % (len(wrong), len(wrong)))


def main():
    self_test()
    if sys.argv[1:] == ["--self"]:
        return 0
    program, sample = sys.argv[1:3]
    bad = 0
    with tempfile.TemporaryDirectory() as folder:
        here = os.path.dirname(os.path.abspath(__file__))
        subprocess.run(["sh", os.path.join(here, "sheets.sh"), program, sample, folder], check=True)
        names = sorted(n for n in os.listdir(folder) if n.endswith(".html"))
        assert len(names) == 10, names
        for name in names:
            with open(os.path.join(folder, name), "rb") as file:
                data = file.read()
            found = faults_of(data)
            bad += len(found)
            print("%s: %d bytes, %d faults" % (name, len(data), len(found)))
            for words in found[:20]:
                print("  " + words)
    return 1 if bad else 0


sys.exit(main())
