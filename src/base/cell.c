#include "base/cell.h"
#include "base/decimal.h"

#include <string.h>

static bool could_execute(const char *text)
{
    int64_t number;
    unsigned char first = (unsigned char)text[0];
    if (lb_decimal_parse(text, &number))
        return false;
    return (first && strchr("=+-@", first)) || (first && first < 0x20);
}

void lb_cell_write(struct lb_buf *out, const char *text)
{
    if (!text)
        return;
    bool inert = could_execute(text);
    if (!inert && !strpbrk(text, ",\"\r\n") && text[0] != ' ') {
        lb_buf_puts(out, text);
        return;
    }
    lb_buf_puts(out, inert ? "\"'" : "\"");
    for (const char *p = text; *p; p++) {
        if (*p == '"')
            lb_buf_putc(out, '"');
        lb_buf_putc(out, *p);
    }
    lb_buf_putc(out, '"');
}
