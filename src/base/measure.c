#include "base/measure.h"

#include "base/ascii.h"
#include "base/decimal.h"

#include <string.h>

/* Exact, from NIST SP 811 (2008), B.8: 1 in = 25.4 mm, 1 lb = 0.45359237 kg, g_n = 9.80665 m/s², 1 US gal =
 * 231 in³, 1 imp gal = 4.54609 L. */
#define GAL       473176473, 125000000
#define IMP_GAL   454609, 100000
#define QT        473176473, 500000000
#define IMP_QT    454609, 400000
#define PT        473176473, 1000000000
#define IMP_PT    454609, 800000
#define FL_OZ     473176473, 16000000000
#define IMP_FL_OZ 454609, 16000000
#define LBF_FT    3389544870828501, 2500000000000000
#define LBF_IN    1129848290276167, 10000000000000000
#define OZF_IN    1129848290276167, 160000000000000000
#define KGF_M     196133, 20000
#define KGF_CM    196133, 2000000
#define MILE      25146, 15625

/* Words as make_key leaves them; in capitals the codes of UN/CEFACT Recommendation 20, Annex I. Of two
 * entries with one word the first is its meaning where no dimension is hinted at. M92 is lbf·ft; F17, which
 * looks like it, is lbf/ft and stays unknown. */
static const struct entry {
    const char *words; /* separated by blanks */
    struct lb_unit unit;
} entries[] = {
    {"each ea pc pcs piece pieces unit units H87 C62", {LB_COUNT, 1, 1, 0}},

    {"l litre litres liter liters ltr LTR DMQ", {LB_VOLUME, 1, 1, 0}},
    {"ml millilitre millilitres milliliter milliliters cc cm3 MLT CMQ", {LB_VOLUME, 1, 1000, 0}},
    {"cl centilitre centiliter CLT", {LB_VOLUME, 1, 100, 0}},
    {"dl decilitre deciliter DLT", {LB_VOLUME, 1, 10, 0}},
    {"gal gals gallon gallons usgal usgallon usgallons GLL", {LB_VOLUME, GAL, 0}},
    {"impgal ukgal impgallon impgallons imperialgallon imperialgallons GLI", {LB_VOLUME, IMP_GAL, 0}},
    {"qt qts quart quarts usqt usquart usquarts QTL", {LB_VOLUME, QT, 0}},
    {"impqt ukqt impquart imperialquart QTI", {LB_VOLUME, IMP_QT, 0}},
    {"pt pts pint pints uspt uspint uspints PTL", {LB_VOLUME, PT, 0}},
    {"imppt ukpt imppint imperialpint PTI", {LB_VOLUME, IMP_PT, 0}},
    {"floz usfloz fluidounce fluidounces OZA", {LB_VOLUME, FL_OZ, 0}},
    {"impfloz ukfloz OZI", {LB_VOLUME, IMP_FL_OZ, 0}},

    {"g gram grams gramme grammes GRM", {LB_MASS, 1, 1, 0}},
    {"kg kilo kilos kilogram kilograms KGM", {LB_MASS, 1000, 1, 0}},
    {"mg milligram milligrams MGM", {LB_MASS, 1, 1000, 0}},
    {"oz ounce ounces ONZ", {LB_MASS, 45359237, 1600000, 0}},
    {"oz ounce ounces", {LB_VOLUME, FL_OZ, 0}}, /* where a volume is wanted */
    {"lb lbs lbm pound pounds LBR", {LB_MASS, 45359237, 100000, 0}},

    {"mm millimetre millimetres millimeter millimeters MMT", {LB_LENGTH, 1, 1, 0}},
    {"cm centimetre centimetres centimeter centimeters CMT", {LB_LENGTH, 10, 1, 0}},
    {"dm DMT", {LB_LENGTH, 100, 1, 0}},
    {"m metre metres meter meters MTR", {LB_LENGTH, 1000, 1, 0}},
    {"in inch inches \" '' ” INH", {LB_LENGTH, 127, 5, 0}},
    {"ft foot feet ' FOT", {LB_LENGTH, 1524, 5, 0}},
    {"yd yard yards YRD", {LB_LENGTH, 4572, 5, 0}},

    {"nm newtonmetre newtonmetres newtonmeter newtonmeters NU", {LB_TORQUE, 1, 1, 0}},
    {"ncm F88 cnm J72", {LB_TORQUE, 1, 100, 0}},
    {"nmm", {LB_TORQUE, 1, 1000, 0}},
    {"dnm DN", {LB_TORQUE, 1, 10, 0}},
    {"danm", {LB_TORQUE, 10, 1, 0}},
    {"knm", {LB_TORQUE, 1000, 1, 0}},
    {"lbfft ftlbf lbft ftlb lbsft ftlbs footpound footpounds poundfoot poundfeet M92",
     {LB_TORQUE, LBF_FT, 0}},
    {"lbfin inlbf lbin inlb lbsin inlbs inchpound inchpounds poundinch poundinches F21",
     {LB_TORQUE, LBF_IN, 0}},
    {"ozfin inozf ozin inoz L41", {LB_TORQUE, OZF_IN, 0}},
    {"kgfm kgm mkg mkgf kpm mkp B38", {LB_TORQUE, KGF_M, 0}},
    {"kgfcm kgcm cmkg cmkgf kpcm cmkp", {LB_TORQUE, KGF_CM, 0}},

    {"°c c degc celsius CEL", {LB_TEMPERATURE, 1, 1, 0}},
    {"°f f degf fahrenheit FAH", {LB_TEMPERATURE, 5, 9, -32000000}},
    {"k kelvin KEL", {LB_TEMPERATURE, 1, 1, -273150000}},

    {"km kms kilometre kilometres kilometer kilometers KMT", {LB_DISTANCE, 1, 1, 0}},
    {"mi mile miles SMI", {LB_DISTANCE, MILE, 0}},
    /* `50k` and `60k mi` beside a distance are thousands; common practice, no source */
    {"k kkm", {LB_DISTANCE, 1000, 1, 0}},
    {"kmi kmile kmiles", {LB_DISTANCE, 25146000, 15625, 0}},

    {"% percent pct P1", {LB_SHARE, 1, 1, 0}},
    {"° deg degree degrees DD", {LB_ANGLE, 1, 1, 0}},
};

