#include "catalog/partkey.h"
#include "base/text.h"

void lb_part_key(struct lb_buf *out, const char *brand, const char *number)
{
    lb_buf_clear(out);
    lb_text_fold(out, brand);
    lb_buf_putc(out, '\x1f');
    size_t start = out->length;
    lb_text_number_key(out, number);
    if (out->length == start)
        lb_text_fold(out, number); /* a "number" of punctuation only still is one */
}
