"""What hands and habits do to words and to part numbers. Every function takes its random.Random; None: it cannot be done
here."""
import re

VOWELS = "aeiou"
ROWS = ("qwertyuiop", "asdfghjkl", "zxcvbnm")
# Workshop shorthand: what is written out, and how it is written by people in a hurry.
ABBREVIATIONS = {
    "upper": ("UPR", "upr"), "lower": ("LWR", "lwr"), "front": ("FRT", "frt"), "rear": ("RR", "rr"), "left": ("LH", "lh"),
    "right": ("RH", "rh"), "inner": ("INR", "inr"), "outer": ("OTR", "otr"), "radiator": ("RAD", "rad"), "water": ("WTR",),
    "gasket": ("GSKT", "gskt"), "housing": ("HSG", "hsg"), "bearing": ("BRG", "brg"), "bracket": ("BRKT", "brkt"),
    "sensor": ("SNSR", "sens"), "temperature": ("TEMP", "temp"), "thermostat": ("TSTAT", "t/stat"), "filter": ("FLTR",),
    "valve": ("VLV", "vlv"), "clamp": ("CLMP",), "cover": ("CVR", "cvr"), "pulley": ("PLY",), "cable": ("CBL",),
    "tensioner": ("TNSR", "tens"), "clutch": ("CLU",), "timing": ("TMG",), "exhaust": ("EXH", "exh"), "intake": ("INTK",),
    "steering": ("STRG", "strg"), "wheel": ("WHL",), "brake": ("BRK", "brk"), "gearbox": ("GBX", "g/box"),
    "automatic": ("AUTO", "auto"), "manual": ("MAN",), "assembly": ("ASSY", "assy"), "compressor": ("COMP",),
    "conditioning": ("COND",), "crankshaft": ("CRANK", "crank"), "camshaft": ("CAM", "cam"), "alternator": ("ALT", "alt"),
    "cylinder": ("CYL", "cyl"), "reservoir": ("RES",), "suspension": ("SUSP",), "manifold": ("MAN", "mfld"),
    "joint": ("JNT",), "spring": ("SPRG",), "heater": ("HTR", "htr"), "with": ("W/", "w/"), "without": ("W/O", "w/o"),
    "and": ("&",), "adjustable": ("ADJ", "adj"), "voltage": ("VOLT",), "switch": ("SW",),
}
PHRASES = {
    "air conditioning": ("A/C", "ac", "aircon"), "power steering": ("P/S", "PAS"), "air filter": ("A/F",),
    "timing belt": ("t-belt", "T/BELT"), "water pump": ("W/P", "W/PUMP"), "drive shaft": ("driveshaft",),
    "engine mount": ("eng mtg",), "ball joint": ("B/J", "balljoint"), "brake pads": ("pads",),
    "anti-roll bar": ("ARB",), "expansion tank": ("exp tank",), "oil filter": ("O/F",),
}
SPELT_OUT = {short[0]: word for word, short in ABBREVIATIONS.items()
             if short[0].isalpha() and short[0] not in ("MAN", "COMP", "SW")}
SPELT_OUT.update(DRV="drive", LMP="lamp", MTG="mount", RLY="relay", SHFT="shaft", PLG="plug", REINF="reinforced",
                 BLK="black", REMAN="remanufactured")


def letters(word):
    return word.isalpha() and word.isascii()


def neighbours(letter):
    """The keys around it on a QWERTY keyboard."""
    for y, row in enumerate(ROWS):
        x = row.find(letter)
        if x >= 0:
            beside = row[max(0, x - 1):x] + row[x + 1:x + 2]
            above = ROWS[y - 1][x:x + 2] if y else ""
            below = ROWS[y + 1][max(0, x - 1):x + 1] if y + 1 < len(ROWS) else ""
            return beside + above + below
    return ""


def like(model, letter):
    return letter.upper() if model.isupper() else letter


