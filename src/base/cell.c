#include "base/cell.h"
#include "base/decimal.h"

#include <string.h>

/* By its first character: a sign of a formula, or a control character. */
static bool begins_formula(const char *text)
{
    unsigned char first = (unsigned char)text[0];
    return first && (strchr("=+-@", first) || first < 0x20);
}

/* Some spreadsheets take the full-width signs, too. */
static bool begins_wide_formula(const char *text)
{
    static const char *const signs[] = {"\uff1d", "\uff0b", "\uff0d", "\uff20"}; /* ＝ ＋ － ＠ */
    for (size_t i = 0; i < sizeof signs / sizeof *signs; i++)
        if (strncmp(text, signs[i], strlen(signs[i])) == 0)
            return true;
    return false;
}

static bool begins_any_formula(const char *text)
{
    return begins_formula(text) || begins_wide_formula(text);
}

static void write(struct lb_buf *out, const char *text, char separator, bool inert)
{
    const char special[] = {separator, '"', '\r', '\n', '\0'};
    if (!inert && !strpbrk(text, special) && text[0] != ' ') {
        lb_buf_puts(out, text);
        return;
    }
    lb_buf_puts(out, inert ? "\"'" : "\"");
    for (const char *p = text; *p; p++) {
        if (*p == '"')
            lb_buf_putc(out, '"');
        lb_buf_putc(out, *p);
    }
    lb_buf_putc(out, '"');
}

void lb_cell_write(struct lb_buf *out, const char *text)
{
    int64_t number;
    if (text)
        write(out, text, ',', begins_formula(text) && !lb_decimal_parse(text, &number));
}

void lb_cell_write_text(struct lb_buf *out, const char *text, char separator)
{
    if (text)
        write(out, text, separator, begins_any_formula(text + strspn(text, "'")));
}

const char *lb_cell_bare(const char *cell)
{
    return cell[0] == '\'' && begins_any_formula(cell + strspn(cell, "'")) ? cell + 1 : cell;
}
