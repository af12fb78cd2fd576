/* What the owner calls things: formats.md §1, synonyms. */
#include "base/words.h"
#include "importers/kinds_tables.h"

#include <string.h>

enum { SYNONYMS_TERM = 0, SYNONYMS_MEANS = 1 };

const struct lb_column lb_synonyms_columns[] = {
    [SYNONYMS_TERM] = {.name = "term", .type = LB_CELL_TEXT, .required = true, .key = true},
    [SYNONYMS_MEANS] = {.name = "means", .type = LB_CELL_TEXT, .required = true, .key = true},
    {.name = "note", .type = LB_CELL_TEXT},
};

/* The number of words that search knows in a text, none beyond `most` counted. */
static int count_words(const char *text, int most)
{
    struct lb_words words = {.at = text};
    int count = 0;
    while (count < most && lb_words_next(&words))
        count++;
    return count;
}

static bool same_words(const char *a, const char *b)
{
    struct lb_words left = {.at = a}, right = {.at = b};
    for (;;) {
        bool more = lb_words_next(&left);
        if (lb_words_next(&right) != more)
            return false;
        if (!more)
            return true;
        if (left.length != right.length || memcmp(left.text, right.text, left.length) != 0)
            return false;
    }
}

/* Two sides of the same words would look like a synonym and do nothing. */
const char *lb_synonyms_check(const struct lb_value *values, int *column)
{
    for (*column = SYNONYMS_TERM; *column <= SYNONYMS_MEANS; ++*column) {
        int count = count_words(values[*column].text, LB_SYNONYM_WORDS + 1);
        bool term = *column == SYNONYMS_TERM;
        if (count == 0)
            return term ? "term has no letter or digit to search by"
                        : "means has no letter or digit to search by";
        if (count > LB_SYNONYM_WORDS)
            return term ? "term has more than four words; a synonym has one to four"
                        : "means has more than four words; a synonym has one to four";
    }
    *column = SYNONYMS_MEANS;
    if (same_words(values[SYNONYMS_TERM].text, values[SYNONYMS_MEANS].text))
        return "term and means are the same words; case, blanks and signs make no difference to a search";
    return NULL;
}
