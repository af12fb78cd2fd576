/* What has changed about the locked parts and their prices. */
#include "base/decimal.h"
#include "base/measure.h"
#include "base/money.h"
#include "catalog/partkey.h"
#include "kit/drift_parts.h"

#include <string.h>

static void put_what(struct lb_buf *out, const struct lb_lock_line *line)
{
    lb_buf_printf(out, "%s%s%s", line->part_type, line->spec ? " " : "", line->spec ? line->spec : "");
}

static void put_part(struct lb_buf *out, const struct lb_lock_part *part)
{
    if (part->brand)
        lb_buf_printf(out, "%s %s", part->brand, part->number);
    else
        lb_buf_puts(out, "nothing");
}

static lb_status say(struct drifting *d, enum lb_drift_code code, int line, struct lb_buf *words)
{
    lb_status status =
        words->failed ? lb_fail_nomem(d->err) : drift_say(d, code, line, "%s", lb_buf_text(words));
    lb_buf_free(words);
    return status;
}

/* Two spellings of one number are one part. */
static lb_status same_part(struct drifting *d, const struct lb_lock_part *a, const struct lb_lock_part *b,
                           bool *same)
{
    struct lb_buf a_key = {0}, b_key = {0};
    *same = !a->brand && !b->brand;
    if (!a->brand || !b->brand)
        return LB_OK;
    lb_part_key(&a_key, a->brand, a->number);
    lb_part_key(&b_key, b->brand, b->number);
    *same = strcmp(lb_buf_text(&a_key), lb_buf_text(&b_key)) == 0;
    lb_status status = a_key.failed || b_key.failed ? lb_fail_nomem(d->err) : LB_OK;
    lb_buf_free(&a_key);
    lb_buf_free(&b_key);
    return status;
}

static lb_status compare_choice(struct drifting *d, const struct lb_lock_line *was,
                                const struct lb_lock_line *now)
{
    struct lb_buf words = {0};
    bool same;
    lb_status status = same_part(d, &was->part, &now->part, &same);
    if (!status && was->decision != now->decision) {
        put_what(&words, now);
        lb_buf_printf(&words, ": %s → %s", lb_decision_name(was->decision), lb_decision_name(now->decision));
        status = say(d, LB_DRIFT_CHOSEN, now->number, &words);
    }
    if (status || same)
        return status;
    put_what(&words, now);
    lb_buf_puts(&words, ": ");
    put_part(&words, &was->part);
    lb_buf_puts(&words, " → ");
    put_part(&words, &now->part);
    return say(d, LB_DRIFT_CHOSEN, now->number, &words);
}

static lb_status compare_standing(struct drifting *d, const struct lb_lock_part *was,
                                  const struct lb_lock_part *now, int line)
{
    lb_status status = LB_OK;
    if (now->replaced_by && !drift_same(was->replaced_by, now->replaced_by))
        status = drift_say(d, LB_DRIFT_SUPERSEDED, line, "%s %s is replaced by %s", was->brand, was->number,
                           now->replaced_by);
    if (!status && now->discontinued && !was->discontinued)
        status = drift_say(d, LB_DRIFT_SUPERSEDED, line, "%s %s is discontinued", was->brand, was->number);
    return status;
}

static const char *label_of(const struct lb_lock_fates *fates, const char *supplier)
{
    for (size_t i = 0; i < fates->suppliers.count; i++)
        if (strcmp(fates->suppliers.at[i].name, supplier) == 0)
            return fates->suppliers.at[i].label;
    return supplier;
}

/* "1.00 EUR", "1.00 → 1.20 EUR for 10". */
static void put_price(struct lb_buf *out, const struct lb_lock_offer *was, const struct lb_lock_offer *now,
                      const char *unit)
{
    lb_money_print(out, was->price, was->currency);
    if (now) {
        lb_buf_puts(out, " → ");
        lb_money_print(out, now->price, now->currency);
    }
    lb_buf_printf(out, " %s", was->currency);
    if (was->pack == LB_MILLION && strcmp(unit, "each") == 0)
        return;
    lb_buf_puts(out, " for ");
    lb_measure_print(out, was->pack, unit);
}

static lb_status compare_offer(struct drifting *d, const struct lb_lock_part *part,
                               const struct lb_lock_offer *was, const struct lb_lock_part *now_part, int line)
{
    const struct lb_lock_offer *now = lb_lock_offer_like(was, now_part);
    const char *label = label_of(d->fates, was->supplier);
    struct lb_buf words = {0};
    if (now && now->price == was->price)
        return LB_OK;
    if (now)
        lb_buf_printf(&words, "%s %s at %s: ", part->brand, part->number, label);
    else
        lb_buf_printf(&words, "%s %s cannot be had from %s any more: it was ", part->brand, part->number,
                      label);
    put_price(&words, was, now, part->unit);
    return say(d,
               !now                      ? LB_DRIFT_GONE
               : now->price > was->price ? LB_DRIFT_DEARER
                                         : LB_DRIFT_CHEAPER,
               line, &words);
}

static lb_status compare_part(struct drifting *d, const struct lb_lock_line *was,
                              const struct lb_lock_fate *fate, int line)
{
    if (!fate->known)
        return drift_say(d, LB_DRIFT_GONE, line, "no catalogue has %s %s any more", was->part.brand,
                         was->part.number);
    lb_status status = compare_standing(d, &was->part, &fate->part, line);
    for (size_t i = 0; !status && i < was->part.offers.count; i++)
        status = compare_offer(d, &was->part, &was->part.offers.at[i], &fate->part, line);
    return status;
}

lb_status drift_trade(struct drifting *d)
{
    lb_status status = LB_OK;
    for (size_t i = 0; !status && i < d->was->lines.count; i++) {
        const struct lb_lock_line *was = &d->was->lines.at[i];
        const struct lb_lock_line *now = drift_line(&d->now_keys, d->now, was->key);
        if (!now)
            continue; /* the map says so */
        status = compare_choice(d, was, now);
        if (!status && was->part.brand && now->wanted)
            status = compare_part(d, was, &d->fates->parts[i], now->number);
    }
    return status;
}
