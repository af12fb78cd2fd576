/* One row of the catalogue, from its number and the seed. */
#include "make_catalog.h"

#include "make_catalog_words.h"

#include <stdio.h>
#include <string.h>

#define COUNT(array) (sizeof(array) / sizeof *(array))

enum {
    BRANDS = 300,
    TYPES = COUNT(heads) * COUNT(uses),
    SKEW = 1 << 16,     /* entries of a table that is drawn from evenly */
    NUMBERS = 99999989, /* a prime below 10^8: part numbers do not repeat before so many rows */
};

static char brands[BRANDS][32];
static char types[TYPES][32];
static uint16_t brand_skew[SKEW], type_skew[SKEW];
static uint64_t splitmix(uint64_t *state)
{
    uint64_t z = *state += UINT64_C(0x9e3779b97f4a7c15);
    z = (z ^ z >> 30) * UINT64_C(0xbf58476d1ce4e5b9);
    z = (z ^ z >> 27) * UINT64_C(0x94d049bb133111eb);
    return z ^ z >> 31;
}

uint64_t start_state(uint64_t seed, uint64_t row, uint64_t salt)
{
    uint64_t state = seed ^ salt << 56;
    return splitmix(&state) ^ row * UINT64_C(0xd1342543de82ef95);
}

unsigned below(uint64_t *state, unsigned limit)
{
    return (unsigned)((splitmix(state) >> 32) * limit >> 32);
}

/* The share of rank r falls as 1 / (r + shift). */
static void fill_skew(uint16_t *skew, unsigned ranks, unsigned shift)
{
    double sum = 0, reached = 0;
    for (unsigned r = 0; r < ranks; r++)
        sum += 1.0 / (r + shift);
    size_t at = 0;
    for (unsigned r = 0; r < ranks; r++) {
        reached += 1.0 / (r + shift) / sum;
        for (; at < SKEW && (at < (size_t)(reached * SKEW) || r == ranks - 1); at++)
            skew[at] = (uint16_t)r;
    }
}

void make_names(void)
{
    uint64_t state = 7; /* the brands are the same for every seed */
    for (unsigned i = 0; i < BRANDS; i++) {
        unsigned n = i * 277 % (COUNT(name_starts) * COUNT(name_ends)); /* each pair once */
        const char *tail = i % 9 == 4 ? " & Sons" : i % 13 == 6 ? " Parts" : i % 31 == 9 ? ", Ltd" : "";
        snprintf(brands[i], sizeof brands[i], "%s%s%s", name_starts[n / COUNT(name_ends)],
                 name_ends[n % COUNT(name_ends)], tail);
    }
    for (unsigned i = 0; i < TYPES; i++)
        snprintf(types[i], sizeof types[i], "%s-%s", uses[i / COUNT(heads)].word,
                 heads[i % COUNT(heads)].word);
    for (unsigned i = TYPES - 1; i > 0; i--) { /* so that the frequent ones are of every sort */
        unsigned other = below(&state, i + 1);
        char keep[sizeof types[0]];
        memcpy(keep, types[i], sizeof keep);
        memcpy(types[i], types[other], sizeof keep);
        memcpy(types[other], keep, sizeof keep);
    }
    strcpy(types[3], "o-ring"); /* it has no use in its name */
    fill_skew(brand_skew, BRANDS, 3);
    fill_skew(type_skew, TYPES, 5);
}

char *put(char *to, const char *text)
{
    return stpcpy(to, text);
}

static char *put_number(char *to, unsigned number)
{
    char digits[12];
    int n = 0;
    do
        digits[n++] = (char)('0' + number % 10);
    while (number /= 10);
    while (n)
        *to++ = digits[--n];
    return to;
}

static char *put_brand(char *to, const char *brand)
{
    if (!strchr(brand, ','))
        return put(to, brand);
    *to++ = '"';
    to = put(to, brand);
    *to++ = '"';
    return to;
}

/* `number` is spent on the digits from the right, so that the last ones always differ. */
static char *put_part_number(char *to, unsigned brand, unsigned number)
{
    const char *format = brand < 40    ? long_formats[brand % COUNT(long_formats)]
                         : brand < 150 ? middle_formats[brand % COUNT(middle_formats)]
                                       : short_formats[brand % COUNT(short_formats)];
    size_t length = strlen(format);
    unsigned letters = brand;
    for (size_t i = length; i-- > 0;) {
        char c = format[i];
        if (c == '#') {
            c = (char)('0' + number % 10);
            number /= 10;
        } else if (c == '@') { /* behind the digits, letters vary; before them they are the brand's */
            c = (char)('A' + (i > length / 2 ? number % 4 : letters % 23));
            letters = letters / 5 + 3;
        }
        to[i] = c;
    }
    return to + length;
}

static char *put_rare(char *to, uint64_t *state)
{
    unsigned rare = below(state, 1u << below(state, 17)) + 16; /* rank r comes about as often as 1 / r */
    for (; rare; rare /= 16)
        to = put(to, rare_parts[rare % 16]);
    return to;
}

static char *put_dimension(char *to, uint64_t *state)
{
    static const char *const names[] = {"L=", "D=", "ID=", "OD=", "T=", "H="};
    to = put(to, names[below(state, COUNT(names))]);
    to = put_number(to, 2 + below(state, 40) * below(state, 12) + below(state, 9));
    return put(to, "MM");
}

