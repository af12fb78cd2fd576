#include "base/text.h"
#include "kit/drift_parts.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

const char *lb_drift_name(enum lb_drift_code code)
{
    static const char *const names[LB_DRIFT_CODES] = {"job",  "fact",   "map",     "chosen", "superseded",
                                                      "gone", "dearer", "cheaper", "source"};
    return names[code];
}

lb_status drift_say(struct drifting *d, enum lb_drift_code code, int line, const char *format, ...)
{
    va_list args;
    char *text = NULL;
    va_start(args, format);
    int length = vasprintf(&text, format, args);
    va_end(args);
    const char *kept = length < 0 ? NULL : lb_arena_text(&d->out->texts, text, (size_t)length);
    if (length >= 0)
        free(text);
    return kept && LB_PUSH(&d->out->items, ((struct lb_drift_item){code, line, kept}))
               ? LB_OK
               : lb_fail_nomem(d->err);
}

bool drift_same(const char *a, const char *b)
{
    return a && b ? strcmp(a, b) == 0 : a == b;
}

lb_status drift_text(struct drifting *d, enum lb_drift_code code, int line, const char *label,
                     const char *was, const char *now)
{
    if (drift_same(was, now))
        return LB_OK;
    return drift_say(d, code, line, "%s: %s → %s", label, was ? was : "not stated", now ? now : "not stated");
}

const struct lb_lock_line *drift_line(const struct lb_names *keys, const struct lb_kit_lock *lock,
                                      const char *key)
{
    uint32_t id = lb_names_find(keys, key);
    return id == LB_NO_NAME ? NULL : &lock->lines.at[id];
}

static bool lists(const char *const *texts, size_t count, const char *wanted)
{
    for (size_t i = 0; i < count; i++)
        if (strcmp(texts[i], wanted) == 0)
            return true;
    return false;
}

static lb_status compare_wants(struct drifting *d)
{
    const struct lb_kit_lock *was = d->was, *now = d->now;
    lb_status status = LB_OK;
    for (size_t i = 0; !status && i < was->wants.count; i++)
        if (!lists(now->wants.at, now->wants.count, was->wants.at[i]))
            status = drift_say(d, LB_DRIFT_JOB, 0, "the kit was also for: %s", was->wants.at[i]);
    for (size_t i = 0; !status && i < now->wants.count; i++)
        if (!lists(was->wants.at, was->wants.count, now->wants.at[i]))
            status = drift_say(d, LB_DRIFT_JOB, 0, "the kit is now also for: %s", now->wants.at[i]);
    return status;
}

static const char *fact_of(const struct lb_kit_lock *lock, const char *key)
{
    for (size_t i = 0; i < lock->facts.count; i++)
        if (strcmp(lock->facts.at[i].key, key) == 0)
            return lock->facts.at[i].value;
    return NULL;
}

static lb_status compare_facts(struct drifting *d)
{
    const struct lb_kit_lock *was = d->was, *now = d->now;
    const struct {
        const char *label, *was, *now;
    } own[] = {{"vehicle", was->vehicle, now->vehicle},
               {"make", was->make, now->make},
               {"model", was->model, now->model},
               {"built", was->built, now->built},
               {"vin", was->vin, now->vin}};
    lb_status status = LB_OK;
    for (size_t i = 0; !status && i < sizeof own / sizeof *own; i++)
        status = drift_text(d, LB_DRIFT_FACT, 0, own[i].label, own[i].was, own[i].now);
    for (size_t i = 0; !status && i < was->facts.count; i++) {
        const struct lb_lock_fact *fact = &was->facts.at[i];
        status = drift_text(d, LB_DRIFT_FACT, 0, fact->key, fact->value, fact_of(now, fact->key));
    }
    for (size_t i = 0; !status && i < now->facts.count; i++) {
        const struct lb_lock_fact *fact = &now->facts.at[i];
        if (!fact_of(was, fact->key))
            status = drift_text(d, LB_DRIFT_FACT, 0, fact->key, NULL, fact->value);
    }
    return status;
}

/* A file that is gone is said by itself; those that differ are listed together. */
static lb_status compare_sources(struct drifting *d)
{
    struct lb_buf names = {0};
    lb_status status = LB_OK;
    for (size_t i = 0; !status && i < d->was->sources.count; i++) {
        const struct lb_lock_source *source = &d->was->sources.at[i];
        const char *now = d->fates->fingerprints[i];
        if (!now)
            status = drift_say(d, LB_DRIFT_GONE, 0, "%s is not in the index any more", source->name);
        else if (strcmp(now, source->fingerprint) != 0)
            lb_buf_printf(&names, "%s%s", names.length ? ", " : "", source->name);
    }
    if (!status && names.failed)
        status = lb_fail_nomem(d->err);
    if (!status && names.length)
        status = drift_say(d, LB_DRIFT_SOURCE, 0, "imported again and not the same: %s", names.text);
    lb_buf_free(&names);
    return status;
}

