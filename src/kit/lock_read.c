/* The text of a lock, read strictly: what it may say next is known at every line, so that a text that
 * somebody changed into something else is refused where that begins. */
#include "base/decimal.h"
#include "base/text.h"
#include "kit/lock_reader.h"

#include <stdlib.h>
#include <string.h>

/* A new element of the list that a record belongs to, with numbers that nobody stated; NULL: out of memory.
 */
static void *new_record(struct lock_reader *r, enum lock_record which)
{
    struct lb_kit_lock *lock = r->lock;
    struct lb_lock_line *line = lock->lines.count ? &lock->lines.at[lock->lines.count - 1] : NULL;
#define NEW(vec, ...) (LB_PUSH(vec, __VA_ARGS__) ? &(vec)->at[(vec)->count - 1] : NULL)
    switch (which) {
    case LOCK_FACT:
        return NEW(&lock->facts, (struct lb_lock_fact){0});
    case LOCK_WANT:
        return NEW(&lock->wants, NULL);
    case LOCK_SOURCE:
        return NEW(&lock->sources, (struct lb_lock_source){0});
    case LOCK_LINE:
        return NEW(&lock->lines, (struct lb_lock_line){0});
    case LOCK_PLACE:
        return NEW(&line->places, (struct lb_lock_place){0});
    case LOCK_OFFER:
        return NEW(&line->part.offers, (struct lb_lock_offer){0});
    case LOCK_FASTENING:
        return NEW(&lock->fastenings,
                   (struct lb_lock_fastening){.torque = LB_LOCK_UNSAID, .angle = LB_LOCK_UNSAID});
    case LOCK_CIRCUIT:
        return NEW(&lock->circuits,
                   (struct lb_lock_circuit){.mix = LB_LOCK_UNSAID, .freeze_to = LB_LOCK_UNSAID});
    case LOCK_CAUTION:
        return NEW(&lock->cautions, NULL);
    case LOCK_STEP:
        return NEW(&lock->steps, NULL);
    case LOCK_QUESTION:
        return NEW(&lock->questions, NULL);
    case LOCK_HEADER:
    case LOCK_RECORDS:
        break;
    }
#undef NEW
    return lock;
}

/* The field of the record at hand that a name stands for; NULL: none that may still come. */
static const struct lock_field *find_field(const struct lock_reader *r, int depth, const char *name)
{
    const struct lock_kind *kind = &lock_kinds[r->now];
    for (size_t i = r->next; r->record && i < kind->field_count; i++)
        if (depth == kind->depth && strcmp(kind->fields[i].name, name) == 0)
            return &kind->fields[i];
    return NULL;
}

/* Moves on to a field: what must stand before it may not be missing. `to` NULL: to the record's end. */
static lb_status pass(struct lock_reader *r, const struct lock_field *to)
{
    const struct lock_kind *kind = &lock_kinds[r->now];
    size_t end = to ? (size_t)(to - kind->fields) : kind->field_count;
    for (size_t i = r->next; r->record && i < end; i++)
        if (kind->fields[i].must)
            return lock_refuse(r, "before it something is missing, namely ", kind->fields[i].name);
    r->next = end + 1;
    return LB_OK;
}

/* A part has a brand, a number and what it is counted in, or it is none, and then it has no offers. */
static lb_status close_record(struct lock_reader *r, enum lock_record next)
{
    lb_status status = pass(r, NULL);
    if (status || r->now != LOCK_LINE || !r->record)
        return status;
    const struct lb_lock_part *part = &r->lock->lines.at[r->lock->lines.count - 1].part;
    int told = (part->brand != NULL) + (part->number != NULL) + (part->unit != NULL);
    if (told != 0 && told != 3)
        return lock_refuse(r, "before it something is missing, namely ", "brand, number or counted in");
    return next == LOCK_OFFER && !told ? lock_refuse(r, "an offer of a part that is not named", "") : LB_OK;
}

static bool within_line(enum lock_record which)
{
    return which == LOCK_PLACE || which == LOCK_OFFER;
}

/* May a record of this kind come now? They stand in the order of their enum. */
static bool may_open(const struct lock_reader *r, enum lock_record which)
{
    if (!r->record)
        return which == LOCK_HEADER;
    if (which == LOCK_HEADER)
        return false;
    return within_line(which) ? r->top == LOCK_LINE && which >= r->now : which >= r->top;
}

/* The kind of record that a name begins; LOCK_RECORDS: none that may come now. */
static enum lock_record find_kind(const struct lock_reader *r, int depth, const char *name)
{
    for (int which = 0; which < LOCK_RECORDS; which++) {
        const struct lock_kind *kind = &lock_kinds[which];
        if (depth == kind->first_depth && strcmp(kind->fields[0].name, name) == 0 &&
            may_open(r, (enum lock_record)which))
            return (enum lock_record)which;
    }
    return LOCK_RECORDS;
}

