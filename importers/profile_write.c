#include "importers/profile.h"

#include "base/cell.h"

void lb_profile_write_row(struct lb_buf *out, const char *field, const char *heading, const char *convert)
{
    lb_cell_write(out, field);
    lb_buf_putc(out, ',');
    lb_cell_write(out, heading);
    lb_buf_putc(out, ',');
    lb_cell_write(out, convert);
    lb_buf_putc(out, '\n');
}

static void write_kinds(struct lb_buf *out, const struct lb_profile *profile)
{
    struct lb_buf value = {0};
    for (int i = 0; i < profile->kind_count; i++)
        lb_buf_printf(&value, "%s%s", i ? "+" : "fixed ", profile->kinds[i]->name);
    if (profile->kind_count)
        lb_profile_write_row(out, "kind", "", lb_buf_text(&value));
    out->failed |= value.failed;
    lb_buf_free(&value);
}

void lb_profile_write(struct lb_buf *out, const struct lb_profile *profile)
{
    struct lb_buf convert = {0};
    lb_buf_puts(out, LB_PROFILE_HEADINGS);
    if (profile->encoding) {
        lb_buf_printf(&convert, "fixed %s", profile->encoding);
        lb_profile_write_row(out, "encoding", "", lb_buf_text(&convert));
    }
    if (profile->separator) {
        const char separator[] = {profile->separator, '\0'};
        lb_buf_clear(&convert);
        lb_buf_printf(&convert, "fixed %s", profile->separator == '\t' ? "tab" : separator);
        lb_profile_write_row(out, "separator", "", lb_buf_text(&convert));
    }
    write_kinds(out, profile);
    for (size_t i = 0; i < profile->rows.count; i++) {
        const struct lb_profile_row *row = &profile->rows.at[i];
        lb_buf_clear(&convert);
        lb_recast_write(&convert, row->recast);
        lb_profile_write_row(out, row->column->name, row->heading, lb_buf_text(&convert));
    }
    for (size_t i = 0; i < profile->ignored.count; i++)
        lb_profile_write_row(out, profile->ignored.at[i] == profile->packs ? "packs" : "ignore",
                             profile->ignored.at[i], "");
    out->failed |= convert.failed;
    lb_buf_free(&convert);
}