/* An item and when it was found. */
struct found {
    struct lb_drift_item item;
    size_t at;
};

/* By line and code; what belongs to no line first, but for the files at the end; then as it was found. */
static int by_line(const void *left, const void *right)
{
    const struct found *a = left, *b = right;
    bool a_file = a->item.code == LB_DRIFT_SOURCE, b_file = b->item.code == LB_DRIFT_SOURCE;
    if (a_file != b_file)
        return a_file - b_file;
    if (a->item.line != b->item.line)
        return a->item.line < b->item.line ? -1 : 1;
    if (a->item.code != b->item.code)
        return (int)a->item.code - (int)b->item.code;
    return a->at < b->at ? -1 : 1;
}

static lb_status sort(struct lb_drift *drift, struct lb_error *err)
{
    size_t count = drift->items.count;
    struct found *found = calloc(count + 1, sizeof *found);
    if (!found)
        return lb_fail_nomem(err);
    for (size_t i = 0; i < count; i++)
        found[i] = (struct found){drift->items.at[i], i};
    qsort(found, count, sizeof *found, by_line);
    for (size_t i = 0; i < count; i++)
        drift->items.at[i] = found[i].item;
    free(found);
    return LB_OK;
}

static lb_status index_lines(struct lb_names *keys, const struct lb_kit_lock *lock, struct lb_error *err)
{
    uint32_t id;
    for (size_t i = 0; i < lock->lines.count; i++)
        if (!lb_names_add(keys, lock->lines.at[i].key, &id))
            return lb_fail_nomem(err);
    return LB_OK;
}

lb_status lb_drift_compare(struct lb_drift *out, const struct lb_kit_lock *was, const struct lb_kit_lock *now,
                           const struct lb_lock_fates *fates, struct lb_error *err)
{
    static lb_status (*const stages[])(struct drifting *) = {compare_wants, compare_facts, drift_map,
                                                             drift_work,    drift_trade,   compare_sources};
    struct drifting d = {.out = out, .was = was, .now = now, .fates = fates, .err = err};
    *out = (struct lb_drift){.locked = was->locked};
    lb_status status = index_lines(&d.was_keys, was, err);
    if (!status)
        status = index_lines(&d.now_keys, now, err);
    for (size_t i = 0; !status && i < sizeof stages / sizeof *stages; i++)
        status = stages[i](&d);
    if (!status)
        status = sort(out, err);
    if (status)
        lb_drift_free(out);
    lb_names_free(&d.was_keys);
    lb_names_free(&d.now_keys);
    return status;
}

lb_status lb_kit_drift(struct lb_drift *out, struct lb_store *store, const struct lb_kit *kit,
                       const struct lb_kit_lock *was, int32_t today, struct lb_error *err)
{
    struct lb_kit_lock now = {0};
    struct lb_lock_fates fates = {0};
    *out = (struct lb_drift){0};
    if (!lb_text_equal_nocase(was->kit, kit->name))
        return lb_fail(err, LB_DATA, "it is the lock of another kit, %s, not of %s.", was->kit, kit->name);
    lb_status status = lb_lock_make(&now, store, kit, today, err);
    if (!status)
        status = lb_lock_look_up(&fates, store, was, today, err);
    if (!status)
        status = lb_drift_compare(out, was, &now, &fates, err);
    lb_lock_fates_free(&fates);
    lb_lock_free(&now);
    return status;
}

void lb_drift_count(struct lb_buf *out, const struct lb_drift *drift)
{
    size_t counts[LB_DRIFT_CODES] = {0};
    const char *between = "";
    for (size_t i = 0; i < drift->items.count; i++)
        counts[drift->items.at[i].code]++;
    for (int code = 0; code < LB_DRIFT_CODES; code++) {
        if (!counts[code])
            continue;
        lb_buf_printf(out, "%s%zu %s", between, counts[code], lb_drift_name((enum lb_drift_code)code));
        between = ", ";
    }
}

void lb_drift_free(struct lb_drift *drift)
{
    free(drift->items.at);
    lb_arena_free(&drift->texts);
    *drift = (struct lb_drift){0};
}
