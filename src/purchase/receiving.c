/* What the index says of a part that came: which orders it may belong to, and who waits for it. */
#include "purchase/receiving.h"
#include "base/shell.h"

#include "base/measure.h"
#include "catalog/partkey.h"

#include <string.h>

static lb_status keep(struct receiving *r, struct lb_statement *st, int column, const char **out)
{
    return lb_keep_text(st, column, &r->texts, out, r->err);
}

/* A statement with the kit, the line's key and the part as ?1 to ?3. */
static struct lb_statement *prepare(struct receiving *r, const char *sql)
{
    struct lb_statement *st;
    if (lb_store_prepare(r->store, &st, sql, r->err))
        return NULL;
    lb_bind_integer(st, 1, lb_kit_id(r->kit));
    lb_bind_text(st, 2, r->line ? r->line->need->key : NULL);
    lb_bind_text(st, 3, r->part);
    return st;
}

lb_status receiving_run(struct receiving *r, const char *sql, const int64_t *numbers, int count)
{
    struct lb_statement *st;
    lb_status status = lb_store_prepare(r->store, &st, sql, r->err);
    if (status)
        return status;
    for (int i = 0; i < count; i++)
        lb_bind_integer(st, i + 1, numbers[i]);
    status = lb_run(st, r->err);
    lb_statement_free(st);
    return status;
}

lb_status receiving_name_part(struct receiving *r, const char *brand, const char *number)
{
    struct lb_buf key = {0};
    lb_part_key(&key, brand, number);
    r->part = key.failed ? NULL : lb_arena_text(&r->texts, lb_buf_text(&key), key.length);
    r->receipt.brand = lb_arena_text(&r->texts, brand, strlen(brand));
    r->receipt.number = lb_arena_text(&r->texts, number, strlen(number));
    lb_buf_free(&key);
    return r->part && r->receipt.brand && r->receipt.number ? LB_OK : lb_fail_nomem(r->err);
}

static lb_status refuse_not_ordered(struct receiving *r)
{
    const struct lb_line *line = r->line;
    struct lb_buf name = {0};
    if (r->receipt.brand)
        return lb_fail(r->err, LB_DATA, "no %s %s was ordered for line %d of %s. Nothing was recorded.",
                       r->receipt.brand, r->receipt.number, line->number, r->kit->name);
    return lb_shell_failed(
        &name,
        lb_fail(r->err, LB_DATA,
                "nothing was ordered for line %d of %s (%s). Nothing was recorded. What you got elsewhere is "
                "had: kit set %s %d have",
                line->number, r->kit->name, line->need->article.part_type, lb_shell_word(&name, r->kit->name),
                line->number),
        r->err);
}

/* Of what was ordered for the line: what answers it before what goes with that, open before past, the part
 * that is chosen now before others, the oldest. When nothing was, what was ordered of its part for other
 * lines. */
lb_status receiving_find_part(struct receiving *r)
{
    const struct lb_line *line = r->line;
    bool row = false, named = r->part != NULL;
    if (!named && line->chosen != LB_NO_NAME)
        r->part = line->candidates[line->chosen].part->key;
    struct lb_statement *st = prepare(
        r, "SELECT l.part, l.brand, l.part_number, l.unit FROM order_line l LEFT JOIN supply s "
           "ON s.order_line = l.id AND s.kit = ?1 AND s.line_key = ?2 WHERE s.id IS NOT NULL OR l.part = ?3 "
           "ORDER BY s.id IS NULL, s.beside, " RECEIVING_OPEN " > 0 DESC, l.part = ?3 DESC, l.id");
    if (!st)
        return r->err->status;
    lb_status status = lb_step(st, &row, r->err);
    while (!status && row && named && strcmp(lb_text(st, 0), r->part) != 0)
        status = lb_step(st, &row, r->err);
    if (!status && !row)
        status = refuse_not_ordered(r);
    else if (!status)
        status = lb_need_texts(st, 0, 4, r->err);
    const char **texts[] = {&r->part, &r->receipt.brand, &r->receipt.number, &r->receipt.unit};
    for (int i = 0; !status && i < 4; i++)
        status = keep(r, st, i, texts[i]);
    lb_statement_free(st);
    if (!status)
        receiving_find_type(r, line);
    return status;
}

