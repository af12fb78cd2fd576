/* Any bytes into the reader of catalogues: nothing may crash, and what read.h promises must hold.
 *
 * An input is three bytes and a file, perhaps with a profile and a line `---` in front. Byte 0: the file's
 * name, a kind's or none. Byte 1: bit 0 a supplier is fixed, bit 1 the sink fails at some row, bit 2 the
 * bytes fail at some read, bit 3 the encoding is found out. Byte 2: how many bytes a read gives at most, 0:
 * as many as there is room for; also where things fail.
 *
 * replay.c runs the corpus through this in the ordinary suite; the preset `fuzz` links it with libFuzzer. */
#include "base/text.h"
#include "importers/encoding.h"
#include "importers/profile.h"
#include "importers/read.h"

#include <stdlib.h>
#include <string.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

enum { CONTROL_BYTES = 3 };

static void must(bool holds)
{
    if (!holds)
        __builtin_trap();
}

/* Bytes that come in small pieces, and may fail. */
struct pieces {
    struct lb_bytes bytes;
    struct lb_bytes *inner;
    size_t most; /* bytes of one read, 0: no limit */
    long fails_at, reads;
};

static lb_status read_piece(struct lb_bytes *bytes, char *to, size_t room, size_t *got, struct lb_error *err)
{
    struct pieces *pieces = (struct pieces *)bytes;
    must(room > 0);
    if (++pieces->reads == pieces->fails_at)
        return lb_fail(err, LB_SYSTEM, "the bytes fail on purpose");
    must(pieces->fails_at == 0 || pieces->reads < pieces->fails_at); /* a failure is final */
    size_t most = pieces->most && pieces->most < room ? pieces->most : room;
    return pieces->inner->read(pieces->inner, to, most, got, err);
}

static void close_pieces(struct lb_bytes *bytes)
{
    lb_bytes_close(((struct pieces *)bytes)->inner);
}

/* What the sink saw. */
struct seen {
    const struct lb_kind *const *kinds;
    int kind_count;
    long line, accepted, rejected, fails_at;
    unsigned long sum; /* so that every byte is really read */
    bool failed;
};

static void touch(struct seen *seen, const char *text)
{
    must(text != NULL);
    size_t length = strlen(text);
    for (size_t i = 0; i < length; i++)
        seen->sum += (unsigned char)text[i];
    must(lb_text_is_utf8(text, length, NULL));
}

static lb_status take_begin(void *context, const struct lb_kind *const *kinds, int count,
                            struct lb_error *err)
{
    struct seen *seen = context;
    (void)err;
    must(seen->kind_count == 0 && count >= 1 && count <= 3);
    seen->kinds = kinds;
    seen->kind_count = count;
    return LB_OK;
}

static lb_status take_turn(struct seen *seen, long line, struct lb_error *err)
{
    must(seen->kind_count > 0 && !seen->failed);
    must(line > seen->line); /* the heading is before it */
    seen->line = line;
    if (seen->accepted + seen->rejected + 1 != seen->fails_at)
        return LB_OK;
    seen->failed = true;
    return lb_fail(err, LB_SYSTEM, "the sink fails on purpose");
}

static void judge_value(struct seen *seen, const struct lb_column *column, const struct lb_value *value)
{
    if (value->type == LB_VALUE_TEXT)
        touch(seen, value->text);
    else if (value->type == LB_VALUE_INTEGER)
        seen->sum += (unsigned long)value->integer;
    else
        must(value->type == LB_VALUE_NULL && !column->required);
}

static lb_status take_row(void *context, const struct lb_row *row, struct lb_error *err)
{
    struct seen *seen = context;
    lb_status status = take_turn(seen, row->line, err);
    must(row->kind_count == seen->kind_count);
    must(lb_text_is_utf8(row->raw, row->raw_length, NULL)); /* neither bad bytes nor NUL */
    for (int k = 0; k < row->kind_count; k++)
        for (int i = 0; i < row->kinds[k]->column_count; i++)
            judge_value(seen, &row->kinds[k]->columns[i], &row->values[k][i]);
    seen->accepted += !status;
    return status;
}