#define KEY_ROOM 32 /* longer than any word above; what does not fit is no unit */

/* What people write for the same thing. Empty: left out, so that `lbf.ft`, `lbf·ft`, `LBF-FT` and `lbf ft`
 * are one word. */
static const struct {
    const char *written, *meant;
} spellings[] = {
    {" ", ""},        {"\t", ""},      {".", ""},       {"-", ""},       {"*", ""},        {"\u00A0", ""},
    {"\u202F", ""},   {"\u00B7", ""},  {"\u22C5", ""},  {"\u2219", ""},  {"\u2022", ""},   {"\u00D7", ""},
    {"\u2010", ""},   {"\u2011", ""},  {"\u2013", ""},  {"\u00BA", "°"}, {"\u02DA", "°"},  {"\u2103", "°c"},
    {"\u2109", "°f"}, {"\u212A", "k"}, {"\u2113", "l"}, {"\u2032", "'"}, {"\u2033", "\""}, {"\u201D", "\""},
    {"\u2019", "'"},  {"\u00B3", "3"},
};

/* Takes one character of *name in its usual spelling; ASCII in lower case. */
static const char *respell(const char **name, char plain[2])
{
    for (size_t i = 0; i < sizeof spellings / sizeof *spellings; i++) {
        size_t length = strlen(spellings[i].written);
        if (!strncmp(*name, spellings[i].written, length)) {
            *name += length;
            return spellings[i].meant;
        }
    }
    plain[0] = lb_ascii_lower(*(*name)++);
    plain[1] = '\0';
    return plain;
}

/* No memory is asked for: looking up a unit cannot fail. */
static bool make_key(char key[KEY_ROOM], const char *name)
{
    size_t used = 0;
    while (*name) {
        char plain[2];
        const char *next = respell(&name, plain);
        size_t length = strlen(next);
        if (used + length >= KEY_ROOM)
            return false;
        memcpy(key + used, next, length);
        used += length;
    }
    key[used] = '\0';
    return used > 0;
}

