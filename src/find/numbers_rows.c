/* Rows and the parts they name. */
#include "find/numbers_private.h"

#include <stdlib.h>
#include <string.h>

enum { SPANS = 8 };

/* Rows from `first` to before `end` are there, and of the kinds of one file. */
struct span {
    int64_t first, end;
    enum row_kind kind;
};

struct rows {
    struct lb_store *store;
    struct lb_statement *span, *read[ROW_KINDS];
    struct span spans[SPANS]; /* the last ones met: rows of one file lie together */
    unsigned next;
};

static const struct {
    const char *kind, *sql;
} tables[ROW_KINDS] = {
    [ROW_PARTS] = {"parts", "SELECT brand, part_number FROM parts WHERE id = ?1"},
    [ROW_OFFERS] = {"offers", "SELECT brand, part_number FROM offers WHERE id = ?1"},
    [ROW_CROSSREFS] = {"crossrefs",
                       "SELECT brand, part_number, other_brand, other_number FROM crossrefs WHERE id = ?1"},
    [ROW_SUPERSESSIONS] = {"supersessions",
                           "SELECT brand, part_number, new_brand, new_number FROM supersessions WHERE id = "
                           "?1"},
    [ROW_APPLICATIONS] = {"applications", "SELECT brand, part_number FROM applications WHERE id = ?1"},
};

lb_status numbers_rows_open(struct rows **out, struct lb_store *store, struct lb_error *err)
{
    struct rows *rows = *out = calloc(1, sizeof *rows);
    if (!rows)
        return lb_fail_nomem(err);
    rows->store = store;
    return lb_store_prepare(store, &rows->span,
                            "SELECT p.first, p.first + p.count, s.kinds FROM span p JOIN source s ON s.id = "
                            "p.source WHERE p.first = (SELECT max(first) FROM span WHERE first <= ?1)",
                            err);
}

void numbers_rows_close(struct rows *rows)
{
    if (!rows)
        return;
    lb_statement_free(rows->span);
    for (int i = 0; i < ROW_KINDS; i++)
        lb_statement_free(rows->read[i]);
    free(rows);
}

void numbers_rows_rest(struct rows *rows)
{
    for (int i = 0; i < ROW_KINDS; i++)
        if (rows->read[i])
            lb_statement_reset(rows->read[i]);
    memset(rows->spans, 0, sizeof rows->spans);
}

/* The first one of `parts+offers`. */
static enum row_kind first_kind(const char *kinds)
{
    for (int k = 0; k < ROW_KINDS; k++) {
        size_t length = strlen(tables[k].kind);
        for (const char *at = kinds; at; at = strchr(at, '+')) {
            at += *at == '+';
            if (strncmp(at, tables[k].kind, length) == 0 && (at[length] == '+' || !at[length]))
                return (enum row_kind)k;
        }
    }
    return ROW_KINDS;
}

lb_status numbers_rows_kind(struct rows *rows, int64_t row, enum row_kind *kind, struct lb_error *err)
{
    bool found;
    for (int i = 0; i < SPANS; i++)
        if (row >= rows->spans[i].first && row < rows->spans[i].end) {
            *kind = rows->spans[i].kind;
            return LB_OK;
        }
    *kind = ROW_KINDS;
    lb_bind_integer(rows->span, 1, row);
    lb_status status = lb_step(rows->span, &found, err);
    if (!status && found) {
        const char *kinds = lb_text(rows->span, 2);
        struct span *span = &rows->spans[rows->next++ % SPANS];
        *span = (struct span){lb_integer(rows->span, 0), lb_integer(rows->span, 1),
                              first_kind(kinds ? kinds : "")};
        if (row < span->end)
            *kind = span->kind;
    }
    lb_statement_reset(rows->span);
    return status;
}

lb_status numbers_rows_read(struct rows *rows, int64_t row, enum row_kind kind, struct sides *sides,
                            struct lb_error *err)
{
    bool found;
    *sides = (struct sides){0};
    lb_status status =
        rows->read[kind] ? LB_OK : lb_store_prepare(rows->store, &rows->read[kind], tables[kind].sql, err);
    if (status)
        return status;
    struct lb_statement *st = rows->read[kind];
    lb_statement_reset(st);
    lb_bind_integer(st, 1, row);
    status = lb_step(st, &found, err);
    if (status || !found)
        return status;
    sides->count = kind == ROW_CROSSREFS || kind == ROW_SUPERSESSIONS ? 2 : 1;
    for (int i = 0; i < sides->count; i++) {
        sides->brand[i] = lb_text(st, 2 * i);
        sides->number[i] = lb_text(st, 2 * i + 1);
        if (!sides->brand[i] || !sides->number[i])
            return lb_store_refuse_damaged(rows->store, err);
    }
    return LB_OK;
}
