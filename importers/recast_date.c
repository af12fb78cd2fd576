#include "importers/recast.h"

#include "base/ascii.h"
#include "base/date.h"

#include <string.h>

struct civil {
    int year, month, day; /* -1: not there */
};

/* Up to `most` digits. */
static int take(const char **at, int most)
{
    int value = 0, count = 0;
    for (; count < most && lb_ascii_digit(**at); count++)
        value = value * 10 + *(*at)++ - '0';
    return count ? value : -1;
}

static const char *take_year(const char **at, int pivot, int *year)
{
    const char *from = *at;
    *year = take(at, 4);
    if (*at - from == 4)
        return NULL;
    if (*at - from != 2)
        return "has no year of four digits where the file writes one";
    if (!pivot)
        return "has a year of two digits; the profile must say which century, such as `pivot 70`";
    *year += *year < pivot ? 2000 : 1900;
    return NULL;
}

static const char *take_field(char letter, const char **at, int pivot, struct civil *date)
{
    if (letter == 'Y')
        return take_year(at, pivot, &date->year);
    int *field = letter == 'M' ? &date->month : &date->day;
    *field = take(at, 2);
    return *field < 0 ? "is not a date as this file writes them" : NULL;
}

static const char *scan(const char *text, const char *pattern, int pivot, struct civil *date)
{
    for (; *pattern; pattern++) {
        const char *why = NULL;
        if (strchr("DMY", *pattern))
            why = take_field(*pattern, &text, pivot, date);
        else if (*text != *pattern)
            why = "is not a date as this file writes them";
        else
            text++;
        if (why)
            return why;
    }
    return *text ? "is more than a date as this file writes them" : NULL;
}

const char *lb_recast_date(struct lb_buf *out, const char *text, const char *pattern, int pivot)
{
    struct civil date = {-1, -1, -1};
    struct lb_interval days;
    struct lb_buf iso = {0};
    const char *why = scan(text, pattern, pivot, &date);
    if (why)
        return why;
    lb_buf_printf(&iso, "%04d", date.year);
    if (date.month >= 0)
        lb_buf_printf(&iso, "-%02d", date.month);
    if (date.day >= 0)
        lb_buf_printf(&iso, "-%02d", date.day);
    why = iso.failed ? NULL : lb_date_parse(lb_buf_text(&iso), &days) ? "is a day that does not exist" : NULL;
    lb_buf_puts(out, lb_buf_text(&iso));
    out->failed |= iso.failed;
    lb_buf_free(&iso);
    return why;
}
