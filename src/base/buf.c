#include "base/buf.h"

#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static bool reserve(struct lb_buf *buf, size_t more)
{
    if (buf->failed)
        return false;
    if (more > SIZE_MAX / 2 - buf->length - 1) {
        buf->failed = true;
        return false;
    }
    size_t need = buf->length + more + 1;
    if (need <= buf->capacity)
        return true;
    size_t capacity = buf->capacity ? buf->capacity : 64;
    while (capacity < need)
        capacity *= 2;
    char *text = realloc(buf->text, capacity);
    if (!text) {
        buf->failed = true;
        return false;
    }
    buf->text = text;
    buf->capacity = capacity;
    return true;
}

void lb_buf_append(struct lb_buf *buf, const char *bytes, size_t length)
{
    if (!length || !reserve(buf, length))
        return;
    memcpy(buf->text + buf->length, bytes, length);
    buf->length += length;
    buf->text[buf->length] = '\0';
}

void lb_buf_puts(struct lb_buf *buf, const char *text)
{
    lb_buf_append(buf, text, strlen(text));
}

void lb_buf_putc(struct lb_buf *buf, char c)
{
    lb_buf_append(buf, &c, 1);
}

void lb_buf_printf(struct lb_buf *buf, const char *format, ...)
{
    va_list args, again;
    va_start(args, format);
    va_copy(again, args);
    int length = vsnprintf(NULL, 0, format, args);
    if (length < 0)
        buf->failed = true;
    else if (reserve(buf, (size_t)length)) {
        vsnprintf(buf->text + buf->length, (size_t)length + 1, format, again);
        buf->length += (size_t)length;
    }
    va_end(again);
    va_end(args);
}

void lb_buf_clear(struct lb_buf *buf)
{
    buf->length = 0;
    if (buf->text)
        buf->text[0] = '\0';
}

const char *lb_buf_text(const struct lb_buf *buf)
{
    return buf->length ? buf->text : "";
}

void lb_buf_free(struct lb_buf *buf)
{
    free(buf->text);
    memset(buf, 0, sizeof *buf);
}
