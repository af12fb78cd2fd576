#include "kit/former.h"

#include "base/decimal.h"
#include "base/money.h"

#include <string.h>

static void say_price(struct lb_buf *out, const struct lb_former *former)
{
    lb_money_print(out, former->price, former->currency);
    lb_buf_printf(out, " %s", former->currency);
    if (former->pack_quantity == LB_MILLION && !former->unit)
        return;
    lb_buf_puts(out, " for ");
    lb_decimal_print(out, former->pack_quantity);
    lb_buf_printf(out, "%s%s", former->unit ? " " : "", former->unit ? former->unit : "");
}

static void say_offer(struct lb_buf *out, const struct lb_former *former)
{
    lb_buf_printf(out, "%s listed it until %.10s: ", former->place.file, former->gone);
    say_price(out, former);
    lb_buf_printf(out, ", %s", former->label);
}

static void say_part(struct lb_buf *out, const struct lb_former *former)
{
    lb_buf_printf(out, "%s described it until %.10s: %s%s%s", former->place.file, former->gone,
                  former->part_type, former->spec ? " " : "", former->spec ? former->spec : "");
}

static void say_application(struct lb_buf *out, const struct lb_former *former)
{
    const char *separator = ": ";
    lb_buf_printf(out, "%s listed it for %s %s until %.10s", former->place.file, former->make, former->model,
                  former->gone);
    if (former->built_from || former->built_to) {
        lb_buf_printf(out, ": built %s%s%s", former->built_from ? former->built_from : "",
                      former->built_to ? " to " : " and later", former->built_to ? former->built_to : "");
        separator = ", ";
    }
    const char *const texts[] = {former->when, former->position};
    for (int i = 0; i < 2; i++)
        if (texts[i]) {
            lb_buf_printf(out, "%s%s", separator, texts[i]);
            separator = ", ";
        }
}

void lb_former_say(struct lb_buf *out, const struct lb_former *former)
{
    if (former->kind[0] == 'o')
        say_offer(out, former);
    else if (former->kind[0] == 'p')
        say_part(out, former);
    else
        say_application(out, former);
}

const struct lb_former *lb_former_last(const struct lb_part *part, const char *kind)
{
    for (size_t i = 0; i < part->former_count; i++)
        if (strcmp(part->former[i].kind, kind) == 0)
            return &part->former[i];
    return NULL;
}

void lb_former_say_lost(struct lb_buf *out, const struct lb_part *part, const char *first, const char *next)
{
    const struct lb_former *offer = part->live ? NULL : lb_former_last(part, "offers");
    const struct lb_former *row = part->part_type ? NULL : lb_former_last(part, "parts");
    if (offer) {
        lb_buf_printf(out, "%s%s offered it until %.10s at ", first, offer->label, offer->gone);
        say_price(out, offer);
        lb_buf_printf(out, " (%s)", offer->place.file);
    }
    if (row)
        lb_buf_printf(out, "%s%s listed it until %.10s", offer ? next : first, row->place.file, row->gone);
}

const struct lb_former *lb_former_fit(const struct lb_part *part)
{
    for (size_t i = 0; i < part->former_count; i++)
        if (part->former[i].applied)
            return &part->former[i];
    return part->part_type ? NULL : lb_former_last(part, "parts");
}
