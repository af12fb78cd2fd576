#include "importers/csv_frame.h"

#include "importers/csv_reader.h"

#include <stdlib.h>
#include <string.h>

enum { WINDOW = LB_CSV_RECORD_MAX + (1 << 18) };

enum place { FIELD_START, PLAIN, QUOTED, CLOSED, PAST, JUNK };

static enum place step(enum place place, char c, char separator)
{
    if (place == QUOTED)
        return c == '"' ? CLOSED : QUOTED;
    if (place == CLOSED && c == '"')
        return QUOTED; /* a doubled quote */
    if (c == separator)
        return place == JUNK ? JUNK : FIELD_START;
    bool blank = c == ' ' || c == '\t';
    if (place == CLOSED || place == PAST)
        return blank ? PAST : JUNK;
    if (place == FIELD_START)
        return c == '"' ? QUOTED : blank ? FIELD_START : PLAIN;
    return place;
}

/* More bytes behind `end`; *more false at the end of the file. */
static lb_status fill(struct lb_csv_window *w, bool *more, struct lb_error *err)
{
    *more = false;
    if (w->at_end)
        return LB_OK;
    if (w->start > 0) {
        memmove(w->bytes, w->bytes + w->start, w->end - w->start);
        w->base += w->start;
        w->end -= w->start;
        w->start = 0;
    }
    size_t got;
    lb_status status = w->stream->read(w->stream, w->bytes + w->end, WINDOW - w->end, &got, err);
    if (status)
        return status;
    w->end += got;
    w->at_end = got == 0;
    *more = got > 0;
    return LB_OK;
}

/* The quick way: a line with no quote in it. Looks a little ahead only, so that a file without line feeds is
 * not searched whole for every record. */
static bool frame_plain(const struct lb_csv_window *w, struct lb_csv_frame *f)
{
    const char *from = w->bytes + w->start;
    size_t ahead = w->end - w->start;
    const char *end = memchr(from, '\n', ahead < 4096 ? ahead : 4096);
    if (!end || memchr(from, '"', (size_t)(end - from)))
        return false;
    const char *cr = memchr(from, '\r', (size_t)(end - from));
    *f = (struct lb_csv_frame){.length = (size_t)((cr ? cr : end) - from), .lines = 1};
    return true;
}

/* How far the framing of one record has come. */
struct scan {
    enum place place;
    size_t at;
    size_t first;      /* where the first line ends, 0: still on it */
    size_t line_start; /* of the line that `at` is on */
    size_t mark;       /* what a fault would point at: the last quote opened in the first line, or the junk */
    bool single;       /* the record must end with its line */
};

/* A quote that runs away is a fault of its first line alone. Reading resumes at the next one; the lines up to
 * `resume` have been seen not to close it, so none of them may open another that runs on: this keeps a file
 * full of stray quotes linear. */
static void cut_to_first_line(struct lb_csv_window *w, struct lb_csv_frame *f, const struct scan *scan,
                              size_t resume)
{
    *f = (struct lb_csv_frame){.length = scan->first,
                               .lines = 1,
                               .fault = "a quote is opened in this line and not closed",
                               .fault_at = scan->mark};
    w->distrust = w->base + w->start + resume;
}

static void finish_frame(struct lb_csv_frame *f, const struct scan *scan)
{
    f->length = scan->at;
    f->fault_at = scan->mark;
    if (scan->place == JUNK)
        f->fault = "text follows a closing quote (a quote within a quoted cell is written twice)";
    else if (scan->place == QUOTED)
        f->fault = "a quote is opened in this line and not closed";
}

static void frame_too_long(struct lb_csv_window *w, struct lb_csv_frame *f, const struct scan *scan)
{
    if (scan->first) {
        cut_to_first_line(w, f, scan, scan->line_start);
        return;
    }
    *f = (struct lb_csv_frame){
        .length = scan->at, .lines = 1, .fault = "the line is longer than 1 MiB", .fault_at = SIZE_MAX};
    w->skip_line = true;
}

/* True: the record is complete. */
static bool scan_byte(struct lb_csv_window *w, struct lb_csv_frame *f, struct scan *scan)
{
    const char *byte = w->bytes + w->start + scan->at;
    if (*byte == '\n' || *byte == '\r') {
        if (scan->place != QUOTED || scan->single) {
            finish_frame(f, scan);
            return true;
        }
        f->lines += !(*byte == '\n' && byte[-1] == '\r');
        scan->first = scan->first ? scan->first : scan->at;
        scan->line_start = scan->at + 1;
        return false;
    }
    enum place was = scan->place;
    scan->place = step(was, *byte, w->separator);
    f->quoted |= scan->place == QUOTED;
    bool opens = was == FIELD_START && scan->place == QUOTED;
    bool spoils = was != JUNK && scan->place == JUNK;
    if ((opens || spoils) && !scan->first)
        scan->mark = scan->at;
    if (spoils && scan->first)
        cut_to_first_line(w, f, scan, scan->line_start);
    return spoils && scan->first;
}

