#include "base/text.h"

#include "base/ascii.h"

#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <utf8proc.h>

/* Most names fit on the stack; only longer ones ask for memory. */
#define OWN_POINTS 128
/* A byte that is no UTF-8 travels as this plus the byte: equal to itself only, after every real code point.
 */
#define RAW 0x110000
/* NFKC with full case folding; what is invisible (soft hyphen, zero-width joiner) is left out. */
#define FOLDING                                                                                              \
    ((utf8proc_option_t)(UTF8PROC_STABLE | UTF8PROC_COMPOSE | UTF8PROC_COMPAT | UTF8PROC_CASEFOLD |          \
                         UTF8PROC_IGNORE))

struct points {
    int32_t *at; /* own, or memory of its own when they do not fit */
    size_t count;
    int32_t own[OWN_POINTS];
};

static bool is_ascii(const char *text)
{
    for (; *text; text++)
        if ((unsigned char)*text >= 0x80)
            return false;
    return true;
}

static int lower(char c)
{
    return (unsigned char)lb_ascii_lower(c);
}

bool lb_text_is_utf8(const char *bytes, size_t length, size_t *bad)
{
    size_t at = 0;
    while (at < length) {
        utf8proc_int32_t point;
        utf8proc_ssize_t size =
            utf8proc_iterate((const utf8proc_uint8_t *)bytes + at, (utf8proc_ssize_t)(length - at), &point);
        if (size <= 0 || point == 0) {
            if (bad)
                *bad = at;
            return false;
        }
        at += (size_t)size;
    }
    return true;
}

/* One stretch of well-formed UTF-8, folded into room points. Returns how many points it takes, also when it
 * does not fit (then before composing, so rather too many), or -1. */
static utf8proc_ssize_t fold_stretch(const char *text, size_t length, int32_t *into, utf8proc_ssize_t room)
{
    utf8proc_ssize_t count =
        utf8proc_decompose((const utf8proc_uint8_t *)text, (utf8proc_ssize_t)length, into, room, FOLDING);
    if (count <= 0 || count > room)
        return count;
    return utf8proc_normalize_utf32(into, count, FOLDING);
}

/* Folds stretch by stretch between the bytes that are no UTF-8. Returns as fold_stretch does. */
static utf8proc_ssize_t fold_into(int32_t *into, utf8proc_ssize_t room, const char *text)
{
    size_t length = strlen(text), at = 0;
    utf8proc_ssize_t count = 0;
    while (at < length) {
        size_t good = length - at;
        lb_text_is_utf8(text + at, length - at, &good);
        utf8proc_ssize_t used = count < room ? count : room;
        utf8proc_ssize_t more = fold_stretch(text + at, good, into + used, room - used);
        if (more < 0)
            return -1;
        count += more;
        at += good;
        if (at == length)
            break;
        if (count < room)
            into[count] = RAW + (unsigned char)text[at];
        count++;
        at++;
    }
    return count;
}

static void points_free(struct points *points)
{
    if (points->at != points->own)
        free(points->at);
}

/* false: out of memory, nothing to free */
static bool points_fold(struct points *points, const char *text)
{
    points->at = points->own;
    utf8proc_ssize_t count = fold_into(points->own, OWN_POINTS, text);
    if (count > OWN_POINTS) {
        points->at = malloc((size_t)count * sizeof *points->at);
        if (!points->at)
            return false;
        count = fold_into(points->at, count, text);
    }
    points->count = count > 0 ? (size_t)count : 0;
    if (count < 0)
        points_free(points);
    return count >= 0;
}

static int compare_ascii(const char *a, const char *b)
{
    while (*a && lower(*a) == lower(*b)) {
        a++;
        b++;
    }
    return (lower(*a) > lower(*b)) - (lower(*a) < lower(*b));
}

static int compare_points(const struct points *a, const struct points *b)
{
    for (size_t i = 0; i < a->count && i < b->count; i++)
        if (a->at[i] != b->at[i])
            return a->at[i] < b->at[i] ? -1 : 1;
    return (a->count > b->count) - (a->count < b->count);
}

int lb_text_compare_nocase(const char *a, const char *b)
{
    if (is_ascii(a) && is_ascii(b))
        return compare_ascii(a, b);
    struct points left, right;
    if (!points_fold(&left, a))
        return compare_ascii(a, b);
    int order;
    if (points_fold(&right, b)) {
        order = compare_points(&left, &right);
        points_free(&right);
    } else {
        order = compare_ascii(a, b);
    }
    points_free(&left);
    return order;
}

