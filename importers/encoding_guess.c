/* UTF-8 is told by its own shape. For the rest uchardet is asked, and believed only where the bytes bear it
 * out: from a handful of accented letters it takes a French price list for Polish, Italian for DOS, Danish
 * for ISO-8859-15. The limits below come from trying it on price lists of 1 to 30 lines made of the word
 * lists of nine languages. */
#include "importers/encoding_guess.h"

#include "importers/lazy_uchardet.h"

#include <iconv.h>
#include <stdio.h>
#include <string.h>
#include <utf8proc.h>

/* How many bytes beyond ASCII must there be before another Latin alphabet than the western one is believed
 * without a sign: below some ten, uchardet errs in up to every second file; here in one of fifty or fewer. */
enum { SURE = 14 };

/* And before another script is believed: two accents side by side are no word of Greek. */
enum { FEW = 6 };

enum need {
    ODD_OR_MANY, /* Latin letters of other countries: signs within words, or many bytes */
    ODD,         /* Latin letters of DOS and Macintosh: signs within words */
    EURO,        /* a sign that Windows has elsewhere */
    LOW_LEADS,   /* Shift_JIS: most of its characters begin below 0xA0 */
    RUNS,        /* other scripts: whole words of bytes beyond ASCII */
};

/* What to make of an answer of uchardet. What is not listed is of another script and taken by its name. */
static const struct {
    const char *told, *used;
    enum need need;
    const char *windows; /* what it is instead when bytes 0x80-0x9F occur, which ISO-8859 has no text in */
} answers[] = {
    {"ISO-8859-15", "ISO-8859-15", EURO, NULL},
    {"ISO-8859-2", "ISO-8859-2", ODD_OR_MANY, "Windows-1250"},
    {"ISO-8859-3", "ISO-8859-3", ODD_OR_MANY, "Windows-1252"},
    {"ISO-8859-4", "ISO-8859-4", ODD_OR_MANY, "Windows-1257"},
    {"ISO-8859-9", "Windows-1254", ODD_OR_MANY, NULL},
    {"ISO-8859-10", "ISO-8859-10", ODD_OR_MANY, "Windows-1252"},
    {"ISO-8859-13", "Windows-1257", ODD_OR_MANY, NULL},
    {"ISO-8859-16", "ISO-8859-16", ODD_OR_MANY, "Windows-1250"},
    {"WINDOWS-1250", "Windows-1250", ODD_OR_MANY, NULL},
    {"WINDOWS-1254", "Windows-1254", ODD_OR_MANY, NULL},
    {"WINDOWS-1257", "Windows-1257", ODD_OR_MANY, NULL},
    {"WINDOWS-1258", "Windows-1258", ODD_OR_MANY, NULL},
    {"VISCII", "VISCII", ODD, NULL},
    {"MAC-CENTRALEUROPE", "MAC-CENTRALEUROPE", ODD, NULL},
    {"IBM852", "IBM852", ODD, NULL},
    {"IBM865", "IBM865", ODD, NULL},
    {"SHIFT_JIS", "Shift_JIS", LOW_LEADS, NULL},
    {"ISO-8859-6", "ISO-8859-6", RUNS, "Windows-1256"},
    {"ISO-8859-7", "ISO-8859-7", RUNS, "Windows-1253"},
    {"ISO-8859-8", "Windows-1255", RUNS, NULL},
    {"WINDOWS-1251", "Windows-1251", RUNS, NULL},
    {"WINDOWS-1253", "Windows-1253", RUNS, NULL},
    {"WINDOWS-1255", "Windows-1255", RUNS, NULL},
    {"WINDOWS-1256", "Windows-1256", RUNS, NULL},
};

/* Not answers: nothing to learn from them here. */
static const char *const western[] = {"", "ASCII", "UTF-8", "ISO-8859-1", "WINDOWS-1252"};

static void set(struct lb_encoding *out, const char *name)
{
    /* What is called Shift_JIS has the makers' characters (circled digits, units) that the standard lacks. */
    bool japanese = strcmp(name, "Shift_JIS") == 0;
    snprintf(out->iconv, sizeof out->iconv, "%s", japanese ? "CP932" : name);
    snprintf(out->shown, sizeof out->shown, "%s", name);
}

