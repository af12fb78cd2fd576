#include "importers/encoding.h"

#include "base/text.h"

#include "importers/encoding_guess.h"

#include <errno.h>
#include <iconv.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

enum {
    HEAD = 4096,              /* what the start of a file is told from */
    DIRECT = 1 << 18,         /* read at once while all is ASCII */
    AHEAD = 1 << 20,          /* looked at behind the first byte that is not ASCII */
    IN_ROOM = AHEAD + DIRECT, /* what was read and not yet used */
    SPARE = 16,               /* of it, for a byte 0xFF or what iconv holds back to the end */
    OUT_ROOM = 1 << 16,       /* what was converted and not yet given out */
};

enum stage { START, ASCII, PLAIN, CONVERT };

struct span {
    char *bytes;
    size_t at, end;
};

struct decoder {
    struct lb_bytes bytes, *from;
    enum stage stage;
    struct span in, out;
    bool ended;    /* `from` has no more */
    bool finished; /* nor has iconv */
    bool starved;  /* iconv needs more than is in `in` */
    struct lb_encoding encoding;
    iconv_t iconv; /* (iconv_t)-1: none */
    size_t unit;   /* bytes to leave out when they cannot be decoded */
};

static void hand_out(struct span *span, char *to, size_t room, size_t *got)
{
    size_t left = span->end - span->at;
    *got = left < room ? left : room;
    memcpy(to, span->bytes + span->at, *got);
    span->at += *got;
}

static lb_status pull(struct decoder *d, char *to, size_t room, size_t *got, struct lb_error *err)
{
    lb_status status = d->from->read(d->from, to, room, got, err);
    d->bytes.done = d->from->done;
    d->bytes.size = d->from->size;
    d->ended |= !status && *got == 0;
    return status;
}

/* Up to `wanted` bytes in `in`, fewer only where the file ends. */
static lb_status fill(struct decoder *d, size_t wanted, struct lb_error *err)
{
    memmove(d->in.bytes, d->in.bytes + d->in.at, d->in.end - d->in.at);
    d->in.end -= d->in.at;
    d->in.at = 0;
    while (d->in.end < wanted && !d->ended) {
        size_t got;
        lb_status status = pull(d, d->in.bytes + d->in.end, wanted - d->in.end, &got, err);
        if (status)
            return status;
        d->in.end += got;
    }
    return LB_OK;
}

/* How many bytes are ASCII before the first that is not; 64 at a time, which compilers know how to do
 * quickly. */
static size_t ascii_run(const char *bytes, size_t length)
{
    size_t i = 0;
    for (; i + 64 <= length; i += 64) {
        uint64_t words[8], all = 0;
        memcpy(words, bytes + i, sizeof words);
        for (int w = 0; w < 8; w++)
            all |= words[w];
        if (all & UINT64_C(0x8080808080808080))
            break;
    }
    while (i < length && !((unsigned char)bytes[i] & 0x80))
        i++;
    return i;
}

static size_t unit_of(const char *name)
{
    if (strncasecmp(name, "UTF-16", 6) == 0 || strncasecmp(name, "UTF16", 5) == 0 ||
        strncasecmp(name, "UCS-2", 5) == 0)
        return 2;
    if (strncasecmp(name, "UTF-32", 6) == 0 || strncasecmp(name, "UTF32", 5) == 0 ||
        strncasecmp(name, "UCS-4", 5) == 0)
        return 4;
    return 1; /* also where characters have more: a line end is then never lost with a broken one */
}

static bool is_utf8_name(const char *name)
{
    return strcasecmp(name, "UTF-8") == 0 || strcasecmp(name, "UTF8") == 0;
}

static lb_status refuse_name(const char *name, struct lb_error *err)
{
    return lb_fail(
        err, LB_USAGE,
        "no encoding is called \"%.*s\". Names that are known: UTF-8, UTF-16, Windows-1252, "
        "Windows-1250, Windows-1251, ISO-8859-1, ISO-8859-15, Shift_JIS, EUC-JP, GBK, Big5 and what "
        "else `iconv -l` lists",
        LB_FIT(name, 40));
}

/* d->encoding is known: makes ready for it. LB_SYSTEM: iconv does not know it. */
static lb_status begin(struct decoder *d, struct lb_error *err)
{
    d->bytes.encoding = d->encoding.shown;
    if (is_utf8_name(d->encoding.iconv)) {
        d->stage = PLAIN;
        return LB_OK;
    }
    d->stage = CONVERT;
    d->unit = unit_of(d->encoding.iconv);
    d->out.bytes = malloc(OUT_ROOM);
    if (!d->out.bytes)
        return lb_fail_nomem(err);
    d->iconv = iconv_open("UTF-8", d->encoding.iconv);
    if (d->iconv != (iconv_t)-1)
        return LB_OK;
    return lb_fail(err, LB_SYSTEM, "iconv on this machine does not know %s", d->encoding.shown);
}

/* The first byte that is not ASCII is `offset` bytes into `in`. */
static lb_status decide(struct decoder *d, size_t offset, struct lb_error *err)
{
    lb_status status = fill(d, offset + AHEAD, err);
    if (status)
        return status;
    lb_encoding_guess(d->in.bytes, d->in.end, d->ended, &d->encoding);
    return begin(d, err);
}

/* Gives out what is ASCII; comes to a decision (and gives out nothing) where something else follows. Straight
 * into the caller's memory, but for what the start was told from. */
