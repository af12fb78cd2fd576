/* How a parsed condition is kept: shared by its reader and its evaluator, nobody else's concern. */
#ifndef LB_GARAGE_CONDITION_PARTS_H
#define LB_GARAGE_CONDITION_PARTS_H

#include "base/arena.h"
#include "base/buf.h"
#include "garage/condition.h"

#include <stdbool.h>
#include <stdint.h>

enum relation { IS_ONE_OF, IS_NONE_OF, IS_BELOW, IS_AT_MOST, IS_ABOVE, IS_AT_LEAST };

struct value {
    struct value *next;
    const char *text;
    int64_t number;
    struct lb_interval date;
    bool is_number, is_date;
};

struct clause {
    struct clause *next;
    const char *key;
    struct value *values;
    enum relation relation;
};

struct lb_condition {
    struct lb_arena arena;
    struct clause *clauses;
};

/* One clause alone, in three values. */
enum lb_truth lb_condition_ask_clause(const struct clause *clause, const struct lb_facts *facts);

/* Appends a day as precisely as `text` was written: YYYY, YYYY-MM or YYYY-MM-DD. */
void lb_condition_write_date(struct lb_buf *out, const char *text, int32_t day);

/* What counts as blank between the parts of a condition. */
#define LB_CONDITION_BLANKS " \t\r\n\v\f"

#endif