static lb_status frame_record(struct lb_csv_window *w, struct lb_csv_frame *f, struct lb_error *err)
{
    if (frame_plain(w, f))
        return LB_OK;
    *f = (struct lb_csv_frame){.lines = 1};
    struct scan scan = {.single = w->base + w->start < w->distrust};
    for (;; scan.at++) {
        bool more = true;
        lb_status status = w->start + scan.at == w->end ? fill(w, &more, err) : LB_OK;
        if (status)
            return status;
        if (scan.at > LB_CSV_RECORD_MAX)
            frame_too_long(w, f, &scan);
        else if (!more && scan.place == QUOTED && scan.first)
            cut_to_first_line(w, f, &scan, scan.at);
        else if (!more)
            finish_frame(f, &scan);
        else if (!scan_byte(w, f, &scan))
            continue;
        return LB_OK;
    }
}

/* Leaves a line that was refused for its length. */
static lb_status skip_line(struct lb_csv_window *w, struct lb_error *err)
{
    while (w->skip_line) {
        bool more = true;
        lb_status status = w->start == w->end ? fill(w, &more, err) : LB_OK;
        if (status || !more)
            return status;
        char c = w->bytes[w->start++];
        w->skip_line = c != '\n' && c != '\r';
        w->after_cr = c == '\r';
    }
    return LB_OK;
}

/* To the first byte of the next record; *more false: there is none. */
static lb_status find_start(struct lb_csv_window *w, bool *more, struct lb_error *err)
{
    lb_status status = skip_line(w, err);
    *more = true;
    if (!status && w->start == w->end)
        status = fill(w, more, err);
    if (!status && *more && w->after_cr && w->bytes[w->start] == '\n') {
        w->start++;
        if (w->start == w->end)
            status = fill(w, more, err);
    }
    w->after_cr = false;
    return status;
}

/* The separator that the first line has most of, outside quotes; `,` where there is none. */
static char detect_separator(const char *bytes, size_t length)
{
    static const char known[] = ",;\t|";
    size_t counts[sizeof known] = {0};
    enum place place = FIELD_START;
    for (size_t i = 0; i < length; i++) {
        if (place != QUOTED && (bytes[i] == '\n' || bytes[i] == '\r'))
            break;
        const char *hit = bytes[i] ? strchr(known, bytes[i]) : NULL;
        if (hit && place != QUOTED)
            counts[hit - known]++;
        place = step(place, bytes[i], hit ? *hit : '\n');
    }
    size_t best = 0;
    for (size_t i = 1; known[i]; i++)
        best = counts[i] > counts[best] ? i : best;
    return known[best];
}

/* Fills the window first, however small the pieces are that the bytes come in: a mark or a line of headings
 * that is not whole yet would be taken for another. */
static lb_status prepare(struct lb_csv_window *w, struct lb_error *err)
{
    for (bool more = true; more && w->end < WINDOW;) {
        lb_status status = fill(w, &more, err);
        if (status)
            return status;
    }
    if (w->end >= 3 && memcmp(w->bytes, "\xEF\xBB\xBF", 3) == 0)
        w->start = 3;
    size_t from = w->start;
    while (from < w->end && strchr(" \r\n", w->bytes[from]) && w->bytes[from])
        from++;
    if (!w->separator)
        w->separator = detect_separator(w->bytes + from, w->end - from);
    w->line = 1;
    return LB_OK;
}

static bool is_blank(const char *bytes, size_t length)
{
    for (size_t i = 0; i < length; i++)
        if (bytes[i] != ' ' && bytes[i] != '\t')
            return false;
    return true;
}

static lb_status next_frame(struct lb_csv_window *w, struct lb_csv_frame *f, struct lb_error *err)
{
    bool more;
    lb_status status = find_start(w, &more, err);
    if (status || !more) {
        *f = (struct lb_csv_frame){0};
        return status;
    }
    if ((status = frame_record(w, f, err)))
        return status;
    f->raw = w->bytes + w->start;
    f->line = w->line;
    w->line += f->lines;
    w->start += f->length;
    if (!w->skip_line && w->start < w->end)
        w->after_cr = w->bytes[w->start++] == '\r';
    return LB_OK;
}

lb_status lb_csv_frame_next(struct lb_csv_window *w, struct lb_csv_frame *f, struct lb_error *err)
{
    lb_status status = w->line == 0 ? prepare(w, err) : LB_OK;
    if (status)
        return status;
    do
        status = next_frame(w, f, err);
    while (!status && f->line > 0 && !f->fault && is_blank(f->raw, f->length));
    return status;
}

int lb_csv_column_at(const char *raw, size_t offset, char separator)
{
    int column = 1;
    enum place place = FIELD_START;
    for (size_t i = 0; i < offset; i++) {
        column += raw[i] == separator && place != QUOTED;
        place = step(place, raw[i], separator);
    }
    return column;
}

lb_status lb_csv_window_open(struct lb_csv_window *w, struct lb_bytes *stream, char separator,
                             struct lb_error *err)
{
    *w = (struct lb_csv_window){.stream = stream, .separator = separator, .bytes = malloc(WINDOW)};
    return w->bytes ? LB_OK : lb_fail_nomem(err);
}

void lb_csv_window_free(struct lb_csv_window *w)
{
    free(w->bytes);
    w->bytes = NULL;
}
