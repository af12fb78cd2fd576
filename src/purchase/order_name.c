/* The files of orders that are recorded get their names. A run that is stopped in between leaves them
 * waiting, and the next one finds in the index what is still to be named. */
#include "purchase/order_file.h"
#include "purchase/order_text.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

const char *const order_endings[ORDER_ENDINGS] = {".csv", ".txt"};

char *order_waiting_name(const char *stem, const char *ending)
{
    char *name = NULL;
    const char *slash = strrchr(stem, '/');
    int folder = slash ? (int)(slash - stem) + 1 : 0;
    return asprintf(&name, "%.*s.%s%s.part", folder, stem, stem + folder, ending) < 0 ? NULL : name;
}

char *order_own_name(const char *stem, const char *ending)
{
    char *name = NULL;
    return asprintf(&name, "%s%s", stem, ending) < 0 ? NULL : name;
}

static bool same_file(const char *a, const char *b)
{
    struct stat x, y;
    return stat(a, &x) == 0 && stat(b, &y) == 0 && x.st_dev == y.st_dev && x.st_ino == y.st_ino;
}

/* Like rename, but never over a file that is there. Some disks know no second name of a file. The errno of a
 * failure, or 0; also when it has its name already, or when neither is there any more: somebody took it away.
 */
static int move(const char *from, const char *to)
{
    int trouble = link(from, to) == 0 ? 0 : errno;
    if (trouble == ENOENT || (trouble == EEXIST && same_file(from, to)))
        trouble = 0;
    else if (trouble && trouble != EEXIST) {
        if (access(to, F_OK) == 0)
            return EEXIST;
        return rename(from, to) == 0 ? 0 : errno;
    }
    if (!trouble)
        unlink(from);
    return trouble;
}

static lb_status name_file(const char *stem, const char *ending, struct lb_buf *names, struct lb_error *err)
{
    char *waiting = order_waiting_name(stem, ending), *own = order_own_name(stem, ending);
    lb_status status = waiting && own ? LB_OK : lb_fail_nomem(err);
    int trouble = status ? 0 : move(waiting, own);
    if (trouble)
        status =
            lb_fail(err, LB_SYSTEM,
                    "%s: the order is recorded, but its file cannot get this name: %s. It waits as %s; make "
                    "room for it and say again: lastbolt order",
                    own, strerror(trouble), waiting);
    else if (!status)
        lb_buf_printf(names, "%s\n", own);
    free(waiting);
    free(own);
    return status;
}

lb_status lb_order_files_resume(struct lb_store *store, struct lb_buf *names, struct lb_error *err)
{
    struct lb_statement *st;
    bool row = true;
    lb_status status = LB_OK;
    while (!status && row) { /* one by one, since each is noted when it is done */
        int64_t id = 0;
        status = lb_store_prepare(
            store, &st, "SELECT file, id FROM orders WHERE file IS NOT NULL ORDER BY id LIMIT 1", err);
        if (status)
            break;
        status = lb_step(st, &row, err);
        char *stem = !status && row ? strdup(lb_text(st, 0)) : NULL;
        id = stem ? lb_integer(st, 1) : 0;
        lb_statement_free(st);
        if (!status && row && !stem)
            status = lb_fail_nomem(err);
        for (int e = 0; !status && stem && e < ORDER_ENDINGS; e++)
            status = name_file(stem, order_endings[e], names, err);
        if (!status && stem)
            status = lb_store_run_for(store, "UPDATE orders SET file = NULL WHERE id = ?1", id, err);
        free(stem);
    }
    return status;
}
