/* An order as a text that is pasted into a mail. */
#include "base/decimal.h"
#include "base/measure.h"
#include "base/money.h"
#include "purchase/order_text.h"

#include <string.h>

/* What a catalogue wrote is one line of the mail, whatever it holds. */
static void put_text(struct lb_buf *out, const char *text)
{
    for (; *text; text++)
        lb_buf_putc(out, (unsigned char)*text < 0x20 || *text == 0x7f ? ' ' : *text);
}

static void put_money(struct lb_buf *out, int64_t minor, const char *currency)
{
    lb_money_print(out, minor, currency);
    lb_buf_printf(out, " %s", currency);
}

static void put_packs(struct lb_buf *out, const struct order_row *row)
{
    lb_buf_printf(out, "%lld", (long long)row->line->packs);
    if (row->offer->pack_quantity == LB_MILLION && strcmp(lb_part_unit(row->part), "each") == 0) {
        lb_buf_puts(out, " × ");
        return;
    }
    lb_buf_printf(out, " %s of ", row->line->packs == 1 ? "pack" : "packs");
    lb_measure_print(out, row->offer->pack_quantity, lb_part_unit(row->part));
    lb_buf_putc(out, ' ');
}

static void put_row(struct lb_buf *out, const struct order_row *row, size_t number)
{
    const struct lb_part *part = row->part;
    lb_buf_printf(out, "%zu. ", number);
    put_packs(out, row);
    put_text(out, part->brand);
    lb_buf_putc(out, ' ');
    put_text(out, part->number);
    if (part->description || part->part_type) {
        lb_buf_puts(out, ", ");
        put_text(out, part->description ? part->description : part->part_type);
    }
    lb_buf_puts(out, "\n   ");
    if (row->offer->supplier_code) {
        lb_buf_puts(out, "your code ");
        put_text(out, row->offer->supplier_code);
        lb_buf_puts(out, "; ");
    }
    put_money(out, row->line->price, row->parcel->currency);
    lb_buf_puts(out, row->line->packs == 1 ? "\n" : " each time, together ");
    if (row->line->packs == 1)
        return;
    put_money(out, row->line->amount, row->parcel->currency);
    lb_buf_putc(out, '\n');
}

static void put_totals(struct lb_buf *out, const struct lb_parcel *parcel, const struct lb_supplier *supplier)
{
    lb_buf_puts(out, "\nBy your list this comes to ");
    put_money(out, parcel->goods, parcel->currency);
    if (parcel->shipping_not_stated) {
        lb_buf_puts(out, "; what you charge for shipping we do not know");
    } else if (parcel->shipping) {
        lb_buf_puts(out, " and ");
        put_money(out, parcel->shipping, parcel->currency);
        lb_buf_puts(out, " for shipping");
    } else {
        lb_buf_puts(out, ", shipped at no charge");
    }
    lb_buf_puts(out, ".\nWe expect to pay ");
    put_money(out, parcel->goods + parcel->shipping, parcel->currency);
    lb_buf_puts(out, " without tax");
    if (supplier->tax >= 0) {
        lb_buf_puts(out, ", ");
        put_money(out, parcel->total, parcel->currency);
        lb_buf_puts(out, " with ");
        lb_decimal_print(out, supplier->tax);
        lb_buf_puts(out, " % tax");
    } else {
        lb_buf_puts(out, "; which tax you charge we do not know");
    }
    lb_buf_puts(out, ".\n");
    if (!parcel->deposits)
        return;
    lb_buf_puts(out, "Deposits of ");
    put_money(out, parcel->deposits, parcel->currency);
    lb_buf_puts(out, " come on top; we send the old parts back and claim them.\n");
}

void order_write_mail(struct lb_buf *out, const struct order_rows *rows)
{
    if (!rows->count)
        return;
    lb_buf_puts(out, "To ");
    put_text(out, rows->at[0].supplier->label);
    lb_buf_puts(out, "\n\nGood day,\n\nplease send us:\n\n");
    for (size_t i = 0; i < rows->count; i++)
        put_row(out, &rows->at[i], i + 1);
    put_totals(out, rows->at[0].parcel, rows->at[0].supplier);
    lb_buf_puts(out,
                "\nPlease confirm this order, its prices and the day on which we can expect it. Should you "
                "not have something,\nor only another part in its place, please ask us before you send "
                "anything.\n\nThank you, and kind regards\n");
}
