#include "find/position_words.h"

#include <string.h>

/* The first of each row is the word of base/position.h; rows stand in the order of its bits, so that the two
 * of a pair are neighbours. `rr` and `fr` are also written for rear right and front right: rear and front
 * either way. `lhd` and `rhd` say where the driver sits. */
enum { ROWS = 8, WORDS = 6 };

static const char *const table[ROWS][WORDS] = {
    {"front", "frt", "fr", "frnt"},      {"rear", "rr"},
    {"left", "lh", "lhs", "l/h", "lft"}, {"right", "rh", "rhs", "r/h", "rht"},
    {"upper", "upr", "uppr", "top"},     {"lower", "lwr", "lowr", "bottom", "btm"},
    {"inner", "inr", "inboard"},         {"outer", "otr", "outr", "outboard"},
};

static bool says(int row, const char *word, size_t length)
{
    for (int i = 0; i < WORDS && table[row][i]; i++)
        if (strlen(table[row][i]) == length && memcmp(table[row][i], word, length) == 0)
            return true;
    return false;
}

static lb_position bit_of(int row)
{
    lb_position bit = 0;
    return lb_position_parse(table[row][0], &bit) ? bit : 0;
}

lb_position lb_position_word(const char *word, size_t length)
{
    for (int row = 0; row < ROWS; row++)
        if (says(row, word, length))
            return bit_of(row);
    return 0;
}

lb_position lb_position_words(const char *const *words, int count, int at, int *taken)
{
    *taken = 0;
    if (at < 0 || at >= count)
        return 0;
    lb_position position = lb_position_word(words[at], strlen(words[at]));
    *taken = position ? 1 : 0;
    if (position || at + 1 >= count || strcmp(words[at + 1], "h") != 0)
        return position;
    if (strcmp(words[at], "l") == 0)
        position = lb_position_word("lh", 2);
    else if (strcmp(words[at], "r") == 0)
        position = lb_position_word("rh", 2);
    *taken = position ? 2 : 0;
    return position;
}

size_t lb_position_opposites(lb_position wanted, const char **words, size_t room)
{
    size_t count = 0;
    for (int row = 0; row < ROWS; row++) {
        if ((wanted & bit_of(row)) || !(wanted & bit_of(row ^ 1)))
            continue;
        for (int i = 0; i < WORDS && table[row][i]; i++, count++)
            if (count < room)
                words[count] = table[row][i];
    }
    return count;
}
