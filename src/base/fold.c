#include "base/fold.h"

#include "base/ascii.h"

#include <utf8proc.h>

/* Fills `pending` with what the character at `at` folds to, and moves on. */
static void decode(struct lb_fold *fold)
{
    const utf8proc_option_t options =
        UTF8PROC_DECOMPOSE | UTF8PROC_COMPAT | UTF8PROC_CASEFOLD | UTF8PROC_IGNORE;
    utf8proc_int32_t c;
    int boundary = 0;
    fold->taken = 0;
    /* A length below zero means up to four bytes; the NUL is no continuation byte, so it is never passed. */
    utf8proc_ssize_t used = utf8proc_iterate((const utf8proc_uint8_t *)fold->at, -1, &c);
    if (used < 1) {
        fold->pending[0] = LB_FOLD_BYTE + (unsigned char)*fold->at++;
        fold->count = 1;
        return;
    }
    fold->at += used;
    const int room = sizeof fold->pending / sizeof fold->pending[0];
    utf8proc_ssize_t count = utf8proc_decompose_char(c, fold->pending, room, options, &boundary);
    fold->count = count < 0 || count > room ? 0 : (int)count;
    if (count < 0 || count > room)
        fold->pending[fold->count++] = c;
}

int32_t lb_fold_next(struct lb_fold *fold)
{
    for (;;) {
        if (fold->taken < fold->count)
            return fold->pending[fold->taken++];
        if (!fold->at || !*fold->at)
            return 0;
        if ((unsigned char)*fold->at < 0x80)
            return lb_ascii_lower(*fold->at++);
        decode(fold);
    }
}

bool lb_fold_is_blank(int32_t c)
{
    return c == ' ' || (c >= '\t' && c <= '\r') || c == 0x85 || c == 0x1680 || c == 0x2028 || c == 0x2029;
}
