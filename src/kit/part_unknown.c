/* A part that no catalogue describes: who offers it all the same, who listed it once, which numbers lie near.
 */
#include "base/text.h"
#include "catalog/partkey.h"
#include "catalog/spans.h"
#include "kit/build.h"
#include "kit/former.h"

#include <string.h>

/* Numbers of that brand that lie near; a whole brand may be large, so only those that begin alike are looked
 * at. */
static lb_status refuse_unknown(struct build *b, const char *brand, const char *number)
{
    struct lb_names near_names = {0};
    struct lb_buf near = {0}, folded = {0}, begin = {0};
    struct lb_statement *st = NULL;
    bool row;
    uint32_t id;
    lb_text_fold(&folded, brand);
    lb_part_number_key(&begin, number);
    if (begin.length > 2)
        begin.text[2] = '\0';
    lb_status status = folded.failed || begin.failed ? lb_fail_nomem(b->err)
                                                     : lb_lookup_near(b->lookup, lb_buf_text(&folded),
                                                                      lb_buf_text(&begin), &b->rows, b->err);
    b->rows_of = NULL;
    if (!status)
        status = lb_store_prepare(
            b->store, &st,
            "SELECT r.part_number" LB_PLACED("parts") "WHERE r.id IN (SELECT value FROM json_each(?1))",
            b->err);
    if (!status)
        lb_bind_text(st, 1, lb_buf_text(&b->rows));
    while (!status && !(status = lb_step(st, &row, b->err)) && row)
        if (!lb_names_add(&near_names, lb_text(st, 0), &id))
            status = lb_fail_nomem(b->err);
    lb_statement_free(st);
    if (!status && near_names.count && lb_text_nearest(&near, number, near_names.at, near_names.count))
        status = lb_fail(b->err, LB_DATA, "no catalogue knows %s %s. Did you mean %s?", brand, number,
                         lb_buf_text(&near));
    else if (!status)
        status = lb_fail(b->err, LB_DATA, "no catalogue knows %s %s.", brand, number);
    lb_buf_free(&folded);
    lb_buf_free(&begin);
    lb_names_free(&near_names);
    lb_buf_free(&near);
    return status;
}

/* Offered, but described by no parts row: the offer stands in the index and says where it came from. */
static lb_status refuse_undescribed(struct build *b, struct entry *entry, const char *brand,
                                    const char *number)
{
    struct lb_buf once = {0};
    const struct lb_part_offer *offer = &entry->offers.at[0];
    lb_status status = build_former(b, entry);
    if (status)
        return status;
    const struct lb_former *row = lb_former_last(&entry->part, "parts");
    if (row) {
        lb_buf_puts(&once, " any more; ");
        lb_former_say(&once, row);
    }
    status = once.failed ? lb_fail_nomem(b->err)
                         : lb_fail(b->err, LB_DATA,
                                   "%s offers %s %s (%s:%u), but no parts file describes it%s. Import one "
                                   "that does.",
                                   b->suppliers.at[offer->supplier].label, brand, number, offer->place.file,
                                   offer->place.line, lb_buf_text(&once));
    lb_buf_free(&once);
    return status;
}

lb_status build_refuse_part(struct build *b, struct entry *entry, const char *brand, const char *number)
{
    if (entry->offers.count)
        return refuse_undescribed(b, entry, brand, number);
    lb_status status = build_refuse_former(b, brand, number);
    return status ? status : refuse_unknown(b, brand, number);
}
