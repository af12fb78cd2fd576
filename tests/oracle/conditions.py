"""Conditions and platforms: formats.md section 2. Truth is "true", "unknown" or "false"."""

import calendar
import re
from datetime import date

CLAUSE = re.compile(r"^\s*([^\s<>=!]+)\s*(!=|<=|>=|=|<|>)\s*(.*?)\s*$")


def both(truths):
    """Kleene conjunction: a false makes all false, otherwise any unknown makes it unknown."""
    truths = list(truths)
    if "false" in truths:
        return "false"
    return "unknown" if "unknown" in truths else "true"


def span(text):
    """First and last day of `YYYY`, `YYYY-MM` or `YYYY-MM-DD`; None if it is no date."""
    if not re.match(r"^\d{4}(-\d\d){0,2}$", text):
        return None
    parts = [int(piece) for piece in text.split("-")]
    first = date(parts[0], parts[1] if len(parts) > 1 else 1, parts[2] if len(parts) > 2 else 1)
    month = first.month if len(parts) > 1 else 12
    day = first.day if len(parts) > 2 else calendar.monthrange(first.year, month)[1]
    return first, date(first.year, month, day)


def within(inner, low, high):
    """Interval in interval: wholly inside is true, disjoint false, overlap unknown."""
    if inner[1] < low or inner[0] > high:
        return "false"
    return "true" if low <= inner[0] and inner[1] <= high else "unknown"


def opposite(truth):
    """Kleene negation."""
    return {"true": "false", "false": "true"}.get(truth, "unknown")


def anyof(truths):
    """Kleene disjunction."""
    return opposite(both(opposite(truth) for truth in truths))


def compare_dates(built, sign, words):
    """`built` as an interval against dates, which are intervals themselves."""
    day, spans = date, [span(word) for word in words]
    low, high = spans[0]
    if sign in ("=", "!="):
        # Adjacent alternatives are one range; days are few enough to look at each.
        days = [day.fromordinal(n) for n in range(built[0].toordinal(), built[1].toordinal() + 1)]
        hits = [any(a <= d <= b for a, b in spans) for d in days]
        found = "true" if all(hits) else "unknown" if any(hits) else "false"
        return found if sign == "=" else opposite(found)
    if sign in ("<", ">="):
        found = within(built, low, day.max)
        return found if sign == ">=" else opposite(found)
    found = within(built, day.min, high)
    return found if sign == "<=" else opposite(found)


def number(text):
    """A number, or None."""
    try:
        return float(text)
    except ValueError:
        return None


def compare_words(value, sign, words):
    """A stated fact against words (without case) or a number."""
    if sign in ("=", "!="):
        same = any(value.lower() == word.lower() or
                   (number(value) is not None and number(value) == number(word)) for word in words)
        return "true" if same == (sign == "=") else "false"
    have, limit = number(value), number(words[0])
    if have is None or limit is None:
        return "unknown"
    held = {"<": have < limit, "<=": have <= limit, ">": have > limit, ">=": have >= limit}
    return "true" if held[sign] else "false"


def clause(text, vehicle):
    """(truth, key) of one clause."""
    key, sign, rest = CLAUSE.match(text).groups()
    key, words = key.lower(), [word.strip() for word in rest.split("|")]
    facts = {name.lower(): str(value) for name, value in vehicle.get("facts", {}).items()}
    built = vehicle.get("built")
    if key == "built":
        return (compare_dates(span(built), sign, words) if built else "unknown"), key
    if key == "year" and key not in facts and built:
        facts["year"] = built[:4]
    return (compare_words(facts[key], sign, words) if key in facts else "unknown"), key


def condition(text, vehicle):
    """(truth, facts unknown in it) of a `when` cell; empty is true."""
    found = [clause(piece, vehicle) for piece in (text or "").split(";") if piece.strip()]
    truth = both(t for t, _ in found)
    return truth, {key for t, key in found if t == "unknown"} if truth == "unknown" else set()


def built_range(low, high, vehicle):
    """Truth of built_from/built_to, inclusive; an empty bound is open."""
    if not low and not high:
        return "true"
    if not vehicle.get("built"):
        return "unknown"
    first = span(low)[0] if low else date.min
    last = span(high)[1] if high else date.max
    return within(span(vehicle["built"]), first, last)


def platform_row(row, vehicle):
    """(truth, unknown facts) of one row of platforms."""
    for key in ("make", "model"):
        if row[key].lower() != vehicle[key].lower():
            return "false", set()
    ranged = built_range(row.get("built_from", ""), row.get("built_to", ""), vehicle)
    truth, facts = condition(row.get("when", ""), vehicle)
    if ranged == "unknown":
        facts = facts | {"built"}
    whole = both([ranged, truth])
    return whole, facts if whole == "unknown" else set()


def choose_platform(rows, vehicle):
    """(platform, truth, unknown facts): the single true one, else the single unknown one."""
    found = [(row["platform"], *platform_row(row, vehicle)) for row in rows]
    for wanted in ("true", "unknown"):
        names = {name for name, truth, _ in found if truth == wanted}
        facts = set().union(*(f for _, truth, f in found if truth == wanted))
        if len(names) == 1:
            return names.pop(), wanted, facts
        if names:
            raise ValueError(f"several platforms {sorted(names)}, deciding facts {sorted(facts)}")
    raise ValueError("no platform for the vehicle")
