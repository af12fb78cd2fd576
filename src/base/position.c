#include "base/position.h"

#include <stddef.h>
#include <string.h>
#include <strings.h>

/* The two words of a pair stand side by side, so that a pair is two neighbouring bits. */
static const char *const words[] = {"front", "rear", "left", "right", "upper", "lower", "inner", "outer"};

static const char separators[] = " \t\r\n-,/";

static unsigned word_bit(const char *word, size_t length)
{
    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++)
        if (strlen(words[i]) == length && strncasecmp(words[i], word, length) == 0)
            return 1U << i;
    return 0;
}

bool lb_position_parse(const char *text, lb_position *out)
{
    unsigned found = 0;
    const char *at = text ? text : "";
    for (at += strspn(at, separators); *at; at += strspn(at, separators)) {
        size_t length = strcspn(at, separators);
        unsigned bit = word_bit(at, length);
        if (!bit)
            return false;
        found |= bit;
        at += length;
    }
    *out = (lb_position)found;
    return true;
}

bool lb_position_match(lb_position a, lb_position b)
{
    for (unsigned pair = 3; pair <= 0xC0; pair <<= 2)
        if ((a & pair) && (b & pair) && !(a & b & pair))
            return false;
    return true;
}
