"""Canonical form of a spec and of a quantity: formats.md section 1, last paragraphs."""

import re
from fractions import Fraction

# ISO 261/262, preferred coarse pitches (outside-checks.md, "Threads").
COARSE = {3: ".5", 4: ".7", 5: ".8", 6: "1", 8: "1.25", 10: "1.5", 12: "1.75",
          14: "2", 16: "2", 20: "2.5", 24: "3", 30: "3.5"}

# AS568 inside diameter and section in mm (outside-checks.md, "O-rings").
AS568 = {"010": ("6.07", "1.78"), "012": ("9.25", "1.78"), "014": ("12.42", "1.78"),
         "016": ("15.60", "1.78"), "018": ("18.77", "1.78"), "020": ("21.95", "1.78"),
         "110": ("9.19", "2.62"), "112": ("12.37", "2.62"), "115": ("17.12", "2.62"),
         "120": ("25.07", "2.62"), "210": ("18.64", "3.53"), "214": ("24.99", "3.53"),
         "218": ("31.34", "3.53"), "222": ("37.69", "3.53"), "325": ("37.47", "5.33")}

NUMBER = r"(\d+(?:\.\d+)?|\.\d+)"
THREAD = re.compile(rf"^M{NUMBER}(?:X{NUMBER})?(?:X{NUMBER})?(?![\dX.])(.*)$")
BELT = re.compile(rf"^{NUMBER}PK{NUMBER}$")
RING = re.compile(rf"^{NUMBER}X{NUMBER}(?![\dX.])(.*)$")
DASH = re.compile(r"^AS568A?-?(\d{3})(?!\d)(.*)$")

# Unit -> (base unit, factor). Base units are those of section 1: L, g, mm, each.
UNITS = {"each": ("each", "1"), "": ("each", "1"), "l": ("L", "1"), "ml": ("L", ".001"),
         "cl": ("L", ".01"), "dl": ("L", ".1"), "gal": ("L", "3.785411784"),
         "qt": ("L", ".946352946"), "g": ("g", "1"), "kg": ("g", "1000"), "mg": ("g", ".001"),
         "mm": ("mm", "1"), "cm": ("mm", "10"), "m": ("mm", "1000"), "in": ("mm", "25.4")}


def folded(text):
    """Text without case and spaces, the multiplication sign as a letter x."""
    return re.sub(r"\s+", "", text.strip()).upper().replace("×", "X")


def split_grade(text):
    """Cut a thread designation at its first space that is no part of `a x b`."""
    joined = re.sub(r"\s*[x×X]\s*", "X", text.strip())
    head, _, tail = joined.partition(" ")
    return head.upper(), folded(tail)


def thread(text):
    """('thread', diameter, pitch, length, grade); coarse pitch when left out."""
    head, grade = split_grade(text)
    found = THREAD.match(head)
    if not found:
        return None
    diameter, second, third, rest = found.groups()
    coarse = COARSE.get(float(diameter))
    if second and not third and (coarse is None or Fraction(second) > Fraction(coarse)):
        second, third = None, second
    pitch = second or coarse
    return ("thread", Fraction(diameter), Fraction(pitch) if pitch else None,
            Fraction(third) if third else None, rest.strip("-") + grade)


def belt(text):
    """('belt', ribs, length) of a PK designation."""
    found = BELT.match(folded(text))
    return found and ("belt", Fraction(found[1]), Fraction(found[2]))


def ring(text):
    """('ring', inside diameter, section, rest), from measures or an AS568 number."""
    whole = folded(text)
    dash = DASH.match(whole)
    if dash and dash[1] in AS568:
        return ("ring", *map(Fraction, AS568[dash[1]]), dash[2])
    found = RING.match(whole)
    return found and ("ring", Fraction(found[1]), Fraction(found[2]), found[3])


def canonical(text):
    """What two specs must agree in to be equal; '' for an empty spec."""
    if not text or not text.strip():
        return ""
    return thread(text) or belt(text) or ring(text) or ("text", folded(text))


def amount(cell, unit=""):
    """(quantity, base unit) of a cell such as `2.5`, or `50 ml`; the cell's own unit wins."""
    found = re.match(r"^\s*(-?[\d.]+)\s*(.*?)\s*$", str(cell))
    name = (found[2] or unit or "").strip().lower()
    base, factor = UNITS.get(name, (name, "1"))
    return Fraction(found[1]) * Fraction(factor), base