static bool has_word(const char *words, const char *key)
{
    for (;;) {
        size_t i = 0;
        while (key[i] && lb_ascii_lower(words[i]) == key[i])
            i++;
        if (!key[i] && (!words[i] || words[i] == ' '))
            return true;
        words = strchr(words, ' ');
        if (!words)
            return false;
        words++;
    }
}

struct lb_unit lb_unit_find(const char *name, enum lb_dimension hint)
{
    struct lb_unit found = {LB_OTHER_UNIT, 1, 1, 0};
    char key[KEY_ROOM];
    if (!name[strspn(name, " \t")] || strcmp(name, "each") == 0) /* most of what is offered: no search */
        return (struct lb_unit){LB_COUNT, 1, 1, 0};
    if (!make_key(key, name))
        return found;
    for (size_t i = 0; i < sizeof entries / sizeof *entries; i++) {
        if (!has_word(entries[i].words, key))
            continue;
        if (entries[i].unit.dimension == hint)
            return entries[i].unit;
        if (found.dimension == LB_OTHER_UNIT)
            found = entries[i].unit;
    }
    return found;
}

const char *lb_unit_symbol(enum lb_dimension dimension)
{
    static const char *const symbols[] = {
        [LB_COUNT] = "each", [LB_VOLUME] = "L",       [LB_MASS] = "g",      [LB_LENGTH] = "mm",
        [LB_TORQUE] = "N·m", [LB_TEMPERATURE] = "°C", [LB_DISTANCE] = "km", [LB_SHARE] = "%",
        [LB_ANGLE] = "°",    [LB_OTHER_UNIT] = "",
    };
    return symbols[dimension];
}

int64_t lb_unit_to_base(struct lb_unit unit, int64_t value)
{
    int64_t moved;
    if (__builtin_add_overflow(value, unit.offset, &moved))
        moved = value < 0 ? -INT64_MAX : INT64_MAX;
    return lb_decimal_muldiv(moved, unit.factor, unit.divisor);
}

/* Static words for every pair: [wanted][found]. */
#define NOT(wanted)                                                                                          \
    {                                                                                                        \
        "is a count, not " wanted, "is a volume, not " wanted, "is a mass, not " wanted,                     \
            "is a length, not " wanted, "is a torque, not " wanted, "is a temperature, not " wanted,         \
            "is a distance, not " wanted, "is a share in percent, not " wanted, "is an angle, not " wanted,  \
            "has a unit that is not known"                                                                   \
    }

static const char *const mismatch[][LB_OTHER_UNIT + 1] = {
    [LB_COUNT] = NOT("a count"),       [LB_VOLUME] = NOT("a volume"),
    [LB_MASS] = NOT("a mass"),         [LB_LENGTH] = NOT("a length"),
    [LB_TORQUE] = NOT("a torque"),     [LB_TEMPERATURE] = NOT("a temperature"),
    [LB_DISTANCE] = NOT("a distance"), [LB_SHARE] = NOT("a share in percent"),
    [LB_ANGLE] = NOT("an angle"),      [LB_OTHER_UNIT] = NOT("a unit of its own"),
};

/* After a number: more of a number (`1,5`, `1/2`, `1.2.3`, `1.`), so that the cell is no number followed by a
 * unit. */
static bool more_number(const char *rest)
{
    return *rest && strchr(",./:+-0123456789", *rest);
}

const char *lb_measure_parse(const char *cell, enum lb_dimension wanted, int64_t *millionths)
{
    const char *rest;
    int64_t value;
    cell += strspn(cell, " \t");
    if (!lb_decimal_parse_prefix(cell, &value, &rest))
        return lb_decimal_refusal(cell);
    if (more_number(rest))
        return "is not a number";
    struct lb_unit unit = {wanted, 1, 1, 0};
    if (*rest)
        unit = lb_unit_find(rest, wanted);
    if (unit.dimension != wanted)
        return mismatch[wanted][unit.dimension];
    int64_t base = lb_unit_to_base(unit, value);
    if (base == INT64_MAX || base == -INT64_MAX)
        return "is too large a number";
    *millionths = base;
    return NULL;
}

void lb_measure_print(struct lb_buf *out, int64_t millionths, const char *unit)
{
    lb_decimal_print(out, millionths);
    if (strcmp(unit, "each") != 0)
        lb_buf_printf(out, " %s", unit);
}