void receiving_find_type(struct receiving *r, const struct lb_line *line)
{
    for (size_t l = 0; !r->part_type && l < r->kit->line_count; l++)
        for (size_t i = 0; (!line || line == &r->kit->lines[l]) && i < r->kit->lines[l].candidate_count; i++)
            if (strcmp(r->kit->lines[l].candidates[i].part->key, r->part) == 0)
                r->part_type = r->kit->lines[l].candidates[i].part->part_type;
}

lb_status receiving_find_open(struct receiving *r)
{
    bool row;
    lb_status status;
    struct lb_statement *st =
        prepare(r, "SELECT o.label, o.ordered, l.id, l.pack_quantity, " RECEIVING_OPEN
                   ", EXISTS (SELECT 1 FROM supply s WHERE s.order_line = l.id AND s.kit = ?1 AND "
                   "s.line_key = ?2) FROM order_line l JOIN orders o ON o.id = l.\"order\" "
                   "WHERE l.part = ?3 AND " RECEIVING_OPEN " > 0 ORDER BY 6 DESC, l.id");
    if (!st)
        return r->err->status;
    r->open.count = 0;
    while (!(status = lb_step(st, &row, r->err)) && row) {
        struct open_line line = {lb_integer(st, 2), lb_integer(st, 3), lb_integer(st, 4), NULL, NULL};
        status = keep(r, st, 0, &line.supplier);
        if (!status)
            status = keep(r, st, 1, &line.ordered);
        if (!status && !LB_PUSH(&r->open, line))
            status = lb_fail_nomem(r->err);
        if (status)
            break;
    }
    lb_statement_free(st);
    return status;
}

static void look_in(struct waiting *waiting, const struct lb_kit *kit, int64_t *given)
{
    waiting->ours = true;
    for (size_t i = 0; i < kit->line_count; i++) {
        if (strcmp(kit->lines[i].need->key, waiting->line_key) != 0)
            continue;
        waiting->line = &kit->lines[i];
        waiting->given = &given[i];
    }
}

static void find_line(const struct receiving *r, struct waiting *waiting, bool own_kit)
{
    int64_t *given = r->credited + r->kit->line_count;
    if (own_kit) {
        look_in(waiting, r->kit, r->credited);
        return;
    }
    for (size_t k = 0; r->fleet && k < r->fleet->kit_count; k++) {
        if (strcmp(r->fleet->kits[k]->name, waiting->kit_name) == 0)
            look_in(waiting, r->fleet->kits[k], given);
        given += r->fleet->kits[k]->line_count;
    }
}

/* The line that was named, then the others of its kit, then other kits'. */
lb_status receiving_find_waiting(struct receiving *r, int64_t order_line)
{
    bool row;
    lb_status status;
    struct lb_statement *st =
        prepare(r, "SELECT k.name, s.line_key, s.id, s.quantity - s.here - s.lost, "
                   "s.kit = ?1 AND s.line_key = ?2, s.kit = ?1, s.beside FROM supply s JOIN kit k "
                   "ON k.id = s.kit WHERE s.order_line = ?4 AND s.part = ?3 AND s.quantity > s.here + s.lost "
                   "ORDER BY 5 DESC, 6 DESC, s.id");
    if (!st)
        return r->err->status;
    lb_bind_integer(st, 4, order_line);
    r->waiting.count = 0;
    while (!(status = lb_step(st, &row, r->err)) && row) {
        struct waiting waiting = {.id = lb_integer(st, 2),
                                  .open = lb_integer(st, 3),
                                  .named = lb_integer(st, 4) != 0,
                                  .beside = lb_integer(st, 6) != 0};
        status = lb_need_texts(st, 0, 2, r->err);
        if (!status)
            status = keep(r, st, 0, &waiting.kit_name);
        if (!status)
            status = keep(r, st, 1, &waiting.line_key);
        if (!status)
            find_line(r, &waiting, lb_integer(st, 5) != 0);
        if (!status && !LB_PUSH(&r->waiting, waiting))
            status = lb_fail_nomem(r->err);
        if (status)
            break;
    }
    lb_statement_free(st);
    return status;
}

