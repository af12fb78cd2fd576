#include "catalog/rejects.h"
#include "base/cell.h"

#include <errno.h>
#include <string.h>
#include <unistd.h>

static lb_status failed(const struct lb_rejects *rejects, struct lb_error *err)
{
    return lb_fail(err, LB_SYSTEM,
                   "%s: the rejects file cannot be written: %s. Name another place with --rejects.",
                   rejects->path, strerror(errno));
}

static lb_status begin(struct lb_rejects *rejects, struct lb_error *err)
{
    lb_buf_printf(&rejects->partial, "%s.part", rejects->path);
    if (rejects->partial.failed)
        return lb_fail_nomem(err);
    rejects->file = fopen(rejects->partial.text, "w");
    if (!rejects->file || fputs("file,line,column,heading,reason,row\r\n", rejects->file) < 0)
        return failed(rejects, err);
    return LB_OK;
}

lb_status lb_rejects_add(struct lb_rejects *rejects, const char *source, long line, int column,
                         const char *heading, const char *reason, const char *raw, struct lb_error *err)
{
    lb_status status = rejects->file ? LB_OK : begin(rejects, err);
    if (status)
        return status;
    struct lb_buf *out = &rejects->line;
    lb_buf_clear(out);
    lb_cell_write(out, source);
    lb_buf_printf(out, ",%ld,%d,", line, column);
    lb_cell_write(out, heading);
    lb_buf_putc(out, ',');
    lb_cell_write(out, reason);
    lb_buf_putc(out, ',');
    lb_cell_write(out, raw);
    lb_buf_puts(out, "\r\n");
    if (out->failed)
        return lb_fail_nomem(err);
    return fwrite(out->text, 1, out->length, rejects->file) == out->length ? LB_OK : failed(rejects, err);
}

lb_status lb_rejects_finish(struct lb_rejects *rejects, struct lb_error *err)
{
    if (!rejects->file)
        return LB_OK;
    int trouble = fclose(rejects->file);
    rejects->file = NULL;
    if (trouble || rename(rejects->partial.text, rejects->path) != 0)
        return failed(rejects, err);
    lb_buf_clear(&rejects->partial);
    return LB_OK;
}

void lb_rejects_free(struct lb_rejects *rejects)
{
    if (rejects->file)
        fclose(rejects->file);
    if (rejects->partial.length)
        unlink(rejects->partial.text);
    lb_buf_free(&rejects->line);
    lb_buf_free(&rejects->partial);
}