static lb_status read_ascii(struct decoder *d, char *to, size_t room, size_t *got, struct lb_error *err)
{
    if (d->in.at < d->in.end) {
        size_t left = d->in.end - d->in.at, next = left < room ? left : room;
        size_t run = ascii_run(d->in.bytes + d->in.at, next);
        if (run < next)
            return decide(d, run, err);
        hand_out(&d->in, to, room, got);
        return LB_OK;
    }
    lb_status status = pull(d, to, room < DIRECT ? room : DIRECT, got, err);
    size_t run = status ? 0 : ascii_run(to, *got);
    if (status || run == *got)
        return status;
    memcpy(d->in.bytes, to, *got);
    d->in.at = 0;
    d->in.end = *got;
    *got = 0;
    return decide(d, run, err);
}

static void put_undecodable(struct decoder *d)
{
    size_t left = d->in.end - d->in.at;
    d->out.bytes[d->out.end++] = '\xFF';
    d->in.at += left < d->unit ? left : d->unit;
}

static void convert_block(struct decoder *d)
{
    char *from = d->in.bytes + d->in.at, *to = d->out.bytes;
    size_t left = d->in.end - d->in.at, room = OUT_ROOM - SPARE;
    size_t result = iconv(d->iconv, &from, &left, &to, &room);
    int problem = result == (size_t)-1 ? errno : 0;
    if (!problem && d->ended) {
        room += SPARE;
        iconv(d->iconv, NULL, NULL, &to, &room); /* what it held back, waiting for a combining character */
        d->finished = true;
    }
    d->in.at = d->in.end - left;
    d->out.end = (size_t)(to - d->out.bytes);
    if (problem == EILSEQ || (problem == EINVAL && d->ended))
        put_undecodable(d);
    else
        d->starved = problem != E2BIG && !d->ended;
}

static lb_status read_converted(struct decoder *d, char *to, size_t room, size_t *got, struct lb_error *err)
{
    while (d->out.at == d->out.end && !d->finished) {
        d->out.at = d->out.end = 0;
        lb_status status = d->starved ? fill(d, d->in.end - d->in.at + OUT_ROOM, err) : LB_OK;
        if (status)
            return status;
        d->starved = false;
        convert_block(d);
    }
    hand_out(&d->out, to, room, got);
    return LB_OK;
}

/* Looks at the first bytes; a name that was given needs none of them. */
static lb_status start(struct decoder *d, struct lb_error *err)
{
    size_t mark;
    struct lb_encoding told;
    lb_status status = fill(d, HEAD, err);
    if (status)
        return status;
    bool is_told = lb_encoding_of_start(d->in.bytes, d->in.end, &told, &mark);
    if (d->stage == START && is_told) {
        d->encoding = told;
        d->in.at = mark;
        return begin(d, err);
    }
    if (d->stage == PLAIN && is_told && is_utf8_name(told.iconv))
        d->in.at = mark;
    if (d->stage == START)
        d->stage = ASCII;
    return LB_OK;
}

static lb_status read_decoded(struct lb_bytes *bytes, char *to, size_t room, size_t *got,
                              struct lb_error *err)
{
    struct decoder *d = (struct decoder *)bytes;
    lb_status status = LB_OK;
    *got = 0;
    if (!d->in.bytes) {
        d->in.bytes = malloc(IN_ROOM);
        status = d->in.bytes ? start(d, err) : lb_fail_nomem(err);
    }
    if (!status && d->stage == ASCII) {
        status = read_ascii(d, to, room, got, err);
        if (status || d->stage == ASCII)
            return status;
    }
    if (status)
        return status;
    if (d->stage == CONVERT)
        return read_converted(d, to, room, got, err);
    if (d->in.at == d->in.end)
        return pull(d, to, room, got, err);
    hand_out(&d->in, to, room, got);
    return LB_OK;
}

static void free_decoder(struct decoder *d)
{
    if (d->iconv != (iconv_t)-1)
        iconv_close(d->iconv);
    free(d->in.bytes);
    free(d->out.bytes);
    free(d);
}

static void close_decoded(struct lb_bytes *bytes)
{
    struct decoder *d = (struct decoder *)bytes;
    lb_bytes_close(d->from);
    free_decoder(d);
}

/* iconv reads orders into a `/` ("//IGNORE" would drop what it cannot decode) and the machine's own encoding
 * into an empty name. */
static lb_status use_name(struct decoder *d, const char *name, struct lb_error *err)
{
    if (!*name || strchr(name, '/') || strlen(name) >= sizeof d->encoding.iconv)
        return refuse_name(name, err);
    strcpy(d->encoding.iconv, name);
    strcpy(d->encoding.shown, is_utf8_name(name) ? "UTF-8" : name);
    lb_status status = begin(d, err);
    return status == LB_SYSTEM ? refuse_name(name, err) : status;
}

lb_status lb_encoding_open(struct lb_bytes **out, struct lb_bytes *from, const char *encoding,
                           struct lb_error *err)
{
    *out = NULL;
    struct decoder *d = calloc(1, sizeof *d);
    if (!d)
        return lb_fail_nomem(err);
    d->bytes = (struct lb_bytes){from->done, from->size, NULL, read_decoded, close_decoded};
    d->from = from;
    d->iconv = (iconv_t)-1;
    d->starved = true;
    lb_status status = encoding ? use_name(d, encoding, err) : LB_OK;
    if (status)
        free_decoder(d);
    else
        *out = &d->bytes;
    return status;
}
