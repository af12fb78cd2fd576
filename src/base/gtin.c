#include "base/gtin.h"

#include "base/ascii.h"

#include <stddef.h>
#include <string.h>

#define LONGEST 14

/* The digit next to the check digit weighs 3, the one before it 1, and so on: the same rule for every length.
 */
static char check_digit(const char *digits, size_t count)
{
    int sum = 0;
    for (size_t i = 0; i < count; i++)
        sum += (digits[i] - '0') * ((count - i) % 2 ? 3 : 1);
    return (char)('0' + (10 - sum % 10) % 10);
}

char lb_gtin_check_digit(const char *digits)
{
    size_t count = 0;
    for (; digits[count]; count++)
        if (!lb_ascii_digit(digits[count]) || count == LONGEST - 1)
            return 0;
    return count == 7 || count >= 11 ? check_digit(digits, count) : 0;
}

const char *lb_gtin_validate(const char *text)
{
    char digits[LONGEST + 1];
    size_t count = 0;
    for (; *text; text++) {
        if (*text == ' ' || *text == '\t' || *text == '-')
            continue;
        if (!lb_ascii_digit(*text))
            return "has a character that is no digit";
        if (count == LONGEST)
            return "has more than 14 digits";
        digits[count++] = *text;
    }
    digits[count] = '\0';
    if (count != 8 && (count < 12 || count > LONGEST))
        return "does not have 8, 12, 13 or 14 digits";
    if (strspn(digits, "0") == count)
        return "is all zeros";
    if (digits[count - 1] != check_digit(digits, count - 1))
        return "has a wrong check digit";
    return NULL;
}
