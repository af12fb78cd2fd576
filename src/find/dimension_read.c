/* Dimensions in words as somebody types them. */
#include "find/dimension_parts.h"

#include "base/ascii.h"
#include "base/spec_words.h"

#include <stdio.h>
#include <string.h>
#include <strings.h>

enum {
    MILLIMETRE = 1000,
    INSIDE_MAX = 700 * MILLIMETRE /* AS568 ends at 658.88 mm: beyond, it is a number */
};

/* The word and those after it, as far as a designation may go. */
static int look_at(const char *const *words, int count, int at, struct lb_spec_word *out)
{
    int found = 0;
    for (; found < LB_SPEC_WORDS && at + found < count; found++) {
        const char *text = words[at + found];
        if (!lb_spec_word_next(&text, &out[found]))
            out[found] = (struct lb_spec_word){"", 0};
    }
    return found;
}

static bool is_number(const struct lb_spec_word *word)
{
    size_t digits = 0;
    for (; digits < word->length && (lb_ascii_digit(word->text[digits]) || strchr(".,", word->text[digits]));)
        digits++;
    return digits > 0 && lb_ascii_digit(word->text[0]) &&
           (digits == word->length ||
            (digits + 2 == word->length && strncasecmp(word->text + digits, "mm", 2) == 0));
}

static bool is_millimetre(const struct lb_spec_word *word)
{
    return word->length == 2 && strncasecmp(word->text, "mm", 2) == 0;
}

/* An inside diameter alone: read as that of a thin ring, so that one parser knows what a length is. */
static int read_inside(const struct lb_spec_word *words, int count, struct lb_spec *out)
{
    char line[80];
    if (count < 1 || words[0].length > 30 || !is_number(&words[0]))
        return 0;
    snprintf(line, sizeof line, "%.*sx0.5", (int)words[0].length, words[0].text);
    *out = lb_spec_parse(line);
    out->text = NULL;
    out->section = 0;
    if (out->kind != LB_SPEC_O_RING || out->inside > INSIDE_MAX)
        return 0;
    return count > 1 && is_millimetre(&words[1]) ? 2 : 1;
}

/* `18.77 1.78`: taken for inside and section when the second has decimals, as a count of pieces has not. */
static int read_pair(const struct lb_spec_word *words, int count, struct lb_spec *out)
{
    char line[80];
    if (count < 2 || !is_number(&words[0]) || !is_number(&words[1]) ||
        words[0].length + words[1].length > 60 ||
        (!memchr(words[1].text, '.', words[1].length) && !memchr(words[1].text, ',', words[1].length)))
        return 0;
    snprintf(line, sizeof line, "%.*sx%.*s", (int)words[0].length, words[0].text, (int)words[1].length,
             words[1].text);
    *out = lb_spec_parse(line);
    out->text = NULL;
    return out->kind == LB_SPEC_O_RING ? 2 : 0;
}

/* Behind a word that names an O-ring. */
static int read_behind_name(const struct lb_spec_word *words, int count, struct lb_spec *out)
{
    int taken = lb_spec_begins(words, count, out);
    if (taken)
        return out->kind == LB_SPEC_O_RING ? taken : 0;
    taken = read_pair(words, count, out);
    return taken ? taken : read_inside(words, count, out);
}

/* `4x4` and `6x4` say how many wheels are driven. */
static bool is_drive(const struct lb_spec *spec)
{
    return spec->inside < 10 * MILLIMETRE && spec->section < 10 * MILLIMETRE &&
           spec->inside % MILLIMETRE == 0 && spec->section % MILLIMETRE == 0;
}

/* In front of one: the number is its size, unless one follows (`4 o-rings 18.77`). */
static int read_before_name(const struct lb_spec_word *words, int count, struct lb_spec *out)
{
    struct lb_spec other;
    int taken = read_inside(words, count, out);
    int named = taken ? lb_o_ring_named(words + taken, count - taken) : 0, behind = taken + named;
    if (!named || read_behind_name(words + behind, count - behind, &other))
        return 0;
    return behind;
}

static int read_at(const struct lb_spec_word *words, int count, struct lb_spec *out)
{
    int named = lb_o_ring_named(words, count);
    if (named) {
        int behind = read_behind_name(words + named, count - named, out);
        return behind ? named + behind : 0;
    }
    int taken = lb_spec_begins(words, count, out);
    if (!taken)
        return read_before_name(words, count, out);
    if (out->kind != LB_SPEC_O_RING)
        return taken;
    named = lb_o_ring_named(words + taken, count - taken);
    return named || !is_drive(out) ? taken + named : 0;
}

/* The end of a dash number that the table does not carry (`AS568-211`) is no inside diameter. */
static bool ends_dash_number(const char *const *words, int at)
{
    for (int i = at - 1; i >= 0 && i >= at - 2; i--)
        if (strncasecmp(words[i], "as", 2) == 0 || strncmp(words[i], "568", 3) == 0)
            return true;
    return false;
}

bool lb_dimension_read(const char *const *words, int count, struct lb_dimension *out)
{
    struct lb_spec_word next[LB_SPEC_WORDS];
    struct lb_buf shown = {0};
    struct lb_spec spec;
    int taken = 0, at = 0;
    for (; at < count; at++) {
        taken = read_at(next, look_at(words, count, at, next), &spec);
        if (taken && !(spec.kind == LB_SPEC_O_RING && !spec.section && ends_dash_number(words, at)))
            break;
    }
    if (at >= count)
        return false;
    *out = (struct lb_dimension){.spec = spec, .at = at, .taken = taken};
    lb_dimension_show(&shown, &spec);
    snprintf(out->text, sizeof out->text, "%s", lb_buf_text(&shown));
    lb_buf_free(&shown);
    return true;
}