def swap(word, i, rng):
    return word[:i] + word[i + 1] + word[i] + word[i + 2:] if i + 1 < len(word) else word


def drop(word, i, rng):
    return word[:i] + word[i + 1:]


def double(word, i, rng):
    return word[:i + 1] + word[i:]


def slip(word, i, rng):
    near = neighbours(word[i].lower())
    return word[:i] + like(word[i], rng.choice(near)) + word[i + 1:] if near else word


def other_vowel(word, i, rng):
    if word[i].lower() not in VOWELS:
        return word
    return word[:i] + like(word[i], rng.choice(VOWELS.replace(word[i].lower(), ""))) + word[i + 1:]


ERRORS = (swap, drop, double, slip, other_vowel)


def misspell(word, rng):
    """One typing error, each sort as likely; the first letter is hit half as often as any other."""
    error = rng.choice(ERRORS)
    weights = [0.5] + [1.0] * (len(word) - 1)
    for _ in range(50):
        spoilt = error(word, rng.choices(range(len(word)), weights)[0], rng)
        if spoilt.lower() != word.lower():
            return spoilt
    return drop(word, len(word) // 2, rng)


def misspell_one(words, rng, least=5):
    """(the words with an error in one that has `least` letters or more, that word's place)."""
    places = [i for i, word in enumerate(words) if letters(word) and len(word) >= least]
    if not places:
        return None
    at = rng.choice(places)
    return words[:at] + [misspell(words[at], rng)] + words[at + 1:], at


def reorder(words, rng):
    for _ in range(20):
        mixed = rng.sample(words, len(words))
        if [word.lower() for word in mixed] != [word.lower() for word in words]:
            return mixed
    return None


def abbreviate(words, rng):
    """Everything that has a shorthand, phrases first."""
    text, changed = " ".join(words), False
    for phrase, short in PHRASES.items():
        text, count = re.subn(rf"(?i)(?<!\S){phrase}(?!\S)", lambda _: rng.choice(short), text)
        changed |= count > 0
    out = []
    for word in text.split():
        short = ABBREVIATIONS.get(word.lower())
        changed |= short is not None
        out.append(rng.choice(short) if short else word)
    return out if changed else None


def spell_out(words):
    """The other way round, for catalogues that are written in shorthand."""
    out = [SPELT_OUT.get(word, word) for word in words]
    return out if out != words else None


def key_of(number):
    """Letters and digits: what is the same in every writing of a number."""
    return "".join(c for c in number if c.isalnum()).upper()


def without_separators(number, rng):
    """Half of them in small letters, as typed on the phone."""
    bare = "".join(c for c in number if c.isalnum())
    if bare == number:
        return None
    return [bare.lower() if rng.random() < 0.5 else bare]


def with_blanks(number, rng):
    words = re.sub(r"[\W_]+", " ", number).split()
    return words if len(words) > 1 else None


def with_separators(number, rng):
    """One or two separators where the catalogue has none."""
    out = number
    for _ in range(rng.choice((1, 2))):
        places = [i for i in range(2, len(out) - 1) if out[i - 1].isalnum() and out[i].isalnum()]
        if places:
            at = rng.choice(places)
            out = out[:at] + rng.choice("-. /") + out[at:]
    return out.split() if out != number else None


def without_tail(number, rng, count=2):
    """The last characters are illegible."""
    out = number
    for _ in range(count):
        out = out[:-1].rstrip(" -./_+#")
    return out.split() if len(key_of(out)) >= 3 else None


def one_wrong(number, rng):
    """A digit for a digit, a letter for a letter."""
    places = [i for i, c in enumerate(number) if c.isalnum() and c.isascii()]
    at = rng.choice(places)
    others = "0123456789" if number[at].isdigit() else "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
    wrong = rng.choice(others.replace(number[at].upper(), ""))
    return (number[:at] + wrong + number[at + 1:]).split()