static lb_status take_reject(void *context, long line, int column, const char *heading, const char *reason,
                             const char *raw, struct lb_error *err)
{
    struct seen *seen = context;
    lb_status status = take_turn(seen, line, err);
    must(column >= 0);
    touch(seen, heading);
    touch(seen, reason);
    must(*reason);
    seen->sum += strlen(raw); /* as it was read: any bytes */
    seen->rejected++;
    return status;
}

static void take_warning(void *context, long line, const char *words)
{
    must(line >= 0);
    touch(context, words);
}

static const char *name_for(uint8_t choice, char room[64])
{
    int kind = choice % (lb_kind_count + 1);
    strcpy(room, kind == lb_kind_count ? "list" : lb_kinds[kind].name);
    return strcat(room, ".csv");
}

static void judge_report(const struct seen *seen, const struct pieces *pieces, lb_status status,
                         const struct lb_read_report *report)
{
    bool bytes_failed = pieces->fails_at && pieces->reads >= pieces->fails_at;
    must(report->accepted == seen->accepted && report->rejected == seen->rejected);
    if (status == LB_OK) {
        must(!seen->failed && !bytes_failed); /* a failure is passed on */
        must(report->kind_count == seen->kind_count && report->kind_count > 0);
        must(report->read == report->accepted + report->rejected);
    } else if (status == LB_DATA) {
        must(report->read == 0); /* only the file as a whole */
    } else {
        must(status == LB_SYSTEM && (seen->failed || bytes_failed));
    }
}

/* What stands before a line `---`, when it is a profile. Returns where the catalogue begins. */
static size_t take_profile(const char *text, size_t length, struct lb_profile **profile)
{
    const char *mark = length ? memmem(text, length, "\n---\n", 5) : NULL;
    struct lb_error err = {0};
    struct lb_bytes *bytes;
    *profile = NULL;
    if (!mark)
        return 0;
    if (lb_bytes_open_memory(&bytes, text, (size_t)(mark - text) + 1, &err))
        abort();
    lb_status status = lb_profile_read(profile, bytes, "profile.csv", &err);
    lb_bytes_close(bytes);
    must(status == LB_OK || status == LB_DATA);
    must((*profile != NULL) == (status == LB_OK));
    if (status)
        must(lb_text_is_utf8(lb_error_text(&err), strlen(lb_error_text(&err)), NULL));
    lb_error_free(&err);
    return (size_t)(mark - text) + 5;
}

/* A mapping that was used must read as a profile. */
static lb_status take_mapping(void *context, const struct lb_mapping *mapping, struct lb_error *err)
{
    struct lb_buf text = {0};
    (void)err;
    lb_mapping_write_profile(&text, mapping);
    must(!text.failed);
    touch(context, lb_buf_text(&text));
    lb_buf_free(&text);
    return LB_OK;
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    if (size < CONTROL_BYTES)
        return -1;
    char name[64];
    const char *text = (const char *)data + CONTROL_BYTES;
    size_t length = size - CONTROL_BYTES;
    struct lb_read_options options = {.supplier = data[1] & 1 ? "harbour" : NULL};
    struct lb_profile *profile;
    size_t from = take_profile(text, length, &profile);
    options.profile = profile;
    struct lb_error err = {0};
    struct pieces pieces = {.bytes = {.size = length - from, .read = read_piece, .close = close_pieces},
                            .most = data[2],
                            .fails_at = data[1] & 4 ? 1 + data[2] / 16 : 0};
    struct seen seen = {.fails_at = data[1] & 2 ? 1 + data[2] % 16 : 0};
    struct lb_row_sink sink = {.context = &seen,
                               .begin = take_begin,
                               .row = take_row,
                               .reject = take_reject,
                               .warn = take_warning,
                               .mapping = take_mapping};
    struct lb_bytes *bytes = &pieces.bytes;
    struct lb_read_report report;
    if (lb_bytes_open_memory(&pieces.inner, text + from, length - from, &err))
        abort();
    lb_status status = data[1] & 8 ? lb_encoding_open(&bytes, &pieces.bytes, NULL, &err) : LB_OK;
    if (!status)
        status = lb_read_bytes(bytes, name_for(data[0], name), &options, &sink, &report, &err);
    judge_report(&seen, &pieces, status, &report);
    if (status)
        touch(&seen, lb_error_text(&err));
    lb_error_free(&err);
    lb_bytes_close(bytes);
    lb_profile_free(profile);
    return 0;
}