static lb_status open_record(struct lock_reader *r, enum lock_record which, char *value)
{
    lb_status status = close_record(r, which);
    if (status)
        return status;
    r->record = new_record(r, which);
    if (!r->record)
        return lb_fail_nomem(r->err);
    r->now = which;
    r->top = within_line(which) ? r->top : which;
    r->next = 1;
    status = lock_read_value(r, &lock_kinds[which].fields[0], value);
    uint32_t id;
    size_t known = r->keys.count;
    if (status || which != LOCK_LINE)
        return status;
    if (!lb_names_add(&r->keys, ((const struct lb_lock_line *)r->record)->key, &id))
        return lb_fail_nomem(r->err);
    return r->keys.count > known ? LB_OK : lock_refuse(r, "this line stands here twice: ", value);
}

static lb_status read_end(struct lock_reader *r)
{
    lb_status status =
        r->record ? close_record(r, LOCK_RECORDS) : lock_refuse(r, "it ends before it begins", "");
    r->ended = true;
    return status;
}

static lb_status read_row(struct lock_reader *r, char *row)
{
    size_t blanks = strspn(row, " ");
    char *name = row + blanks, *colon = strchr(name, ':');
    if (!*name)
        return LB_OK;
    if (r->ended)
        return lock_refuse(r, "behind its end stands ", name);
    if (strcmp(row, LOCK_END) == 0)
        return read_end(r);
    if (!colon || blanks % 2 || (colon[1] && colon[1] != ' '))
        return lock_refuse(r, "not \"name: value\": ", name);
    *colon = '\0';
    char *value = colon + 1 + (colon[1] == ' ');
    int depth = (int)(blanks / 2);
    const struct lock_field *field = find_field(r, depth, name);
    if (field) {
        lb_status status = pass(r, field);
        return status ? status : lock_read_value(r, field, value);
    }
    enum lock_record which = find_kind(r, depth, name);
    return which == LOCK_RECORDS ? lock_refuse(r, "unknown, or not in its place: ", name)
                                 : open_record(r, which, value);
}

static lb_status read_head(struct lock_reader *r, const char *row)
{
    int64_t version = 0;
    const char *rest = row;
    if (strncmp(row, LOCK_HEAD, strlen(LOCK_HEAD)) != 0 ||
        lb_decimal_scan(row + strlen(LOCK_HEAD), 0, INT32_MAX, &version, &rest) != LB_SCAN_OK || *rest ||
        version < 1)
        return lb_fail_at(r->err, r->name, 1, 0,
                          "%s:1: this is no locked kit; one begins with \"" LOCK_HEAD "%d\".", r->name,
                          LOCK_VERSION);
    if (version > LOCK_VERSION)
        return lb_fail_at(
            r->err, r->name, 1, 0,
            "%s:1: this kit was locked by a newer lastbolt, in version %d of the form; this one "
            "knows version %d.",
            r->name, (int)version, LOCK_VERSION);
    return LB_OK;
}

/* Row by row, in a copy that is cut into them. */
static lb_status read_rows(struct lock_reader *r, char *text)
{
    lb_status status = LB_OK;
    for (char *row = text, *end; !status && *row; row = end) {
        end = row + strcspn(row, "\n");
        if (end > row && end[-1] == '\r')
            end[-1] = '\0';
        if (*end)
            *end++ = '\0';
        r->row++;
        status = r->row == 1 ? read_head(r, row) : read_row(r, row);
    }
    if (status || r->ended)
        return status;
    if (!r->row)
        return read_head(r, "");
    return lb_fail_at(r->err, r->name, r->row, 0,
                      "%s:%ld: the locked kit is cut off here; its last line is \"" LOCK_END "\".", r->name,
                      r->row);
}

static lb_status refuse_bytes(struct lock_reader *r, const char *text, size_t bad)
{
    r->row = 1;
    for (size_t i = 0; i < bad; i++)
        r->row += text[i] == '\n';
    return lock_refuse(r, "bytes that are no UTF-8", "");
}

lb_status lb_lock_read(struct lb_kit_lock *out, const char *text, size_t length, const char *name,
                       struct lb_error *err)
{
    struct lock_reader r = {.lock = out, .name = name, .err = err};
    size_t bad;
    *out = (struct lb_kit_lock){0};
    if (length >= 3 &&
        memcmp(text, "\xEF\xBB\xBF", 3) == 0) { /* the mark that some editors put before UTF-8 */
        text += 3;
        length -= 3;
    }
    if (!lb_text_is_utf8(text, length, &bad))
        return refuse_bytes(&r, text, bad);
    char *copy = strndup(text, length);
    lb_status status = copy ? read_rows(&r, copy) : lb_fail_nomem(err);
    if (status)
        lb_lock_free(out);
    lb_names_free(&r.keys);
    free(copy);
    return status;
}

void lb_lock_free(struct lb_kit_lock *lock)
{
    for (size_t i = 0; i < lock->lines.count; i++) {
        free(lock->lines.at[i].places.at);
        free(lock->lines.at[i].part.offers.at);
    }
    free(lock->facts.at);
    free(lock->wants.at);
    free(lock->sources.at);
    free(lock->lines.at);
    free(lock->fastenings.at);
    free(lock->circuits.at);
    free(lock->cautions.at);
    free(lock->steps.at);
    free(lock->questions.at);
    lb_arena_free(&lock->texts);
    *lock = (struct lb_kit_lock){0};
}