bool lb_text_equal_nocase(const char *a, const char *b)
{
    return lb_text_compare_nocase(a, b) == 0;
}

static bool is_white(int32_t point)
{
    if (point < 0x80)
        return point == ' ' || (point >= '\t' && point <= '\r');
    if (point >= RAW)
        return false;
    utf8proc_category_t category = utf8proc_category(point);
    return point == 0x85 || category == UTF8PROC_CATEGORY_ZS || category == UTF8PROC_CATEGORY_ZL ||
           category == UTF8PROC_CATEGORY_ZP;
}

static void append_point(struct lb_buf *out, int32_t point)
{
    if (point >= RAW) {
        lb_buf_putc(out, (char)(point - RAW));
        return;
    }
    utf8proc_uint8_t bytes[4];
    utf8proc_ssize_t size = utf8proc_encode_char(point, bytes);
    lb_buf_append(out, (const char *)bytes, (size_t)size);
}

/* One point of a fold: white space waits in *gap, so that it is dropped at both ends and single inside. */
static void append_folded(struct lb_buf *out, int32_t point, bool *gap, bool *begun)
{
    if (is_white(point)) {
        *gap = *begun;
        return;
    }
    if (*gap)
        lb_buf_putc(out, ' ');
    append_point(out, point);
    *gap = false;
    *begun = true;
}

void lb_text_fold(struct lb_buf *out, const char *text)
{
    bool gap = false, begun = false;
    if (is_ascii(text)) {
        for (; *text; text++)
            append_folded(out, lower(*text), &gap, &begun);
        return;
    }
    struct points points;
    if (!points_fold(&points, text)) {
        out->failed = true;
        return;
    }
    for (size_t i = 0; i < points.count; i++)
        append_folded(out, points.at[i], &gap, &begun);
    points_free(&points);
}

bool lb_text_same_words(const char *a, const char *b)
{
    struct lb_buf x = {0}, y = {0};
    lb_text_fold(&x, a);
    lb_text_fold(&y, b);
    bool same = x.failed || y.failed ? strcmp(a, b) == 0 : strcmp(lb_buf_text(&x), lb_buf_text(&y)) == 0;
    lb_buf_free(&x);
    lb_buf_free(&y);
    return same;
}

static bool is_letter_or_digit(int32_t point)
{
    if (point >= RAW)
        return false;
    utf8proc_category_t category = utf8proc_category(point);
    return (category >= UTF8PROC_CATEGORY_LU && category <= UTF8PROC_CATEGORY_LO) ||
           category == UTF8PROC_CATEGORY_ND;
}

/* As below, without asking Unicode: every row of a catalogue comes through here. */
static void append_ascii_key(struct lb_buf *out, const char *number)
{
    char kept[256];
    size_t count = 0;
    for (; *number; number++) {
        char c = lb_ascii_upper(*number);
        if (lb_ascii_digit(c) || (c >= 'A' && c <= 'Z'))
            kept[count++] = c;
        if (count == sizeof kept) {
            lb_buf_append(out, kept, count);
            count = 0;
        }
    }
    lb_buf_append(out, kept, count);
}

void lb_text_number_key(struct lb_buf *out, const char *number)
{
    struct points points;
    if (is_ascii(number)) {
        append_ascii_key(out, number);
        return;
    }
    if (!points_fold(&points, number)) {
        out->failed = true;
        return;
    }
    for (size_t i = 0; i < points.count; i++)
        if (is_letter_or_digit(points.at[i]))
            append_point(out, utf8proc_toupper(points.at[i]));
    points_free(&points);
}

/* A line break, tab or another of C0, DEL, C1. */
static bool has_control(const char *text)
{
    for (const unsigned char *p = (const unsigned char *)text; *p; p++)
        if (*p < 0x20 || *p == 0x7F || (p[0] == 0xC2 && p[1] >= 0x80 && p[1] < 0xA0))
            return true;
    return false;
}

const char *lb_text_name_refusal(const char *name)
{
    if (has_control(name))
        return "has a line break or another control character";
    return strlen(name) > LB_NAME_MOST ? "is too long; 200 bytes are the most" : NULL;
}
