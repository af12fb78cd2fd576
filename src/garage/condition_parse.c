#include "base/buf.h"
#include "base/decimal.h"
#include "base/text.h"
#include "garage/condition_parts.h"

#include <stdlib.h>
#include <string.h>

/* Where the reader stands. `text` is kept for counting characters in the words of an error. */
struct reader {
    struct lb_condition *condition;
    const char *text, *at;
    struct lb_error *err;
};

static const char *skip_blanks(const char *at)
{
    return at + strspn(at, LB_CONDITION_BLANKS);
}

/* `detail` adds why, or is NULL. */
static lb_status wrong(const struct reader *in, const char *at, const char *what, const char *detail)
{
    long character = 1;
    for (const char *p = in->text; p < at; p++)
        character += ((unsigned char)*p & 0xC0) != 0x80;
    return lb_fail(in->err, LB_DATA,
                   "condition, character %ld: %s%s%s; a clause looks like engine = k20|k24, ac != yes or "
                   "built >= 2004-03, and ; stands between clauses",
                   character, what, detail ? ": " : "", detail ? detail : "");
}

static lb_status read_key(struct reader *in, struct clause *clause)
{
    size_t length = strcspn(in->at, "=!<>|;");
    struct lb_buf folded = {0};
    char *raw = lb_arena_text(&in->condition->arena, in->at, length);
    if (!raw)
        return lb_fail_nomem(in->err);
    lb_text_fold(&folded, raw);
    bool empty = !folded.failed && !folded.length;
    if (!folded.failed && !empty)
        clause->key = lb_arena_text(&in->condition->arena, folded.text, folded.length);
    lb_buf_free(&folded);
    if (empty)
        return wrong(in, in->at,
                     in->at[length] == ';' || !in->at[length] ? "an empty clause" : "a key is missing", NULL);
    if (!clause->key)
        return lb_fail_nomem(in->err);
    in->at += length;
    return LB_OK;
}

static lb_status read_relation(struct reader *in, enum relation *relation)
{
    static const struct {
        const char *sign;
        enum relation relation;
    } signs[] = {{"!=", IS_NONE_OF}, {"<=", IS_AT_MOST}, {">=", IS_AT_LEAST},
                 {"=", IS_ONE_OF},   {"<", IS_BELOW},    {">", IS_ABOVE}};
    for (size_t i = 0; i < sizeof signs / sizeof signs[0]; i++) {
        size_t length = strlen(signs[i].sign);
        if (strncmp(in->at, signs[i].sign, length) == 0) {
            *relation = signs[i].relation;
            in->at += length;
            return LB_OK;
        }
    }
    return wrong(in, in->at, "expected =, !=, <, <=, > or >= after the key", NULL);
}

/* Values are checked once, here, so that asking never fails. */
static lb_status check_value(struct reader *in, const struct clause *clause, struct value *value,
                             const char *at)
{
    value->is_number = lb_decimal_parse(value->text, &value->number);
    const char *no_date = lb_date_parse(value->text, &value->date);
    value->is_date = !no_date;
    if (strcmp(clause->key, "built") == 0 && no_date)
        return wrong(in, at, "built needs a date", no_date);
    if (clause->relation >= IS_BELOW && !value->is_number && !value->is_date)
        return wrong(in, at, "<, <=, > and >= need a number or a date", NULL);
    return LB_OK;
}

static lb_status read_value(struct reader *in, const struct clause *clause, struct value **out)
{
    const char *start = in->at = skip_blanks(in->at);
    size_t length = strcspn(start, "|;=<>");
    in->at += length;
    while (length && strchr(LB_CONDITION_BLANKS, start[length - 1]))
        length--;
    if (*in->at && strchr("=<>", *in->at))
        return wrong(in, in->at, "a comparison sign inside a value", NULL);
    if (!length)
        return wrong(in, start, "a value is missing", NULL);
    struct value *value = lb_arena_alloc(&in->condition->arena, sizeof *value);
    char *text = lb_arena_text(&in->condition->arena, start, length);
    if (!value || !text)
        return lb_fail_nomem(in->err);
    value->text = text;
    *out = value;
    return check_value(in, clause, value, start);
}

static lb_status read_values(struct reader *in, struct clause *clause)
{
    struct value **last = &clause->values;
    for (;;) {
        lb_status status = read_value(in, clause, last);
        if (status != LB_OK || *in->at != '|')
            return status;
        if (clause->relation >= IS_BELOW)
            return wrong(in, in->at, "<, <=, > and >= take one value", NULL);
        in->at++;
        last = &(*last)->next;
    }
}

static lb_status read_clause(struct reader *in, struct clause **out)
{
    in->at = skip_blanks(in->at);
    struct clause *clause = *out = lb_arena_alloc(&in->condition->arena, sizeof *clause);
    if (!clause)
        return lb_fail_nomem(in->err);
    lb_status status = read_key(in, clause);
    if (status == LB_OK)
        status = read_relation(in, &clause->relation);
    if (status == LB_OK)
        status = read_values(in, clause);
    return status;
}

static lb_status read_clauses(struct reader *in)
{
    struct clause **last = &in->condition->clauses;
    for (;;) {
        lb_status status = read_clause(in, last);
        if (status != LB_OK || !*in->at)
            return status;
        in->at = skip_blanks(in->at + 1); /* past the `;`; one at the very end closes the last clause */
        if (!*in->at)
            return LB_OK;
        last = &(*last)->next;
    }
}

lb_status lb_condition_parse(struct lb_condition **out, const char *text, struct lb_error *err)
{
    *out = NULL;
    if (!text || !*skip_blanks(text))
        return LB_OK;
    struct lb_condition *condition = calloc(1, sizeof *condition);
    if (!condition)
        return lb_fail_nomem(err);
    struct reader in = {.condition = condition, .text = text, .at = text, .err = err};
    lb_status status = read_clauses(&in);
    if (status == LB_OK)
        *out = condition;
    else
        lb_condition_free(condition);
    return status;
}

void lb_condition_free(struct lb_condition *condition)
{
    if (!condition)
        return;
    lb_arena_free(&condition->arena);
    free(condition);
}
