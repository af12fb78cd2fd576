/* How wide text is on a terminal. */
#include "base/text.h"

#include <limits.h>
#include <string.h>
#include <utf8proc.h>

/* The bytes of the next grapheme cluster and its columns; a byte that is no UTF-8 stands alone in one column,
 * as terminals show it. */
static size_t next_cluster(const char *text, int *columns)
{
    size_t at = 0;
    utf8proc_int32_t before = -1, state = 0;
    *columns = 0;
    while (text[at]) {
        utf8proc_int32_t point;
        utf8proc_ssize_t ahead = (utf8proc_ssize_t)strnlen(text + at, 4);
        utf8proc_ssize_t size = utf8proc_iterate((const utf8proc_uint8_t *)text + at, ahead, &point);
        if (size <= 0) {
            if (at == 0) {
                *columns = 1;
                at = 1;
            }
            break;
        }
        if (before >= 0 && utf8proc_grapheme_break_stateful(before, point, &state))
            break;
        *columns += utf8proc_charwidth(point);
        before = point;
        at += (size_t)size;
    }
    return at;
}

int lb_text_width(const char *text)
{
    int width = 0;
    while (*text) {
        int columns;
        text += next_cluster(text, &columns);
        width = columns > INT_MAX - width ? INT_MAX : width + columns;
    }
    return width;
}

size_t lb_text_fit(const char *text, int columns)
{
    const char *p = text;
    while (*p) {
        int width;
        size_t size = next_cluster(p, &width);
        if (width > columns)
            break;
        columns -= width;
        p += size;
    }
    return (size_t)(p - text);
}
