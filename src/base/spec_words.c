#include "base/spec_words.h"

#include "base/ascii.h"

#include <string.h>
#include <strings.h>

enum { LINE = 200, TEXT_WORDS = 64 };

static bool is_blank(char c)
{
    return c == ' ' || (c >= '\t' && c <= '\r');
}

bool lb_spec_word_next(const char **text, struct lb_spec_word *out)
{
    const char *at = *text;
    do {
        while (is_blank(*at))
            at++;
        const char *start = at, *end;
        while (*at && !is_blank(*at))
            at++;
        for (end = at; start < end && strchr("([\"'", *start);)
            start++;
        while (end > start && strchr(")]\"',;:.", end[-1]))
            end--;
        *out = (struct lb_spec_word){start, (size_t)(end - start)};
    } while (*at && !out->length);
    *text = at;
    return out->length > 0;
}

static char letter_at(const struct lb_spec_word *word, size_t at)
{
    return at < word->length ? lb_ascii_lower(word->text[at]) : '\0';
}

static bool is_word(const struct lb_spec_word *word, const char *name)
{
    return word->length == strlen(name) && strncasecmp(word->text, name, word->length) == 0;
}

/* Characters beyond ASCII may be a sign for "times", a dash, or wide digits: the parser knows. */
static bool may_begin(const struct lb_spec_word *word)
{
    char first = letter_at(word, 0), second = letter_at(word, 1);
    if (first == 'm')
        return !second || lb_ascii_digit(second);
    if (first == 'a')
        return second == 's' && (word->length == 2 || memchr("- 5", word->text[2], 3));
    return lb_ascii_digit(first) || first == '\xEF'; /* wide letters and digits begin with EF */
}

static bool may_go_on(const struct lb_spec_word *word)
{
    char first = letter_at(word, 0), second = letter_at(word, 1);
    if (first == 'p' || first == 'm')
        return second == (first == 'p' ? 'k' : 'm');
    if (first == 'x')
        return !second || lb_ascii_digit(second);
    if (first && strchr("acdf", first)) /* classes of stainless steel */
        return lb_ascii_digit(second);
    return lb_ascii_digit(first) || first == '*' || first == '-' || (unsigned char)first >= 0x80;
}

/* `m 8` says too little: of a thread whose M stands apart, more than the diameter is wanted. */
static bool says_enough(const struct lb_spec *spec, const struct lb_spec_word *words, const char *line)
{
    return !is_word(&words[0], "m") || spec->kind != LB_SPEC_THREAD || spec->length || spec->grade[0] ||
           strpbrk(line, "xX*\xC3");
}

int lb_spec_begins(const struct lb_spec_word *words, int count, struct lb_spec *out)
{
    char line[LINE];
    size_t ends[LB_SPEC_WORDS], length = 0;
    int taken = 0;
    if (count < 1 || !may_begin(&words[0]))
        return 0;
    while (taken < count && taken < LB_SPEC_WORDS && length + words[taken].length + 2 < LINE) {
        if (taken > 0 && !may_go_on(&words[taken]))
            break;
        if (taken > 0)
            line[length++] = ' ';
        memcpy(line + length, words[taken].text, words[taken].length);
        length += words[taken].length;
        ends[taken++] = length;
    }
    for (; taken > 0; taken--) {
        line[ends[taken - 1]] = '\0';
        *out = lb_spec_parse(line);
        out->text = NULL;
        if (lb_spec_is_dimension(out) && says_enough(out, words, line))
            return taken;
    }
    return 0;
}

int lb_o_ring_named(const struct lb_spec_word *words, int count)
{
    static const char *const names[] = {"o-ring", "oring", "o-rings", "orings",
                                        "0-ring", "0ring", "0-rings", "0rings"};
    if (count > 0)
        for (size_t i = 0; i < sizeof names / sizeof names[0]; i++)
            if (is_word(&words[0], names[i]))
                return 1;
    return count > 1 && (is_word(&words[0], "o") || is_word(&words[0], "0")) &&
                   (is_word(&words[1], "ring") || is_word(&words[1], "rings"))
               ? 2
               : 0;
}

static bool is_alnum(char c)
{
    c = lb_ascii_lower(c);
    return lb_ascii_digit(c) || (c >= 'a' && c <= 'z');
}

/* Also inside of a type: `pump-o-ring`. */
static bool names_o_ring(const char *text)
{
    for (const char *at = text; at && (at = strpbrk(at, "rR")); at++) {
        if (strncasecmp(at, "ring", 4) != 0 || at == text)
            continue;
        const char *o = at - 1;
        if (o > text && (*o == '-' || *o == ' '))
            o--;
        if ((*o == 'o' || *o == 'O') && (o == text || !is_alnum(o[-1])))
            return true;
    }
    return false;
}

static bool digit_follows(const char *at)
{
    return lb_ascii_digit(at[*at == ' ']);
}

/* Whether a text may hold a dimension: most hold none, and this is asked for each row of a catalogue. A sign
 * for "times" before a number, PK before a number, or 568. */
static bool may_hold_one(const char *text)
{
    for (const char *at = text; (at = strpbrk(at, "xX*kK5\x97")); at++) {
        bool found = *at == '5' ? at[1] == '6' && at[2] == '8'
                                : digit_follows(at + 1) && at > text &&
                                      (lb_ascii_lower(*at) != 'k' || lb_ascii_lower(at[-1]) == 'p');
        if (found)
            return true;
    }
    return false;
}

static bool has_times(const struct lb_spec_word *words, int taken)
{
    for (int i = 0; i < taken; i++)
        for (size_t k = 0; k < words[i].length; k++)
            if (strchr("xX*\x97", words[i].text[k]))
                return true;
    return false;
}

bool lb_spec_in_text(const char *part_type, const char *text, struct lb_spec *out)
{
    struct lb_spec_word words[TEXT_WORDS];
    int count = 0;
    if (!text || !may_hold_one(text))
        return false;
    for (const char *at = text; count < TEXT_WORDS && lb_spec_word_next(&at, &words[count]);)
        count++;
    for (int i = 0; i < count; i++) {
        int taken = lb_spec_begins(words + i, count - i, out);
        if (taken && out->kind == LB_SPEC_THREAD && !has_times(words + i, taken))
            continue;
        if (taken && out->kind == LB_SPEC_O_RING && !names_o_ring(part_type) && !names_o_ring(text))
            continue;
        if (taken)
            return true;
    }
    return false;
}

bool lb_spec_of_part(const struct lb_spec *stated, const char *part_type, const char *description,
                     struct lb_spec *out)
{
    *out = *stated;
    return lb_spec_is_dimension(stated) ||
           (stated->kind == LB_SPEC_TEXT && lb_spec_in_text(part_type, stated->text, out)) ||
           lb_spec_in_text(part_type, description, out);
}
