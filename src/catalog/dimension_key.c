#include "catalog/dimension_key.h"

#include <string.h>

unsigned char *lb_dimension_put(unsigned char *to, int32_t micrometres)
{
    for (int shift = 24; shift >= 0; shift -= 8)
        *to++ = (unsigned char)((uint32_t)micrometres >> shift);
    return to;
}

static int32_t take(const unsigned char *from)
{
    return (int32_t)((uint32_t)from[0] << 24 | (uint32_t)from[1] << 16 | (uint32_t)from[2] << 8 | from[3]);
}

size_t lb_dimension_key(unsigned char key[LB_DIMENSION_KEY_MAX], const struct lb_spec *spec)
{
    unsigned char *end = key + 2;
    size_t class = strlen(spec->grade);
    key[0] = 'd';
    switch (spec->kind) {
    case LB_SPEC_BELT:
        key[1] = 'B';
        *end++ = (unsigned char)spec->ribs;
        return (size_t)(lb_dimension_put(end, spec->length) - key);
    case LB_SPEC_THREAD:
        key[1] = 'T';
        end = lb_dimension_put(end, spec->diameter);
        end = lb_dimension_put(end, spec->pitch);
        end = lb_dimension_put(end, spec->length);
        memcpy(end, spec->grade, class);
        return (size_t)(end + class - key);
    case LB_SPEC_O_RING:
        key[1] = 'O';
        end = lb_dimension_put(end, spec->inside);
        return (size_t)(lb_dimension_put(end, spec->section) - key);
    case LB_SPEC_NONE:
    case LB_SPEC_TEXT:
        break;
    }
    return 0;
}

bool lb_dimension_of_key(const unsigned char *key, size_t length, struct lb_spec *out)
{
    *out = (struct lb_spec){0};
    if (length < 2 || key[0] != 'd')
        return false;
    if (key[1] == 'B' && length == 7) {
        out->kind = LB_SPEC_BELT;
        out->ribs = key[2];
        out->length = take(key + 3);
    } else if (key[1] == 'T' && length >= 14 && length - 14 < sizeof out->grade) {
        out->kind = LB_SPEC_THREAD;
        out->diameter = take(key + 2);
        out->pitch = take(key + 6);
        out->length = take(key + 10);
        memcpy(out->grade, key + 14, length - 14);
    } else if (key[1] == 'O' && length == 10) {
        out->kind = LB_SPEC_O_RING;
        out->inside = take(key + 2);
        out->section = take(key + 6);
    }
    return out->kind != LB_SPEC_NONE;
}
