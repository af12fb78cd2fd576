/* The conversions one by one: what may stand behind their words, and in which columns they make sense. */
#include "importers/recast_private.h"

#include "base/ascii.h"
#include "base/money.h"

#include <stdlib.h>
#include <string.h>

const char lb_recast_no_memory[] = "out of memory";

char *lb_recast_trim(char *text)
{
    while (*text == ' ')
        text++;
    size_t length = strlen(text);
    while (length && text[length - 1] == ' ' && !(length > 1 && text[length - 2] == '\\'))
        text[--length] = '\0';
    return text;
}

char *lb_recast_cut(char *text, char mark)
{
    for (; *text; text++) {
        if (*text == '\\' && text[1])
            text++;
        else if (*text == mark) {
            *text = '\0';
            return text + 1;
        }
    }
    return NULL;
}

/* A copy without the protecting backslashes; NULL: out of memory. */
static const char *keep(struct lb_recast *recast, char *text)
{
    char *to = text, *from = text;
    for (; *from; from++) {
        if (*from == '\\' && from[1])
            from++;
        *to++ = *from;
    }
    *to = '\0';
    return lb_arena_text(&recast->texts, text, strlen(text));
}

static size_t count_words(const char *argument)
{
    size_t count = 1;
    for (; *argument; argument++)
        count += *argument == '|';
    return count;
}

static const char *read_pairs(struct lb_recast *recast, char *argument, const struct lb_pair **out,
                              size_t *count)
{
    size_t room = count_words(argument);
    struct lb_pair *pairs = lb_arena_alloc(&recast->texts, room * sizeof *pairs);
    if (!pairs)
        return lb_recast_no_memory;
    *out = pairs;
    for (char *next; argument; argument = next) {
        next = lb_recast_cut(argument, '|');
        char *to = lb_recast_cut(argument, '=');
        if (!to || !*lb_recast_trim(argument))
            return "wants A=B, or several with | between";
        struct lb_pair pair = {keep(recast, lb_recast_trim(argument)), keep(recast, lb_recast_trim(to))};
        if (!pair.from || !pair.to)
            return lb_recast_no_memory;
        pairs[(*count)++] = pair;
    }
    return NULL;
}

static const char *read_decimal(struct lb_recast *recast, char *argument)
{
    recast->decimal = strcmp(argument, "comma") == 0 ? ',' : strcmp(argument, "point") == 0 ? '.' : 0;
    return recast->decimal ? NULL : "is `decimal comma` or `decimal point`";
}

static const char *read_thousands(struct lb_recast *recast, char *argument)
{
    bool blank = strcmp(argument, "space") == 0;
    bool mark = strlen(argument) == 1 && strchr(".,'", *argument);
    recast->thousands = blank ? ' ' : mark ? *argument : 0;
    return recast->thousands ? NULL : "is `thousands` with one of . , ' or the word space";
}

/* Y, and M, and perhaps D, each once. */
static const char *read_date(struct lb_recast *recast, char *argument)
{
    int years = 0, months = 0, days = 0;
    for (const char *p = argument; *p; p++) {
        years += *p == 'Y';
        months += *p == 'M';
        days += *p == 'D';
        if (lb_ascii_digit(*p) ||
            (lb_ascii_lower(*p) >= 'a' && lb_ascii_lower(*p) <= 'z' && !strchr("DMY", *p)))
            return "is written with D, M and Y, such as `date D.M.Y`";
    }
    if (years != 1 || months != 1 || days > 1)
        return "is written with D, M and Y once each, such as `date D.M.Y`";
    recast->date = keep(recast, argument);
    return recast->date ? NULL : lb_recast_no_memory;
}

static const char *read_pivot(struct lb_recast *recast, char *argument)
{
    char *end;
    long pivot = strtol(argument, &end, 10);
    if (!lb_ascii_digit(*argument) || *end || pivot < 1 || pivot > 100)
        return "is `pivot` with a number from 1 to 100: years of two digits below it are 20.., the others "
               "19..";
    recast->pivot = (int)pivot;
    return NULL;
}

static const char *read_currency(struct lb_recast *recast, char *argument)
{
    static const char wanted[] = "is `currency symbol`, or `currency $=USD` with a code of ISO 4217";
    recast->currency = true;
    if (strcmp(argument, "symbol") == 0)
        return NULL;
    const char *why = read_pairs(recast, argument, &recast->signs, &recast->sign_count);
    for (size_t i = 0; !why && i < recast->sign_count; i++)
        if (lb_currency_digits(recast->signs[i].to) < 0)
            why = wanted;
    return why && why != lb_recast_no_memory ? wanted : why;
}

static const char *read_per(struct lb_recast *recast, char *argument)
{
    static const char wanted[] = "is `per 100`, `per column HEADING` or `per text`";
    char *end;
    if (strcmp(argument, "text") == 0) {
        recast->per_text = true;
        return NULL;
    }
    if (strncmp(argument, "column ", 7) == 0) {
        recast->per_heading = keep(recast, lb_recast_trim(argument + 7));
        return !recast->per_heading ? lb_recast_no_memory : *recast->per_heading ? NULL : wanted;
    }
    long per = strtol(argument, &end, 10);
    if (!lb_ascii_digit(*argument) || *end || per < 1 || per > 1000000)
        return wanted;
    recast->per = per;
    return NULL;
}

