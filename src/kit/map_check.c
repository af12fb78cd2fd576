#include "kit/map_checker.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

const char *lb_severity_name(enum lb_severity severity)
{
    static const char *const names[] = {"error", "warning", "note"};
    return names[severity];
}

void *check_alloc(struct checker *c, size_t count, size_t size)
{
    void *memory = count < SIZE_MAX / 2 / size ? lb_arena_alloc(&c->arena, count * size) : NULL;
    c->failed |= !memory;
    return memory;
}

const char *check_file(const struct checker *c, const struct lb_row *row)
{
    return c->survey->sources.at[row->source];
}

void check_find(struct checker *c, enum lb_severity severity, const char *code, const struct lb_row *row,
                const char *format, ...)
{
    va_list args;
    va_start(args, format);
    int length = vsnprintf(NULL, 0, format, args);
    va_end(args);
    char *words = length < 0 ? NULL : check_alloc(c, (size_t)length + 1, 1);
    if (!words) {
        c->failed = true;
        return;
    }
    va_start(args, format);
    vsnprintf(words, (size_t)length + 1, format, args);
    va_end(args);
    c->failed |= !LB_PUSH(&c->findings, ((struct lb_finding){.code = code,
                                                             .severity = severity,
                                                             .file = check_file(c, row),
                                                             .line = row->line,
                                                             .message = words}));
    c->report.counts[severity]++;
}

void check_tally(struct checker *c, struct tally *tally, const char *key, const struct lb_row *row)
{
    uint32_t id;
    if (!lb_names_add(&tally->keys, key, &id) ||
        (id == tally->at.count && !LB_PUSH(&tally->at, ((struct tallied){row, 0})))) {
        c->failed = true;
        return;
    }
    if (id < tally->at.count)
        tally->at.at[id].count++;
}

void check_tally_free(struct tally *tally)
{
    lb_names_free(&tally->keys);
    free(tally->at.at);
}

const struct lb_condition *check_condition(const struct checker *c, const struct lb_row *row)
{
    return row->doubt_count ? c->conditions[row->condition] : NULL;
}

const char *check_when(const struct checker *c, const struct lb_row *row)
{
    return row->doubt_count ? c->survey->conditions.at[row->condition] : "";
}

bool check_together(struct checker *c, const struct lb_row *a, const struct lb_row *b)
{
    bool found = false;
    const struct lb_condition *const both[] = {check_condition(c, a), check_condition(c, b)};
    if (!both[0] || !both[1] || both[0] == both[1])
        return true;
    const struct lb_variant_question question = {.holds = both, .hold_count = 2};
    c->failed |= lb_variants_find(&c->variants, &question, &found, NULL, NULL) != LB_OK;
    return found;
}

static int by_place(const void *left, const void *right)
{
    const struct lb_finding *a = left, *b = right;
    if (a->severity != b->severity)
        return a->severity < b->severity ? -1 : 1;
    int order = strcmp(a->file, b->file);
    if (order)
        return order;
    if (a->line != b->line)
        return a->line < b->line ? -1 : 1;
    order = strcmp(a->code, b->code);
    return order ? order : strcmp(a->message, b->message);
}

static lb_status run_checks(struct checker *c)
{
    static lb_status (*const checks[])(struct checker *) = {
        check_read,    check_names, check_steps,      check_reach,  check_conditions,
        check_facts,   check_order, check_duplicates, check_joints, check_fluids,
        check_torques, check_goods, check_belts,
    };
    lb_status status = LB_OK;
    for (size_t i = 0; !status && i < sizeof checks / sizeof *checks; i++) {
        status = checks[i](c);
        if (!status && c->failed)
            status = lb_fail_nomem(c->err);
    }
    return status;
}

lb_status lb_map_check(struct lb_map_report **out, struct lb_store *store, const char *platform,
                       struct lb_error *err)
{
    bool held;
    *out = NULL;
    struct checker *c = calloc(1, sizeof *c);
    if (!c)
        return lb_fail_nomem(err);
    c->store = store;
    c->err = err;
    c->report.platform = platform;
    lb_status status = lb_store_hold(store, &held, err);
    if (!status) {
        status = run_checks(c);
        lb_store_release(store, held);
    }
    if (status) {
        lb_map_report_free(&c->report);
        return status;
    }
    if (c->findings.count)
        qsort(c->findings.at, c->findings.count, sizeof *c->findings.at, by_place);
    c->report.findings = c->findings.at;
    c->report.finding_count = c->findings.count;
    c->report.row_count = c->rows.count;
    *out = &c->report;
    return LB_OK;
}

void lb_map_report_free(struct lb_map_report *report)
{
    if (!report)
        return;
    struct checker *c = (struct checker *)report; /* its first member */
    for (size_t i = 0; c->conditions && i < c->survey->conditions.count; i++)
        lb_condition_free(c->conditions[i]);
    lb_survey_free(c->survey ? &c->survey->survey : NULL);
    lb_variants_free(&c->variants);
    lb_names_free(&c->jobs);
    lb_names_free(&c->explained);
    free(c->job_rows.at);
    free(c->pulleys.at);
    free(c->platforms.at);
    free(c->steps.at);
    free(c->rows.at);
    free(c->findings.at);
    lb_arena_free(&c->arena);
    free(c);
}