lb_status receiving_find_taken(struct receiving *r)
{
    bool row;
    lb_status status;
    struct lb_statement *st =
        prepare(r, "SELECT id, order_line, here FROM supply WHERE kit = ?1 AND line_key = ?2 AND part = ?3 "
                   "AND here > 0 AND order_line IS NOT NULL ORDER BY id DESC");
    if (!st)
        return r->err->status;
    r->taken.count = 0;
    while (!(status = lb_step(st, &row, r->err)) && row)
        if (!LB_PUSH(&r->taken, ((struct taken){lb_integer(st, 0), lb_integer(st, 1), lb_integer(st, 2)}))) {
            status = lb_fail_nomem(r->err);
            break;
        }
    lb_statement_free(st);
    return status;
}

/* What was ordered of the part for anybody, and what became of it; what was ordered and is over counts too.
 */
static lb_status sum_up(struct receiving *r, int64_t *ordered, int64_t *came)
{
    bool row;
    struct lb_statement *st =
        prepare(r, "SELECT coalesce(sum(packs * pack_quantity), 0), coalesce(sum(came + wrong + damaged), 0) "
                   "FROM order_line WHERE part = ?3");
    lb_status status = st ? lb_step(st, &row, r->err) : r->err->status;
    if (!status) {
        *ordered = lb_integer(st, 0);
        *came = lb_integer(st, 1);
    }
    lb_statement_free(st);
    return status;
}

/* How much of the part was named in the same call before. */
static int64_t named_before(const struct receiving *r)
{
    int64_t quantity = 0;
    for (const struct receiving *one = r->before; one; one = one->before)
        quantity += strcmp(one->part, r->part) == 0 ? one->receipt.quantity : 0;
    return quantity;
}

lb_status receiving_refuse(struct receiving *r, int64_t quantity, int64_t possible)
{
    struct lb_buf words = {0};
    const char *unit = r->receipt.unit;
    int64_t ordered = 0, came = 0, before = named_before(r);
    lb_store_rollback(r->store); /* what the sums are to tell is how it was before */
    lb_status status = sum_up(r, &ordered, &came);
    if (status)
        return status;
    lb_measure_print(&words, quantity, unit);
    lb_buf_printf(&words, " of %s %s: of ", r->receipt.brand, r->receipt.number);
    lb_measure_print(&words, ordered, unit);
    lb_buf_puts(&words, " that were ordered ");
    lb_measure_print(&words, came, unit);
    lb_buf_puts(&words, " came before, ");
    if (before) {
        lb_measure_print(&words, before, unit);
        lb_buf_puts(&words, " were named just before this, ");
    }
    lb_buf_puts(&words, "and ");
    if (possible)
        lb_measure_print(&words, possible, unit);
    lb_buf_puts(&words, possible ? " can still be counted" : "nothing of it is on its way");
    lb_buf_puts(&words, ". Nothing was recorded. What came besides goes on the shelf: lastbolt shelf set ");
    lb_shell_word(&words, r->receipt.brand);
    lb_buf_putc(&words, ' ');
    lb_shell_word(&words, r->receipt.number);
    lb_buf_puts(&words, " QUANTITY");
    status = words.failed ? lb_fail_nomem(r->err)
                          : lb_fail(r->err, LB_DATA, "line %d of %s, %s", r->line->number, r->kit->name,
                                    lb_buf_text(&words));
    lb_buf_free(&words);
    return status;
}
