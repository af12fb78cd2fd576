#include "base/vin.h"

#include "base/ascii.h"

#include <string.h>

#define LENGTH 17

/* 49 CFR 565.15, Table III: the value of each letter; I, O and Q have none. */
static const char letter_values[] = "12345678-12345-7-923456789";
/* Table IV: the weight of each position; the check character itself weighs nothing. */
static const int weights[LENGTH] = {8, 7, 6, 5, 4, 3, 2, 10, 0, 9, 8, 7, 6, 5, 4, 3, 2};
/* Table VII: the thirty codes of a model year, from 1980 and again from 2010. */
static const char years[] = "ABCDEFGHJKLMNPRSTVWXY123456789";

static const char *refusal(char c)
{
    if (c == 'I' || c == 'O' || c == 'Q')
        return "has a letter I, O or Q, which no VIN has (1 or 0 is meant)";
    if (!lb_ascii_digit(c) && (c < 'A' || c > 'Z'))
        return "has a character that is neither a letter A to Z nor a digit";
    return NULL;
}

static const char *copy(const char *text, char out[LENGTH + 1])
{
    size_t used = 0;
    for (; *text; text++) {
        if (*text == ' ' || *text == '\t' || *text == '-')
            continue;
        char c = lb_ascii_upper(*text);
        const char *why = refusal(c);
        if (why)
            return why;
        if (used == LENGTH)
            return "has more than 17 characters";
        out[used++] = c;
    }
    out[used] = '\0';
    return used < LENGTH ? "has fewer than 17 characters" : NULL;
}

/* Position 7 tells the two rounds of the thirty codes apart: a digit for the first, a letter for the second.
 */
static int model_year(const char *vin)
{
    const char *code = vin[9] == '0' ? NULL : strchr(years, vin[9]);
    return code ? (lb_ascii_digit(vin[6]) ? 1980 : 2010) + (int)(code - years) : 0;
}

const char *lb_vin_parse(const char *text, struct lb_vin *vin)
{
    *vin = (struct lb_vin){0};
    const char *why = copy(text, vin->text);
    if (why) {
        *vin = (struct lb_vin){0};
        return why;
    }
    for (int i = 0; i < LENGTH; i++) {
        char c = vin->text[i];
        vin->sum += weights[i] * ((lb_ascii_digit(c) ? c : letter_values[c - 'A']) - '0');
    }
    int left = vin->sum % 11;
    vin->expected = left == 10 ? 'X' : (char)('0' + left);
    char given = vin->text[8];
    vin->check_ok = given == vin->expected;
    vin->check_filler = !lb_ascii_digit(given) && given != 'X';
    vin->model_year = model_year(vin->text);
    return NULL;
}
