#include "importers/recaster.h"
#include "base/text.h"

#include "base/decimal.h"

#include <stdlib.h>
#include <string.h>

struct lb_recaster {
    const struct lb_scheme *scheme;
    int entries[3][LB_KIND_COLUMNS_MAX];             /* of the scheme, per kind and column; -1: none */
    int price, pack, currency, stock, minimum, unit; /* entries; -1: none */
    int per_column;               /* of the file, where a price says what it is for; -1: none */
    struct lb_recast_cell *cells; /* per entry */
    const char **texts;           /* per entry: of the row at hand */
    bool *used;                   /* per entry: a kind that is fed has the column */
    struct lb_buf price_text, pack_text, stock_text, minimum_text, reason;
};

static int entry_of(const struct lb_scheme *scheme, const char *field)
{
    const struct lb_scheme_entry *entry = lb_scheme_find(scheme, field);
    return entry ? (int)(entry - scheme->entries.at) : -1;
}

static int used_entry(const struct lb_recaster *r, const char *field)
{
    int entry = entry_of(r->scheme, field);
    return entry >= 0 && r->used[entry] ? entry : -1;
}

static int find_per_column(const struct lb_header *header, int price)
{
    const struct lb_recast *recast = price < 0 ? NULL : header->scheme.entries.at[price].recast;
    for (int i = 0; recast && recast->per_heading && i < header->count; i++)
        if (lb_text_same_words(header->names[i], recast->per_heading))
            return i;
    return -1;
}

static void place(struct lb_recaster *r, const struct lb_header *header)
{
    for (int k = 0; k < header->kind_count; k++)
        for (int i = 0; i < header->kinds[k]->column_count; i++)
            if ((r->entries[k][i] = entry_of(r->scheme, header->kinds[k]->columns[i].name)) >= 0)
                r->used[r->entries[k][i]] = true;
    r->price = used_entry(r, "price");
    r->pack = used_entry(r, "pack_quantity");
    r->currency = used_entry(r, "currency");
    r->stock = used_entry(r, "stock");
    r->minimum = used_entry(r, "minimum_packs");
    r->unit = used_entry(r, "unit");
    r->per_column = find_per_column(header, r->price);
}

lb_status lb_recaster_new(struct lb_recaster **out, const struct lb_header *header, struct lb_error *err)
{
    size_t count = header->scheme.entries.count + 1;
    struct lb_recaster *r = *out = calloc(1, sizeof *r);
    if (!r)
        return lb_fail_nomem(err);
    r->scheme = &header->scheme;
    r->cells = calloc(count, sizeof *r->cells);
    r->texts = calloc(count, sizeof *r->texts);
    r->used = calloc(count, sizeof *r->used);
    if (!r->cells || !r->texts || !r->used) {
        lb_recaster_free(r);
        *out = NULL;
        return lb_fail_nomem(err);
    }
    place(r, header);
    return LB_OK;
}

static bool refuse(struct lb_recast_fault *fault, const char *reason, int column)
{
    *fault = (struct lb_recast_fault){reason, column};
    return false;
}

static const char *written(const struct lb_scheme_entry *entry, const struct lb_csv_record *record)
{
    return entry->map.column < 0 ? "" : record->cells[entry->map.column];
}

static bool take_cell(struct lb_recaster *r, int i, const struct lb_csv_record *record,
                      struct lb_recast_fault *fault)
{
    const struct lb_scheme_entry *entry = &r->scheme->entries.at[i];
    const char *currency = r->currency >= 0 && i != r->currency ? r->texts[r->currency] : NULL;
    r->texts[i] = written(entry, record);
    if (!entry->recast)
        return true;
    if (entry->recast->fixed) {
        r->texts[i] = entry->recast->fixed;
        return true;
    }
    if (!lb_recast_cell(entry->recast, entry->type, r->texts[i], currency, &r->cells[i]))
        return refuse(fault, lb_buf_text(&r->cells[i].reason), entry->map.column);
    r->texts[i] = lb_buf_text(&r->cells[i].text);
    return true;
}

/* A price on request refuses the row before anything else of that cell is missed. */
static bool refuse_on_request(struct lb_recaster *r, const struct lb_csv_record *record,
                              struct lb_recast_fault *fault)
{
    for (size_t i = 0; i < r->scheme->entries.count; i++) {
        const struct lb_scheme_entry *entry = &r->scheme->entries.at[i];
        if (r->used[i] && entry->recast && lb_recast_is_on_request(entry->recast, written(entry, record)))
            return take_cell(r, (int)i, record, fault);
    }
    return true;
}

