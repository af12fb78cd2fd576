/* The lines of a parcel with what its list and its mail say of them. */
#include "purchase/order_text.h"

lb_status order_reader_open(struct order_reader *reader, struct lb_store *store,
                            const struct lb_purchase *purchase, struct lb_arena *texts, struct lb_error *err)
{
    *reader = (struct order_reader){.purchase = purchase, .texts = texts, .err = err};
    lb_status status = lb_uses_find(&reader->uses, purchase, err);
    return status ? status
                  : lb_store_prepare(store, &reader->pack, "SELECT pack_quantity FROM offers WHERE id = ?1",
                                     err);
}

void order_reader_close(struct order_reader *reader)
{
    lb_statement_free(reader->pack);
    lb_uses_free(&reader->uses);
}

static lb_status read_pack(const struct order_reader *reader, struct order_row *row)
{
    bool found;
    row->pack = row->offer->pack_quantity;
    lb_bind_integer(reader->pack, 1, row->offer->row);
    lb_status status = lb_step(reader->pack, &found, reader->err);
    if (!status && found)
        row->pack = lb_integer(reader->pack, 0);
    lb_statement_reset(reader->pack);
    return status;
}

static lb_status read_kits(const struct order_reader *reader, struct order_row *row)
{
    struct lb_buf names = {0};
    const struct lb_use *use = &reader->uses.parts[row->line->part];
    for (size_t k = 0; k < reader->purchase->kit_count; k++) {
        bool is_for = false;
        for (size_t i = 0; i < use->shares.count; i++)
            is_for |= reader->purchase->needs[use->shares.at[i].need].kit == k;
        if (is_for)
            lb_buf_printf(&names, "%s%s", names.length ? "; " : "", reader->purchase->kits[k]->name);
    }
    row->kits = names.failed ? NULL : lb_arena_text(reader->texts, lb_buf_text(&names), names.length);
    lb_buf_free(&names);
    return row->kits ? LB_OK : lb_fail_nomem(reader->err);
}

lb_status order_read_rows(const struct order_reader *reader, const struct lb_parcel *parcel,
                          struct order_rows *rows)
{
    const struct lb_purchase *purchase = reader->purchase;
    lb_status status = LB_OK;
    rows->count = parcel->line_count;
    rows->at = lb_arena_alloc(reader->texts, (rows->count + 1) * sizeof *rows->at);
    if (!rows->at)
        return lb_fail_nomem(reader->err);
    for (size_t i = 0; !status && i < rows->count; i++) {
        const struct lb_parcel_line *line = &parcel->lines[i];
        rows->at[i] = (struct order_row){.part = purchase->parts[line->part],
                                         .offer = purchase->offers[line->part][line->offer],
                                         .line = line,
                                         .parcel = parcel,
                                         .supplier = &purchase->market.suppliers[parcel->supplier]};
        status = read_pack(reader, &rows->at[i]);
        if (!status)
            status = read_kits(reader, &rows->at[i]);
    }
    return status;
}
