/* A number and its unit, written together or apart, short or long: 12V, 12 V, 12 volt, 12 volts. (Plurals are
 * stems' business.) Units as they stand on parts; common practice, no source. */
#include "base/ascii.h"
#include "find/query_private.h"

#include <math.h>
#include <string.h>

enum { NAMES_MAX = 3 };

static const char *const units[][NAMES_MAX] = {
    {"v", "volt"},
    {"w", "watt"},
    {"kw", "kilowatt"},
    {"a", "amp", "ampere"},
    {"ah", "amphour"},
    {"hz", "hertz"},
    {"hp", "horsepower"},
    {"mm", "millimeter", "millimetre"},
    {"cm", "centimeter", "centimetre"},
    {"m", "meter", "metre"},
    {"in", "inch"},
    {"ft", "foot", "feet"},
    {"yd", "yard"},
    {"ml", "milliliter", "millilitre"},
    {"l", "liter", "litre"},
    {"gal", "gallon"},
    {"qt", "quart"},
    {"pt", "pint"},
    {"oz", "ounce"},
    {"lb", "lbs", "pound"},
    {"g", "gram"},
    {"kg", "kilogram"},
    {"ga", "gauge"},
    {"deg", "degree"},
    {"pc", "pcs", "piece"},
    {"pk", "pack"},
    {"ct", "count"},
    {"t", "tooth", "teeth"},
};

static const double weight = 0.9;

static const char *const *find_unit(const char *word)
{
    size_t length = strlen(word);
    for (size_t u = 0; u < sizeof units / sizeof *units; u++)
        for (int n = 0; n < NAMES_MAX && units[u][n]; n++) {
            size_t name = strlen(units[u][n]);
            bool plural = length == name + 1 && name > 2 && word[name] == 's';
            if ((length == name || plural) && memcmp(word, units[u][n], name) == 0)
                return units[u];
        }
    return NULL;
}

/* One other writing: together, or apart. */
static lb_status add_writing(struct query_maker *maker, const char *number, const char *unit, bool together,
                             int slots, double most)
{
    char joined[2 * LB_WORD_MAX + 1];
    const char *const one[] = {joined}, *const two[] = {number, unit};
    struct lb_query_way *way;
    if (strlen(number) + strlen(unit) > LB_WORD_MAX)
        return LB_OK;
    strcpy(stpcpy(joined, number), unit);
    lb_status status = query_way(maker, together ? LB_WAY_JOINED : LB_WAY_SPLIT, weight, most,
                                 together ? one : two, together ? 1 : 2, &way);
    if (status || !way)
        return status;
    way->slots = slots;
    way->adjacent = !together;
    return LB_OK;
}

static lb_status add_writings(struct query_maker *maker, const char *number, const char *typed_unit,
                              int slots, double most)
{
    const char *const *names = find_unit(typed_unit);
    lb_status status = LB_OK;
    for (int n = 0; !status && names && n < NAMES_MAX && names[n]; n++) {
        status = add_writing(maker, number, names[n], true, slots, most);
        if (!status)
            status = add_writing(maker, number, names[n], false, slots, most);
    }
    return status;
}

lb_status query_measure(struct query_maker *maker, int at, double most)
{
    const struct lb_query *q = maker->query;
    const struct lb_query_word *word = &q->words[at];
    char number[LB_WORD_MAX + 1] = "";
    size_t digits = strspn(word->text, "0123456789");
    if (!digits)
        return LB_OK;
    memcpy(number, word->text, digits);
    if (digits < word->length)
        return add_writings(maker, number, word->text + digits, 1, most);
    if (at + 1 >= q->word_count || q->words[at + 1].skipped)
        return LB_OK;
    return add_writings(maker, number, q->words[at + 1].text, 2, HUGE_VAL);
}
