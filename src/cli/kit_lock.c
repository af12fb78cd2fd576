/* kit lock: the kit as it is today, as a text for version control; and what kit check compares it with. */
#include "cli/kit_lock.h"
#include "base/date.h"
#include "base/new_file.h"
#include "base/text.h"
#include "cli/cli.h"
#include "report/drift_report.h"

#include <string.h>
#include <unistd.h>

const struct cli_option lock_options[] = {
    {"out", "FILE", "write it to this file instead of standard output"},
    {0},
};

const struct cli_option check_options[] = {
    {"against", "FILE", "compare with this locked kit instead of the last that the index knows"},
    {0},
};

static lb_status judge_file(struct cli *cli, const char *option)
{
    const char *path = cli_value(cli, option);
    return path && !*path ? lb_fail(&cli->err, LB_USAGE, "say which file: --%s FILE", option) : LB_OK;
}

lb_status judge_kit_lock(struct cli *cli)
{
    return judge_file(cli, "out");
}

lb_status judge_kit_check(struct cli *cli)
{
    return judge_file(cli, "against");
}

/* NULL: standard output, which "-" means too. */
static const char *out_path(const struct cli *cli)
{
    const char *path = cli_value(cli, "out");
    return path && strcmp(path, "-") != 0 ? path : NULL;
}

/* A file that is there is replaced only when it is a lock of the same kit. */
static lb_status refuse_foreign(struct cli *cli, const char *path, const char *kit)
{
    struct lb_kit_lock there = {0};
    struct lb_error why = {0};
    lb_status status = LB_OK;
    if (access(path, F_OK) != 0)
        return LB_OK;
    if (lb_lock_read_file(&there, path, &why))
        status =
            lb_fail(&cli->err, LB_DATA,
                    "%s\n%s is there already and is not replaced, since only a locked kit of %s would be. "
                    "Name another file with --out, or take that one away.",
                    lb_error_text(&why), path, kit);
    else if (!lb_text_equal_nocase(there.kit, kit))
        status = lb_fail(&cli->err, LB_DATA,
                         "%s is the lock of another kit, %s, and is not replaced by that of %s. Name another "
                         "file with --out.",
                         path, there.kit, kit);
    lb_lock_free(&there);
    lb_error_free(&why);
    return status;
}

/* How the kit differs from its last lock, in short, for standard error; nothing when it has none. A lock that
 * cannot be read is only remarked upon: it is about to be replaced. */
static lb_status tell_drift(struct cli *cli, const struct lb_kit *kit, struct lb_buf *out)
{
    struct lb_kit_lock was = {0};
    struct lb_drift drift = {0};
    struct lb_error why = {0};
    struct lb_buf day = {0}, counts = {0};
    bool locked;
    lb_status status = lb_lock_load(&was, &locked, cli->store, kit, &why);
    if (status == LB_DATA) {
        lb_buf_printf(out, "%s It is replaced.", lb_error_text(&why));
        status = LB_OK;
        locked = false;
    } else if (status) {
        status = lb_fail(&cli->err, status, "%s", lb_error_text(&why));
    }
    if (!status && locked)
        status = lb_kit_drift(&drift, cli->store, kit, &was, cli->today, &cli->err);
    if (!status && locked) {
        lb_date_print(&day, was.locked);
        lb_drift_count(&counts, &drift);
        lb_buf_printf(out, "%s was locked on %s before; changed since: %s.", kit->name, lb_buf_text(&day),
                      counts.length ? lb_buf_text(&counts) : "nothing");
    }
    lb_drift_free(&drift);
    lb_lock_free(&was);
    lb_error_free(&why);
    lb_buf_free(&day);
    lb_buf_free(&counts);
    return status;
}

static void show_lock(struct cli *cli, const struct lb_kit_lock *lock, const char *text)
{
    const char *path = out_path(cli);
    if (cli->json) {
        cli_print_json(cli, lb_report_lock_json(lock, text));
    } else if (path) {
        lb_buf_printf(&cli->out, "%s: %s, locked on ", path, lock->kit);
        lb_date_print(&cli->out, lock->locked);
        lb_buf_printf(&cli->out, ", %zu line%s\n", lock->lines.count, lock->lines.count == 1 ? "" : "s");
    } else {
        lb_buf_puts(&cli->out, text);
    }
}

/* Inside a transaction. The file has its name only when the index has the lock. */
static lb_status keep(struct cli *cli, const struct lb_kit *kit, const struct lb_buf *text)
{
    const char *path = out_path(cli);
    struct lb_new_file file = {0};
    lb_status status = text->failed ? lb_fail_nomem(&cli->err) : LB_OK;
    if (!status && path)
        status = lb_new_file_write(&file, path, lb_buf_text(text), text->length, &cli->err);
    if (!status)
        status = lb_lock_keep(cli->store, kit, cli->today, lb_buf_text(text), &cli->err);
    if (!status)
        status = lb_store_commit(cli->store, &cli->err);
    if (!status && path)
        status = lb_new_file_name(&file, &cli->err);
    lb_new_file_free(&file);
    return status;
}

int run_kit_lock(struct cli *cli)
{
    struct lb_kit *kit = NULL;
    struct lb_kit_lock lock = {0};
    struct lb_buf text = {0}, remark = {0};
    lb_status status = lb_store_begin(cli->store, &cli->err);
    if (!status)
        status = lb_kit_open(&kit, cli->store, cli_plain(cli, 0), cli->today, &cli->err);
    if (!status && out_path(cli))
        status = refuse_foreign(cli, out_path(cli), kit->name);
    if (!status)
        status = lb_lock_make(&lock, cli->store, kit, cli->today, &cli->err);
    if (!status)
        status = tell_drift(cli, kit, &remark);
    if (!status) {
        lb_lock_write(&text, &lock);
        status = keep(cli, kit, &text);
    }
    if (status)
        lb_store_rollback(cli->store);
    else
        show_lock(cli, &lock, lb_buf_text(&text));
    if (!status && remark.length)
        cli_remark(cli, "%s", lb_buf_text(&remark));
    lb_lock_free(&lock);
    lb_kit_free(kit);
    lb_buf_free(&text);
    lb_buf_free(&remark);
    return 0;
}

lb_status cli_find_drift(struct cli *cli, const struct lb_kit *kit, struct lb_drift *drift, bool *locked)
{
    const char *path = cli_value(cli, "against");
    struct lb_kit_lock was = {0};
    struct lb_error why = {0};
    *locked = path != NULL;
    *drift = (struct lb_drift){0};
    lb_status status = path ? lb_lock_read_file(&was, path, &cli->err)
                            : lb_lock_load(&was, locked, cli->store, kit, &cli->err);
    if (!status && *locked)
        status = lb_kit_drift(drift, cli->store, kit, &was, cli->today, &why);
    if (why.status)
        lb_fail(&cli->err, why.status, "%s%s%s", path ? path : "", path ? ": " : "", lb_error_text(&why));
    lb_lock_free(&was);
    lb_error_free(&why);
    return status;
}
