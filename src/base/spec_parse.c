/* Reading designations. A text is first made compact (folded, single blanks, one sign for "times"); each
 * reader then takes the whole of it or none, so that a designation with anything more to say stays a text. */
#include "base/ascii.h"
#include "base/fold.h"
#include "base/spec.h"

#include <string.h>

enum { LONGEST = 63, MILLIMETRE = 1000 };

static int32_t plain_sign(int32_t c)
{
    if (c == '*' || c == 0xD7) /* multiplication sign */
        return 'x';
    if (c == 0x2010 || c == 0x2013 || c == 0x2212) /* hyphen, dash, minus */
        return '-';
    return c;
}

/* LB_SPEC_NONE: nothing there; LB_SPEC_TEXT: too long or not ASCII, so no designation. */
static enum lb_spec_kind compact(const char *text, char line[LONGEST + 1], bool *ready)
{
    struct lb_fold fold = {.at = text};
    size_t length = 0;
    bool blank = false;
    *ready = false;
    for (int32_t c; (c = lb_fold_next(&fold)) != 0;) {
        if (lb_fold_is_blank(c)) {
            blank = length > 0;
            continue;
        }
        c = plain_sign(c);
        if (c >= 0x80 || length + 2 > LONGEST)
            return LB_SPEC_TEXT;
        if (blank)
            line[length++] = ' ';
        blank = false;
        line[length++] = (char)c;
    }
    line[length] = '\0';
    *ready = length > 0;
    return length > 0 ? LB_SPEC_TEXT : LB_SPEC_NONE;
}

static const char *skip_blank(const char *at)
{
    return *at == ' ' ? at + 1 : at;
}

/* "mm" after a number says what is meant anyway. */
static const char *skip_millimetre(const char *at)
{
    const char *unit = skip_blank(at);
    if (unit[0] != 'm' || unit[1] != 'm')
        return at;
    return unit[2] == '\0' || strchr(" x-", unit[2]) ? unit + 2 : at;
}

/* A number of millimetres above zero, in micrometres; up to 100 m, which no designation reaches. */
static bool read_length(const char **at, int32_t *micrometres)
{
    const char *p = *at;
    int32_t value = 0, digit = 100;
    if (!lb_ascii_digit(*p))
        return false;
    for (; lb_ascii_digit(*p); p++) {
        value = value * 10 + (*p - '0');
        if (value > 100000)
            return false;
    }
    value *= MILLIMETRE;
    if ((*p == '.' || *p == ',') && lb_ascii_digit(p[1]))
        for (p++; lb_ascii_digit(*p); p++, digit /= 10) {
            if (!digit && *p != '0')
                return false;
            value += (*p - '0') * digit;
        }
    *at = skip_millimetre(p);
    *micrometres = value;
    return value > 0;
}

static bool read_times(const char **at)
{
    const char *p = skip_blank(*at);
    if (*p != 'x')
        return false;
    *at = skip_blank(p + 1);
    return true;
}

static bool is_stainless(const char *grade)
{
    if (!grade[0] || !strchr("acdf", grade[0]) || !lb_ascii_digit(grade[1]))
        return false;
    if (!grade[2])
        return true;
    size_t digits = strspn(grade + 3, "0123456789");
    return grade[2] == '-' && (digits == 2 || digits == 3) && !grade[3 + digits];
}

/* The rest of the line as a property class: of ISO 898-1 (every class is tabled for M8) or, for stainless
 * steel, of ISO 3506-1. */
static bool read_grade(const char *at, char grade[16])
{
    size_t length = strlen(at);
    if (!length || length >= 16)
        return false;
    for (size_t i = 0; i <= length; i++)
        grade[i] = (char)(at[i] == ',' ? '.' : at[i]);
    bool known = lb_thread_proof_load(8 * MILLIMETRE, grade) > 0 || is_stainless(grade);
    if (known)
        grade[0] = lb_ascii_upper(grade[0]);
    if (!known)
        grade[0] = '\0';
    return known;
}

static bool read_thread_sizes(const char **at, struct lb_spec *spec)
{
    int32_t second;
    char grade[16];
    bool pitch_only = **at == '-' && !read_grade(*at + 1, grade);
    if (pitch_only)
        (*at)++;
    else if (!read_times(at))
        return true;
    if (!read_length(at, &second))
        return false;
    if (second > lb_thread_pitch_limit(spec->diameter)) {
        spec->length = second;
        return !pitch_only;
    }
    spec->pitch = second;
    return !read_times(at) || read_length(at, &spec->length);
}

static bool read_thread(const char *at, struct lb_spec *spec)
{
    if (*at++ != 'm')
        return false;
    at = skip_blank(at);
    if (!read_length(&at, &spec->diameter) || spec->diameter < MILLIMETRE ||
        spec->diameter > 300 * MILLIMETRE || !read_thread_sizes(&at, spec))
        return false;
    if (!spec->pitch)
        spec->pitch = lb_thread_coarse_pitch(spec->diameter);
    spec->kind = LB_SPEC_THREAD;
    if (!*at)
        return true;
    const char *rest = skip_blank(at);
    if (*rest == '-')
        rest = skip_blank(rest + 1);
    return rest > at && read_grade(rest, spec->grade);
}

static bool read_belt(const char *at, struct lb_spec *spec)
{
    for (; lb_ascii_digit(*at) && spec->ribs < 100; at++)
        spec->ribs = spec->ribs * 10 + (*at - '0');
    at = skip_blank(at);
    if (spec->ribs < 1 || spec->ribs > 99 || strncmp(at, "pk", 2) != 0)
        return false;
    at = skip_blank(at + 2);
    spec->kind = LB_SPEC_BELT;
    return read_length(&at, &spec->length) && !*at;
}

/* The thickest ring for its size in AS568 has a section of 2.1 inside diameters (number 102): beyond two and
 * a half the two numbers mean something else. */
static bool read_o_ring(const char *at, struct lb_spec *spec)
{
    spec->kind = LB_SPEC_O_RING;
    return read_length(&at, &spec->inside) && read_times(&at) && read_length(&at, &spec->section) && !*at &&
           spec->section >= MILLIMETRE / 2 && spec->section <= 10 * MILLIMETRE &&
           spec->section <= spec->inside * INT64_C(5) / 2;
}

static bool read_dash_number(const char *at, struct lb_spec *spec)
{
    int dash = 0;
    if (strncmp(at, "as", 2) != 0)
        return false;
    at += 2;
    at += strspn(at, " -");
    if (strncmp(at, "568", 3) != 0)
        return false;
    at += 3;
    if (*at >= 'a' && *at <= 'z') /* the edition of the standard changes no size */
        at++;
    size_t gap = strspn(at, " -"), digits = strspn(at + gap, "0123456789");
    if (!gap || digits < 1 || digits > 3 || at[gap + digits])
        return false;
    for (size_t i = 0; i < digits; i++)
        dash = dash * 10 + (at[gap + i] - '0');
    spec->kind = LB_SPEC_O_RING;
    return lb_o_ring_as568(dash, &spec->inside, &spec->section);
}

struct lb_spec lb_spec_parse(const char *text)
{
    static bool (*const readers[])(const char *, struct lb_spec *) = {read_thread, read_belt, read_o_ring,
                                                                      read_dash_number};
    char line[LONGEST + 1];
    bool ready;
    struct lb_spec plain = {.text = text};
    plain.kind = compact(text, line, &ready);
    for (size_t i = 0; ready && i < sizeof readers / sizeof readers[0]; i++) {
        struct lb_spec spec = {.text = text};
        if (readers[i](line, &spec))
            return spec;
    }
    return plain;
}
