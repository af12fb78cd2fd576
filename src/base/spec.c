#include "base/spec.h"

#include "base/fold.h"
#include "base/hash.h"

#include <string.h>
#include <utf8proc.h>

static int32_t next_visible(struct lb_fold *fold)
{
    int32_t c;
    do
        c = lb_fold_next(fold);
    while (lb_fold_is_blank(c));
    return c;
}

static bool same_text(const char *a, const char *b)
{
    struct lb_fold left = {.at = a}, right = {.at = b};
    for (;;) {
        int32_t c = next_visible(&left);
        if (c != next_visible(&right))
            return false;
        if (!c)
            return true;
    }
}

static bool meets(int32_t offered, int32_t wanted)
{
    return !wanted || offered == wanted;
}

static bool thread_meets(const struct lb_spec *offered, const struct lb_spec *wanted)
{
    return meets(offered->diameter, wanted->diameter) && meets(offered->pitch, wanted->pitch) &&
           meets(offered->length, wanted->length) &&
           (!wanted->grade[0] || strcmp(offered->grade, wanted->grade) == 0);
}

bool lb_spec_meets(const struct lb_spec *offered, const struct lb_spec *wanted)
{
    if (wanted->kind == LB_SPEC_NONE)
        return true;
    if (offered->kind != wanted->kind)
        return false;
    switch (wanted->kind) {
    case LB_SPEC_THREAD:
        return thread_meets(offered, wanted);
    case LB_SPEC_BELT:
        return meets(offered->ribs, wanted->ribs) && meets(offered->length, wanted->length);
    case LB_SPEC_O_RING:
        return meets(offered->inside, wanted->inside) && meets(offered->section, wanted->section);
    case LB_SPEC_TEXT:
        return same_text(offered->text, wanted->text);
    case LB_SPEC_NONE:
        break;
    }
    return true;
}

static void append_text_key(struct lb_buf *out, const char *text)
{
    struct lb_fold fold = {.at = text};
    utf8proc_uint8_t bytes[4];
    lb_buf_puts(out, "text:");
    for (int32_t c; (c = next_visible(&fold)) != 0;) {
        if (c >= LB_FOLD_BYTE)
            lb_buf_putc(out, (char)(c - LB_FOLD_BYTE));
        else
            lb_buf_append(out, (const char *)bytes, (size_t)utf8proc_encode_char(c, bytes));
    }
}

static uint64_t text_family(const char *text)
{
    struct lb_fold fold = {.at = text};
    uint64_t hash = LB_HASH_START;
    for (int32_t c; (c = next_visible(&fold)) != 0;)
        hash = lb_hash(hash, &c, sizeof c);
    return hash;
}

uint64_t lb_spec_family(const struct lb_spec *spec)
{
    int64_t own[3] = {(int64_t)spec->kind};
    switch (spec->kind) {
    case LB_SPEC_THREAD:
        own[1] = spec->diameter;
        own[2] = spec->pitch;
        break;
    case LB_SPEC_BELT:
        own[1] = spec->ribs;
        own[2] = spec->length;
        break;
    case LB_SPEC_O_RING:
        own[1] = spec->inside;
        own[2] = spec->section;
        break;
    case LB_SPEC_TEXT:
        own[1] = (int64_t)text_family(spec->text);
        break;
    case LB_SPEC_NONE:
        return 0;
    }
    return lb_hash(LB_HASH_START, own, sizeof own) | 1;
}

void lb_spec_key(struct lb_buf *out, const struct lb_spec *spec)
{
    switch (spec->kind) {
    case LB_SPEC_THREAD:
        lb_buf_printf(out, "thread:%d:%d:%d:%s", (int)spec->diameter, (int)spec->pitch, (int)spec->length,
                      spec->grade);
        break;
    case LB_SPEC_BELT:
        lb_buf_printf(out, "belt:%d:%d", (int)spec->ribs, (int)spec->length);
        break;
    case LB_SPEC_O_RING:
        lb_buf_printf(out, "o-ring:%d:%d", (int)spec->inside, (int)spec->section);
        break;
    case LB_SPEC_TEXT:
        append_text_key(out, spec->text);
        break;
    case LB_SPEC_NONE:
        break;
    }
}
