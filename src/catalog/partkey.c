#include "catalog/partkey.h"
#include "base/text.h"

#include <string.h>

void lb_part_number_key(struct lb_buf *out, const char *number)
{
    size_t start = out->length;
    lb_text_number_key(out, number);
    if (out->length == start)
        lb_text_fold(out, number); /* a "number" of punctuation only still is one */
}

void lb_part_key(struct lb_buf *out, const char *brand, const char *number)
{
    lb_buf_clear(out);
    lb_text_fold(out, brand);
    lb_buf_putc(out, '\x1f');
    lb_part_number_key(out, number);
}

const char *lb_part_key_number(const char *key)
{
    const char *separator = strrchr(key, '\x1f');
    return separator ? separator + 1 : key + strlen(key);
}