/* The currency first: a price may carry a sign that must agree with it. */
static bool take_cells(struct lb_recaster *r, const struct lb_csv_record *record,
                       struct lb_recast_fault *fault)
{
    if (!refuse_on_request(r, record, fault))
        return false;
    if (r->currency >= 0 && !take_cell(r, r->currency, record, fault))
        return false;
    for (int i = 0; i < (int)r->scheme->entries.count; i++)
        if (r->used[i] && i != r->currency && !take_cell(r, i, record, fault))
            return false;
    return true;
}

/* What the price is for, in millionths of a piece; 0: it does not say, and then the price stands as it is. */
static bool find_per(struct lb_recaster *r, const struct lb_csv_record *record, int64_t *per,
                     struct lb_recast_fault *fault)
{
    const struct lb_recast *recast = r->scheme->entries.at[r->price].recast;
    struct lb_buf number = {0};
    *per = recast->per ? recast->per * LB_MILLION : r->cells[r->price].per;
    if (r->per_column < 0)
        return true;
    const char *text = record->cells[r->per_column];
    const char *why = lb_recast_pack(&number, text, recast->decimal, recast->thousands);
    bool good = !why && lb_decimal_parse(lb_buf_text(&number), per) && *per > 0;
    lb_buf_free(&number);
    return good || refuse(fault,
                          *text ? "does not say for how many pieces the price is"
                                : "for how many pieces the price is must be stated",
                          r->per_column);
}

static bool take_per(struct lb_recaster *r, const struct lb_csv_record *record, struct lb_recast_fault *fault)
{
    const struct lb_scheme_entry *price = r->price < 0 ? NULL : &r->scheme->entries.at[r->price];
    int64_t per;
    if (!price || !price->recast || r->pack < 0 || !*r->texts[r->price])
        return true;
    if (!price->recast->per && !price->recast->per_text && r->per_column < 0)
        return true;
    if (!find_per(r, record, &per, fault))
        return false;
    const char *currency = r->currency < 0 ? NULL : r->texts[r->currency];
    lb_buf_clear(&r->price_text);
    lb_buf_clear(&r->pack_text);
    if (!lb_recast_per(r->texts[r->price], per, r->texts[r->pack], currency, &r->price_text, &r->pack_text,
                       &r->reason))
        return refuse(fault, lb_buf_text(&r->reason), price->map.column);
    r->texts[r->price] = lb_buf_text(&r->price_text);
    r->texts[r->pack] = lb_buf_text(&r->pack_text);
    return true;
}

static bool take_pieces(struct lb_recaster *r, int i, struct lb_buf *text, struct lb_recast_fault *fault)
{
    const struct lb_scheme_entry *entry = i < 0 ? NULL : &r->scheme->entries.at[i];
    if (!entry || !entry->recast || !entry->recast->pieces || !*r->texts[i])
        return true;
    const char *pack = r->pack < 0 ? "" : r->texts[r->pack];
    lb_buf_clear(text);
    if (!lb_recast_pieces(r->texts[i], pack, i == r->minimum, text, &r->reason))
        return refuse(fault, lb_buf_text(&r->reason), entry->map.column);
    r->texts[i] = lb_buf_text(text);
    return true;
}

static bool is_out_of_memory(const struct lb_recaster *r)
{
    bool failed = r->price_text.failed || r->pack_text.failed || r->stock_text.failed ||
                  r->minimum_text.failed || r->reason.failed;
    for (size_t i = 0; i < r->scheme->entries.count; i++)
        failed |= r->cells[i].text.failed || r->cells[i].work.failed || r->cells[i].reason.failed;
    return failed;
}

lb_status lb_recaster_row(struct lb_recaster *r, const struct lb_csv_record *record,
                          struct lb_recast_fault *fault, struct lb_error *err)
{
    *fault = (struct lb_recast_fault){0};
    lb_buf_clear(&r->reason);
    bool good = take_cells(r, record, fault) && take_per(r, record, fault) &&
                take_pieces(r, r->stock, &r->stock_text, fault) &&
                take_pieces(r, r->minimum, &r->minimum_text, fault);
    (void)good; /* the fault says as much */
    return is_out_of_memory(r) ? lb_fail_nomem(err) : LB_OK;
}

const char *lb_recaster_cell(const struct lb_recaster *r, int k, int i)
{
    int entry = r->entries[k][i];
    return entry < 0 ? NULL : r->texts[entry];
}

const char *lb_recaster_unit(const struct lb_recaster *r)
{
    return r->unit < 0 ? NULL : r->texts[r->unit];
}

void lb_recaster_free(struct lb_recaster *r)
{
    if (!r)
        return;
    for (size_t i = 0; r->cells && i < r->scheme->entries.count; i++)
        lb_recast_cell_free(&r->cells[i]);
    free(r->cells);
    free(r->texts);
    free(r->used);
    lb_buf_free(&r->price_text);
    lb_buf_free(&r->pack_text);
    lb_buf_free(&r->stock_text);
    lb_buf_free(&r->minimum_text);
    lb_buf_free(&r->reason);
    free(r);
}