static const char *read_on_request(struct lb_recast *recast, char *argument)
{
    if (!*argument)
        return "wants the words that stand for a price on request";
    recast->on_request = lb_arena_alloc(&recast->texts, count_words(argument) * sizeof *recast->on_request);
    if (!recast->on_request)
        return lb_recast_no_memory;
    for (char *next; argument; argument = next) {
        next = lb_recast_cut(argument, '|');
        const char *words = keep(recast, lb_recast_trim(argument));
        if (!words)
            return lb_recast_no_memory;
        recast->on_request[recast->on_request_count++] = words;
    }
    return NULL;
}

static const char *read_step(struct lb_recast *recast, enum lb_recast_verb verb, char *argument)
{
    bool wants = verb == LB_RECAST_STRIP || verb == LB_RECAST_PREFIX || verb == LB_RECAST_MAP;
    if (recast->step_count == LB_RECAST_STEPS_MAX)
        return "is one change of words too many";
    if (wants != (*argument != '\0'))
        return wants ? "wants a text behind it" : "wants nothing behind it";
    struct lb_recast_step *step = &recast->steps[recast->step_count];
    *step = (struct lb_recast_step){.verb = verb};
    if (verb == LB_RECAST_MAP) {
        const char *why = read_pairs(recast, argument, &step->pairs, &step->count);
        recast->step_count += !why;
        return why;
    }
    step->text = keep(recast, argument);
    recast->step_count += step->text != NULL;
    return step->text ? NULL : lb_recast_no_memory;
}

static const char *read_strip(struct lb_recast *recast, char *argument)
{
    return read_step(recast, LB_RECAST_STRIP, argument);
}

static const char *read_prefix(struct lb_recast *recast, char *argument)
{
    return read_step(recast, LB_RECAST_PREFIX, argument);
}

static const char *read_upper(struct lb_recast *recast, char *argument)
{
    return read_step(recast, LB_RECAST_UPPER, argument);
}

static const char *read_lower_words(struct lb_recast *recast, char *argument)
{
    return read_step(recast, LB_RECAST_LOWER_WORDS, argument);
}

static const char *read_map(struct lb_recast *recast, char *argument)
{
    return read_step(recast, LB_RECAST_MAP, argument);
}

static const char *read_pack(struct lb_recast *recast, char *argument)
{
    recast->pack_text = strcmp(argument, "text") == 0;
    return recast->pack_text ? NULL : "is `pack text`";
}

static const char *read_unit(struct lb_recast *recast, char *argument)
{
    recast->unit_text = strcmp(argument, "text") == 0;
    return recast->unit_text ? NULL : "is `unit text`";
}

static const char *read_pieces(struct lb_recast *recast, char *argument)
{
    recast->pieces = !*argument;
    return recast->pieces ? NULL : "wants nothing behind it";
}

static const char *read_empty(struct lb_recast *recast, char *argument)
{
    recast->empty = keep(recast, argument);
    return !recast->empty ? lb_recast_no_memory : *recast->empty ? NULL : "wants a value behind it";
}

static bool is_date(const struct lb_column *column)
{
    return column->type == LB_CELL_DATE;
}

static bool is_money(const struct lb_column *column)
{
    return column->type == LB_CELL_MONEY || column->type == LB_CELL_CURRENCY;
}

static bool is_price(const struct lb_column *column)
{
    return strcmp(column->name, "price") == 0;
}

static bool is_pack(const struct lb_column *column)
{
    return strcmp(column->name, "pack_quantity") == 0;
}

static bool is_packs(const struct lb_column *column)
{
    return strcmp(column->name, "stock") == 0 || strcmp(column->name, "minimum_packs") == 0;
}

static bool is_unit(const struct lb_column *column)
{
    return column->type == LB_CELL_UNIT;
}

const struct lb_conversion lb_conversions[] = {
    {"decimal", read_decimal, lb_column_is_number, "numbers"},
    {"thousands", read_thousands, lb_column_is_number, "numbers"},
    {"date", read_date, is_date, "dates"},
    {"pivot", read_pivot, is_date, "dates"},
    {"currency", read_currency, is_money, "prices and currencies"},
    {"per", read_per, is_price, "the price"},
    {"on-request", read_on_request, is_money, "prices"},
    {"pack", read_pack, is_pack, "pack_quantity"},
    {"pieces", read_pieces, is_packs, "stock and minimum_packs"},
    {"unit", read_unit, is_unit, "unit"},
    {"strip", read_strip, NULL, NULL},
    {"prefix", read_prefix, NULL, NULL},
    {"upper", read_upper, NULL, NULL},
    {"lower-words", read_lower_words, NULL, NULL},
    {"map", read_map, NULL, NULL},
    {"empty", read_empty, NULL, NULL},
};

const size_t lb_conversion_count = sizeof lb_conversions / sizeof *lb_conversions;
