#include "base/words.h"

#include "base/ascii.h"

#include <utf8proc.h>

static bool is_word_char(char c)
{
    return lb_ascii_digit(c) || (c >= 'a' && c <= 'z');
}

static bool is_word_point(int32_t point)
{
    if (point >= LB_FOLD_BYTE)
        return false;
    if (point < 0x80)
        return is_word_char((char)point);
    utf8proc_category_t category = utf8proc_category(point);
    return (category >= UTF8PROC_CATEGORY_LU && category <= UTF8PROC_CATEGORY_NO);
}

static void keep_point(struct lb_words *words, int32_t point)
{
    utf8proc_uint8_t bytes[4];
    size_t size = (size_t)utf8proc_encode_char(point, bytes);
    if (words->length + size > LB_WORD_MAX)
        return;
    for (size_t i = 0; i < size; i++)
        words->text[words->length++] = (char)bytes[i];
}

/* From the first character beyond ASCII on, the rest of the text is folded by Unicode's rules. */
static bool next_folded(struct lb_words *words)
{
    int32_t point;
    while ((point = lb_fold_next(&words->fold))) {
        if (is_word_point(point))
            keep_point(words, point);
        else if (words->length)
            break;
    }
    return words->length > 0;
}

bool lb_words_next(struct lb_words *words)
{
    words->length = 0;
    if (words->fold.at)
        return next_folded(words);
    const char *p = words->at;
    while (*p && (unsigned char)*p < 0x80 && !is_word_char(lb_ascii_lower(*p)))
        p++;
    const char *start = p;
    for (char c; is_word_char(c = lb_ascii_lower(*p)); p++)
        if (words->length < LB_WORD_MAX)
            words->text[words->length++] = c;
    words->at = p;
    if ((unsigned char)*p < 0x80)
        return words->length > 0;
    words->fold = (struct lb_fold){.at = start};
    words->length = 0;
    return next_folded(words);
}