/* ` F/2.4L 04-09`: which engines and years it is said to be for. */
static char *put_engine(char *to, uint64_t *state)
{
    unsigned size = 10 + below(state, 25), from = 1985 + below(state, 35),
             to_year = from + 1 + below(state, 9);
    to = put_number(put(to, " F/"), size / 10);
    *to++ = '.';
    to = put_number(to, size % 10);
    to = put_number(put(to, "L "), from);
    *to++ = '-';
    return put_number(to, to_year);
}

static const char *brief_of(const struct trade_word *words, size_t count, const char *type, size_t length)
{
    for (size_t i = 0; i < count; i++)
        if (strncmp(words[i].word, type, length) == 0 && !words[i].word[length])
            return words[i].brief;
    return "O";
}

/* `HOSE RAD UPR`; now and then with an inch mark and a comma, which must be quoted. */
static char *put_description(char *to, unsigned type, uint64_t *state)
{
    static const char *briefs[TYPES][2];
    if (!briefs[type][0]) {
        const char *dash = strchr(types[type], '-');
        briefs[type][0] = brief_of(heads, COUNT(heads), dash + 1, strlen(dash + 1));
        briefs[type][1] = brief_of(uses, COUNT(uses), types[type], (size_t)(dash - types[type]));
    }
    unsigned draw = below(state, 1000);
    bool quoted = draw < 35;
    if (quoted)
        *to++ = '"';
    to = put(to, briefs[type][0]);
    *to++ = ' ';
    to = put(to, briefs[type][1]);
    if (quoted) {
        *to++ = ' ';
        to = put_number(to, 1 + below(state, 9));
        to = put(to, "/8\"\" ID,");
    }
    if (draw % 10 < 6) {
        *to++ = ' ';
        to = put(to, places[below(state, COUNT(places))]);
    }
    for (unsigned extra = draw % 10 > 3 ? 2 : 1; extra; extra--) {
        *to++ = ' ';
        to = put(to, extras[below(state, COUNT(extras)) * below(state, 64) / 64]);
    }
    if (draw % 13 > 0)
        to = put_engine(to, state);
    if (draw % 7 < 4) {
        *to++ = ' ';
        to = put_dimension(to, state);
    }
    if (draw % 3 > 0) {
        *to++ = ' ';
        to = put_rare(to, state);
    }
    if (quoted)
        *to++ = '"';
    return to;
}

static char *put_spec(char *to, uint64_t *state)
{
    unsigned draw = below(state, 100);
    if (draw < 35)
        return to;
    if (draw < 65) {
        *to++ = 'M';
        to = put_number(to, 5 + below(state, 10));
        *to++ = 'x';
        to = put_number(to, 10 + 5 * below(state, 20));
        return put(to, draw % 2 ? " 8.8" : " 10.9");
    }
    if (draw < 72) {
        to = put_number(to, 3 + below(state, 6));
        to = put(to, "PK");
        return put_number(to, 600 + below(state, 2200));
    }
    if (draw < 80)
        return put(put_number(put(to, "12V "), 5 + 5 * below(state, 12)), "W");
    to = put_number(put(to, "ID="), 4 + below(state, 90));
    return put_number(put(to, " OD="), 10 + below(state, 120));
}

/* GTIN-13 of the range that is kept for use within a company. Source: GS1 General Specifications, 7.9. */
static char *put_gtin(char *to, unsigned number, uint64_t *state)
{
    unsigned sum = 0, maker = 20000 + below(state, 10000) % 9999;
    for (int i = 4; i >= 0; i--, maker /= 10)
        to[i] = (char)('0' + maker % 10);
    for (int i = 11; i >= 5; i--, number /= 10)
        to[i] = (char)('0' + number % 10);
    for (int i = 0; i < 12; i++)
        sum += (unsigned)(to[i] - '0') * (i % 2 ? 3 : 1);
    to[12] = (char)('0' + (10 - sum % 10) % 10);
    return to + 13;
}

static char *put_offer(char *to, unsigned number, uint64_t *state)
{
    unsigned cents = 40 + below(state, 300) * below(state, 300) / 3;
    to = put_number(put(to, ",S"), number);
    *to++ = ',';
    to = put_number(to, cents / 100);
    *to++ = '.';
    *to++ = (char)('0' + cents / 10 % 10);
    *to++ = (char)('0' + cents % 10);
    to = put(to, below(state, 8) ? ",EUR," : ",GBP,");
    unsigned draw = below(state, 20);
    to = draw == 0 ? put(to, "10") : draw == 1 ? put(to, "4") : draw < 8 ? put(to, "1") : to;
    *to++ = ',';
    return below(state, 3) ? put_number(to, below(state, 30) * below(state, 10)) : to;
}

char *put_row(char *to, const struct options *options, uint64_t id, unsigned wording)
{
    uint64_t state = start_state(options->seed, id, 0), words = start_state(options->seed, id, 100 + wording);
    unsigned number = (unsigned)((id + options->seed) % NUMBERS * UINT64_C(61803401) % NUMBERS);
    unsigned brand = brand_skew[below(&state, SKEW)], type = type_skew[below(&state, SKEW)];
    unsigned draw = below(&state, 100);
    to = put_brand(to, brands[brand]);
    *to++ = ',';
    to = put_part_number(to, brand, number);
    *to++ = ',';
    to = put(to, types[type]);
    *to++ = ',';
    if (draw % 25)
        to = put_description(to, type, &words);
    *to++ = ',';
    to = put_spec(to, &words);
    to = put(to, draw < 55 ? ",," : draw < 97 ? ",each," : draw < 99 ? ",m," : ",L,");
    if (below(&state, 100) < 84)
        to = put_gtin(to, number, &state);
    if (options->offers)
        to = put_offer(to, number, &state);
    *to++ = '\n';
    return to;
}
