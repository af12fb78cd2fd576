/* The keys of part numbers: made, read, and made into the number again. */
#include "base/hash.h"
#include "catalog/terms.h"

#include <string.h>

/* 200 bytes of a number, and as much behind it, lie within LB_PAIRS_KEY_MAX. */
enum { UNIT_SEPARATOR = 0x1f, LETTERS_MAX = 32, CUT = 0xff };

/* What a character of a number key is taken for; the separator (punctuation alone may be a number) must not
 * stand inside. */
static char alike(char c)
{
    return c == 'O' ? '0' : c == 'I' ? '1' : c == UNIT_SEPARATOR ? ' ' : c;
}

static char unlike(char c)
{
    return c == '0' ? 'O' : c == '1' ? 'I' : UNIT_SEPARATOR;
}

void lb_term_fold(char *number_key)
{
    for (; *number_key; number_key++)
        *number_key = alike(*number_key);
}

static char *put_brand(char *to, uint32_t brand)
{
    for (; brand >= 0x80; brand >>= 7)
        *to++ = (char)(brand | 0x80);
    *to++ = (char)brand;
    return to;
}

static char *put_hash(char *to, const char *number_key)
{
    uint64_t hash = lb_hash(LB_HASH_START, number_key, strlen(number_key));
    *to++ = (char)CUT;
    for (int i = 0; i < 8; i++)
        *to++ = (char)(hash >> (56 - 8 * i));
    return to;
}

void lb_term_number(struct lb_buf *out, const char *number_key, uint32_t brand)
{
    char key[LB_TERM_NUMBER_MAX + LETTERS_MAX + 16] = "n", letters[LETTERS_MAX], *to = key + 1;
    size_t length = 0, count = 0;
    bool cut = false;
    for (; number_key[length] && length < LB_TERM_NUMBER_MAX; length++) {
        char c = alike(number_key[length]);
        *to++ = c;
        if (c == number_key[length])
            continue;
        if (count == LETTERS_MAX)
            cut = true;
        else
            letters[count++] = (char)(length + 1);
    }
    *to++ = UNIT_SEPARATOR;
    to = put_brand(to, brand);
    if (cut || number_key[length]) {
        to = put_hash(to, number_key);
    } else {
        memcpy(to, letters, count);
        to += count;
    }
    lb_buf_clear(out);
    lb_buf_append(out, key, (size_t)(to - key));
}

bool lb_term_read_number(struct lb_number_term *term, const void *key, size_t length)
{
    const char *text = key, *end = text + length, *at = text;
    if (!length || text[0] != 'n' || !(at = memchr(text, UNIT_SEPARATOR, length)))
        return false;
    *term = (struct lb_number_term){.folded = text + 1, .length = (size_t)(at - text - 1)};
    at++;
    for (unsigned shift = 0; at < end && shift < 32; shift += 7) {
        term->brand |= (uint32_t)(*at & 0x7f) << shift;
        if (!(*at++ & 0x80))
            break;
    }
    term->whole = at == end || (unsigned char)*at != CUT;
    term->letters = at;
    term->letter_count = term->whole ? (size_t)(end - at) : 0;
    return true;
}

void lb_term_write(struct lb_buf *out, const struct lb_number_term *term)
{
    size_t start = out->length;
    lb_buf_append(out, term->folded, term->length);
    for (size_t i = 0; !out->failed && i < term->letter_count; i++) {
        size_t at = (size_t)(unsigned char)term->letters[i] - 1;
        if (at < term->length)
            out->text[start + at] = unlike(out->text[start + at]);
    }
}