static bool starts(const char *head, size_t length, const char *mark, size_t size)
{
    return length >= size && memcmp(head, mark, size) == 0;
}

/* UTF-16 without a mark: every second byte of the headings, which are mostly ASCII, is NUL and hardly any of
 * the others. */
static const char *utf16_by_nuls(const char *head, size_t length)
{
    size_t nuls[2] = {0}, pairs = length / 2;
    for (size_t i = 0; i < 2 * pairs; i++)
        nuls[i % 2] += head[i] == '\0';
    if (nuls[1] >= 4 && nuls[1] > pairs / 4 && nuls[0] <= pairs / 32)
        return "UTF-16LE";
    return nuls[0] >= 4 && nuls[0] > pairs / 4 && nuls[1] <= pairs / 32 ? "UTF-16BE" : NULL;
}

bool lb_encoding_of_start(const char *head, size_t length, struct lb_encoding *out, size_t *mark)
{
    static const struct {
        const char *mark;
        size_t size;
        const char *name;
    } marks[] = {
        {"\xEF\xBB\xBF", 3, "UTF-8"},    {"\xFF\xFE\0\0", 4, "UTF-32LE"}, /* before UTF-16LE, which begins
                                                                             alike */
        {"\0\0\xFE\xFF", 4, "UTF-32BE"}, {"\xFF\xFE", 2, "UTF-16LE"},     {"\xFE\xFF", 2, "UTF-16BE"},
    };
    *mark = 0;
    for (size_t i = 0; i < sizeof marks / sizeof *marks; i++)
        if (starts(head, length, marks[i].mark, marks[i].size)) {
            *mark = marks[i].size;
            set(out, marks[i].name);
            return true;
        }
    const char *name = utf16_by_nuls(head, length);
    if (name)
        set(out, name);
    return name != NULL;
}

/* A file in UTF-8 with a few broken bytes is UTF-8 still: the odd row is refused, where another encoding
 * would garble all the others. Text in any other encoding hardly ever holds a whole sequence of UTF-8. */
static bool is_utf8(const char *bytes, size_t length, bool ends)
{
    size_t good = 0, bad = 0;
    for (size_t at = 0; at < length;) {
        utf8proc_int32_t point;
        utf8proc_ssize_t size = 1;
        if ((unsigned char)bytes[at] & 0x80) {
            size = utf8proc_iterate((const utf8proc_uint8_t *)bytes + at, (utf8proc_ssize_t)(length - at),
                                    &point);
            if (size <= 0 && !ends && length - at < 4)
                break;
            good += size > 0;
            bad += size <= 0;
        }
        at += size > 0 ? (size_t)size : 1;
    }
    return bad == 0 || good > bad;
}

/* What the bytes look like, whatever they mean. */
struct look {
    size_t controls; /* bytes that no text has */
    size_t high;     /* beyond ASCII */
    size_t runs;     /* how many times they begin: as often as they are, in a Latin alphabet */
    size_t low;      /* of them, 0x80-0x9F */
    size_t euros;    /* of them, 0xA4 */
    size_t odd;      /* signs of Windows-1252 between two letters, where a word has none */
};

static bool is_letter(unsigned char c)
{
    return (c | 0x20) >= 'a' && (c | 0x20) <= 'z';
}

/* A sign of Windows-1252 that does not stand within words; an apostrophe, a dash, a soft hyphen and the dot
 * of Catalan do. */
static bool is_sign(unsigned char c)
{
    return c >= 0x80 && c < 0xC0 &&
           !strchr("\x83\x8A\x8C\x8E\x9A\x9C\x9E\x9F\xAA\xB5\xBA\x92\x96\x97\xAD\xB7", c);
}

