#include "importers/scheme_infer.h"

#include "base/text.h"

#include <string.h>

static const char *const requests[] = {
    "on request",  "price on request",  "poa",          "auf anfrage", "a. anfr.",     "preis auf anfrage",
    "sur demande", "prix sur demande",  "a consultar",  "consultar",   "su richiesta", "prezzo su richiesta",
    "op aanvraag", "prijs op aanvraag", "na zapytanie", "na żądanie",  "på begäran",   "på förfrågan",
    "offert",      "お問い合わせ",      "要問合せ",     "応相談",      "オープン価格",
};

bool lb_infer_is_on_request(const char *text)
{
    struct lb_buf folded = {0};
    bool found = false;
    if ((unsigned char)*text < '0' || (*text >= '0' && *text <= '9')) /* most cells are numbers */
        return false;
    lb_text_fold(&folded, text);
    for (size_t i = 0; !found && i < sizeof requests / sizeof *requests; i++)
        found = strcmp(lb_buf_text(&folded), requests[i]) == 0;
    lb_buf_free(&folded);
    return found;
}

void lb_infer_amount(const struct lb_scheme_entry *entry, const char *text, struct lb_buf *out)
{
    struct lb_buf plain = {0}, code = {0};
    size_t from = 0, length;
    int64_t per;
    lb_recast_narrow(&plain, text);
    if (entry->type->type != LB_CELL_MONEY) {
        lb_buf_puts(out, lb_buf_text(&plain));
    } else {
        if (lb_recast_split_per(lb_buf_text(&plain), &length, &per))
            length = strlen(lb_buf_text(&plain));
        lb_recast_currency(&code, lb_buf_text(&plain), &from, &length, NULL, 0, NULL);
        lb_buf_append(out, lb_buf_text(&plain) + from, length);
    }
    lb_buf_free(&plain);
    lb_buf_free(&code);
}

/* What the cells of one column of prices carry. */
struct seen {
    bool code, per;
    const char *unsure;       /* a cell with a sign that several currencies share */
    struct lb_buf on_request; /* the words, each once, with | between */
};

static void note_request(struct seen *seen, const char *text)
{
    struct lb_recast recast = {0};
    const char *word[] = {text};
    struct lb_buf convert = {0};
    recast.on_request = word;
    recast.on_request_count = 1;
    lb_recast_write(&convert, &recast);
    const char *words = lb_buf_text(&convert) + strlen("on-request ");
    if (!strstr(lb_buf_text(&seen->on_request), words))
        lb_buf_printf(&seen->on_request, "%s%s", seen->on_request.length ? "|" : "on-request ", words);
    seen->on_request.failed |= convert.failed;
    lb_buf_free(&convert);
}

static void look(struct seen *seen, const char *text, const char *currency)
{
    struct lb_buf code = {0};
    size_t from = 0, length;
    int64_t per;
    if (lb_infer_is_on_request(text)) {
        note_request(seen, text);
        return;
    }
    if (lb_recast_split_per(text, &length, &per))
        return;
    seen->per |= per != 0;
    if (lb_recast_currency(&code, text, &from, &length, NULL, 0, currency))
        seen->unsure = text;
    seen->code |= code.length > 0;
    lb_buf_free(&code);
}

static void look_at_all(struct seen *seen, const struct lb_scheme *scheme,
                        const struct lb_scheme_entry *entry, const struct lb_sample *sample)
{
    const struct lb_scheme_entry *currency = lb_scheme_find(scheme, "currency");
    for (int row = 0; row < sample->count; row++) {
        const struct lb_csv_record *record = &sample->records[row];
        const char *own = NULL;
        if (record->fault || !*record->cells[entry->map.column])
            continue;
        if (currency)
            own = currency->map.column >= 0 ? record->cells[currency->map.column]
                                            : currency->map.convert + strlen("fixed ");
        look(seen, record->cells[entry->map.column], own);
    }
}

static lb_status add(struct lb_scheme *scheme, struct lb_scheme_entry *entry, const char *convert,
                     struct lb_error *err)
{
    entry->map.inferred = true;
    return lb_scheme_add_convert(scheme, entry, convert, err);
}

/* Prices that carry their currency, in a file without a column for it. */
static lb_status add_currency(struct lb_scheme *scheme, struct lb_mapping_column map, const struct seen *seen,
                              struct lb_error *err)
{
    map.convert = "currency symbol";
    map.inferred = true;
    map.by = LB_MAPPED_BY_LEXICON;
    lb_status status = lb_scheme_add(scheme, lb_scheme_type("currency"), map, err);
    if (!status && seen->on_request.length)
        status =
            lb_scheme_add_convert(scheme, lb_scheme_find(scheme, "currency"), seen->on_request.text, err);
    return status;
}

static lb_status leave_out(struct lb_scheme *scheme, struct lb_scheme_entry *entry, const char *cell,
                           struct lb_error *err)
{
    const struct lb_mapping_column map = entry->map;
    struct lb_buf why = {0};
    lb_buf_printf(
        &why,
        "may be %s, but the sign in cells such as \"%.*s\" is that of several currencies; a profile "
        "can say which (currency $=USD)",
        map.field, LB_FIT(cell, 40));
    lb_status status =
        why.failed ? lb_fail_nomem(err) : lb_scheme_doubt(scheme, map.heading, map.column, why.text, err);
    lb_buf_free(&why);
    lb_scheme_remove(scheme, entry);
    return status;
}

static lb_status infer_one(struct lb_scheme *scheme, const char *field, const struct lb_sample *sample,
                           struct lb_error *err)
{
    struct lb_scheme_entry *entry = lb_scheme_find(scheme, field);
    struct seen seen = {0};
    if (!entry || entry->map.column < 0)
        return LB_OK;
    bool price = strcmp(field, "price") == 0;
    look_at_all(&seen, scheme, entry, sample);
    lb_status status = LB_OK;
    if (seen.unsure && entry->map.by == LB_MAPPED_BY_NAME)
        status = LB_OK; /* its rows say for themselves that they cannot be read */
    else if (seen.unsure)
        status = leave_out(scheme, entry, seen.unsure, err);
    else {
        if (seen.code)
            status = add(scheme, entry, "currency symbol", err);
        if (!status && seen.per && price && !strstr(entry->map.convert, "per "))
            status = add(scheme, entry, "per text", err);
        if (!status && seen.on_request.length)
            status = add(scheme, entry, seen.on_request.text, err);
        if (!status && seen.code && price && !lb_scheme_find(scheme, "currency"))
            status = add_currency(scheme, entry->map, &seen, err);
    }
    lb_buf_free(&seen.on_request);
    return status;
}

lb_status lb_infer_money(struct lb_scheme *scheme, const struct lb_sample *sample, struct lb_error *err)
{
    lb_status status = infer_one(scheme, "price", sample, err);
    return status ? status : infer_one(scheme, "core_deposit", sample, err);
}