static struct look look_at(const char *bytes, size_t length)
{
    struct look look = {0};
    unsigned char before = ' ';
    for (size_t i = 0; i < length; i++) {
        unsigned char c = (unsigned char)bytes[i];
        unsigned char after = i + 1 < length ? (unsigned char)bytes[i + 1] : ' ';
        look.controls += (c < '\t' || (c > '\r' && c < ' ' && c != 0x1A && c != 0x1B)) || c == 0x7F;
        look.high += c >= 0x80;
        look.runs += c >= 0x80 && before < 0x80;
        look.low += c >= 0x80 && c < 0xA0;
        look.euros += c == 0xA4;
        look.odd +=
            is_sign(c) && (is_letter(before) || before >= 0xC0) && (is_letter(after) || after >= 0xC0);
        before = c;
    }
    return look;
}

static bool is_met(enum need need, const struct look *look)
{
    switch (need) {
    case ODD_OR_MANY:
        return look->odd > 0 || look->high >= SURE;
    case ODD:
        return look->odd > 0;
    case EURO:
        return look->euros > 0 && look->low == 0;
    case LOW_LEADS: /* katakana alone may well stand one by one between ASCII bytes */
        return look->low * 2 > look->high;
    case RUNS:
        return look->high >= FEW && look->high * 2 > look->runs * 3;
    }
    return false;
}

static void take_answer(const char *told, const struct look *look, struct lb_encoding *out)
{
    for (size_t i = 0; i < sizeof western / sizeof *western; i++)
        if (strcmp(told, western[i]) == 0)
            return;
    for (size_t i = 0; i < sizeof answers / sizeof *answers; i++)
        if (strcmp(told, answers[i].told) == 0) {
            if (!is_met(answers[i].need, look))
                return;
            set(out, look->low > 0 && answers[i].windows ? answers[i].windows : answers[i].used);
            return;
        }
    if (is_met(RUNS, look))
        set(out, told);
}

static bool is_known(const char *name)
{
    iconv_t known = iconv_open("UTF-8", name);
    if (known == (iconv_t)-1)
        return false;
    iconv_close(known);
    return true;
}

/* What one byte alone means, as UTF-32; 0: nothing. */
static uint32_t meaning(iconv_t decoder, unsigned char byte)
{
    char in = (char)byte, *from = &in;
    uint32_t out = 0;
    char *to = (char *)&out;
    size_t left = 1, room = sizeof out;
    iconv(decoder, NULL, NULL, NULL, NULL);
    return iconv(decoder, &from, &left, &to, &room) == (size_t)-1 || room ? 0 : out;
}

/* A thousand times the same u with two dots is no proof of Maltese: where every byte means the same in both,
 * it is the usual one. */
static bool reads_as_western(const char *name, const char *bytes, size_t length)
{
    bool seen[256] = {false}, same = true;
    iconv_t one = iconv_open("UTF-32LE", name), other = iconv_open("UTF-32LE", "WINDOWS-1252");
    bool open = one != (iconv_t)-1 && other != (iconv_t)-1;
    for (size_t i = 0; i < length; i++)
        seen[(unsigned char)bytes[i]] = true;
    for (int c = 0x80; open && same && c < 256; c++)
        same = !seen[c] || meaning(one, (unsigned char)c) == meaning(other, (unsigned char)c);
    if (one != (iconv_t)-1)
        iconv_close(one);
    if (other != (iconv_t)-1)
        iconv_close(other);
    return open && same;
}

void lb_encoding_guess(const char *bytes, size_t length, bool ends, struct lb_encoding *out)
{
    struct look look = look_at(bytes, length);
    /* A picture or a program is no text in any encoding: left as it is, the rows are refused. */
    if (is_utf8(bytes, length, ends) || look.controls > length / 32) {
        set(out, "UTF-8");
        return;
    }
    set(out, "Windows-1252");
    struct lb_encoding other = *out;
    uchardet_t detector = lb_uchardet_load() ? uchardet_new() : NULL;
    if (!detector)
        return;
    if (uchardet_handle_data(detector, bytes, length) == 0) {
        uchardet_data_end(detector);
        take_answer(uchardet_get_charset(detector), &look, &other);
    }
    uchardet_delete(detector);
    if (is_known(other.iconv) && !reads_as_western(other.iconv, bytes, length))
        *out = other;
}
