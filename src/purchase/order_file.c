/* The files of an order, written under names that wait. */
#include "purchase/order_file.h"

#include "base/names.h"
#include "base/words.h"
#include "purchase/order_text.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

enum { STEM_MAX = 80 }; /* bytes of a supplier's name in the name of a file */

struct lb_order_files {
    struct lb_arena texts;
    const char **stems; /* by parcel */
    size_t count;
    bool recorded;
    const struct lb_profile *profile;
    struct lb_error *err;
};

/* Folded letters have their accents behind them (U+0300 to U+036F): names of files go without. */
static void put_plain(struct lb_buf *out, const char *word, size_t length)
{
    for (size_t i = 0; i < length; i++) {
        bool accent = i + 1 < length && (unsigned char)(word[i]) == 0xcc;
        accent |= i + 1 < length && (unsigned char)word[i] == 0xcd && (unsigned char)word[i + 1] < 0xb0;
        if (accent)
            i++;
        else
            lb_buf_putc(out, word[i]);
    }
}

/* The letters and digits of a supplier's name, with - between its words. */
static void put_stem(struct lb_buf *out, const char *supplier)
{
    struct lb_words words = {.at = supplier};
    size_t start = out->length;
    while (lb_words_next(&words) && out->length - start + words.length < STEM_MAX) {
        if (out->length > start)
            lb_buf_putc(out, '-');
        put_plain(out, words.text, words.length);
    }
    if (out->length == start)
        lb_buf_puts(out, "supplier");
}

/* Two suppliers whose names come to the same get numbers. */
static lb_status name_parcel(struct lb_order_files *files, struct lb_names *taken, const char *folder,
                             const char *supplier, const char **out)
{
    struct lb_buf stem = {0}, tried = {0};
    uint32_t id;
    put_stem(&stem, supplier);
    for (int n = 1;; n++) {
        size_t known = taken->count;
        lb_buf_clear(&tried);
        lb_buf_puts(&tried, lb_buf_text(&stem));
        if (n > 1)
            lb_buf_printf(&tried, "-%d", n);
        if (tried.failed || !lb_names_add(taken, lb_buf_text(&tried), &id) || taken->count > known)
            break;
    }
    char *path = NULL;
    const char *between = folder[strlen(folder) - 1] == '/' ? "" : "/";
    int length = stem.failed || tried.failed
                     ? -1
                     : asprintf(&path, "%s%s%s-order", folder, between, lb_buf_text(&tried));
    *out = length < 0 ? NULL : lb_arena_text(&files->texts, path, (size_t)length);
    if (length >= 0)
        free(path);
    lb_buf_free(&stem);
    lb_buf_free(&tried);
    return *out ? LB_OK : lb_fail_nomem(files->err);
}

static lb_status refuse_taken(const struct lb_order_files *files, const char *stem)
{
    for (size_t e = 0; e < ORDER_ENDINGS; e++) {
        char *name = order_own_name(stem, order_endings[e]);
        if (!name)
            return lb_fail_nomem(files->err);
        bool there = access(name, F_OK) == 0;
        if (there)
            lb_fail(
                files->err, LB_DATA,
                "%s is there already, and is not overwritten. Nothing was ordered. Name another folder with "
                "--out.",
                name);
        free(name);
        if (there)
            return LB_DATA;
    }
    return LB_OK;
}

static lb_status write_waiting(const struct lb_order_files *files, const char *stem, const char *ending,
                               const struct lb_buf *text)
{
    if (text->failed)
        return lb_fail_nomem(files->err);
    char *name = order_waiting_name(stem, ending);
    if (!name)
        return lb_fail_nomem(files->err);
    FILE *file = fopen(name, "we");
    bool good = file && fwrite(lb_buf_text(text), 1, text->length, file) == text->length &&
                fflush(file) == 0 && fsync(fileno(file)) == 0;
    int trouble = good ? 0 : errno;
    if (file && fclose(file) != 0 && good)
        trouble = errno;
    lb_status status =
        trouble ? lb_fail(files->err, LB_SYSTEM, "%s%s: cannot be written: %s. Nothing was ordered.", stem,
                          ending, strerror(trouble))
                : LB_OK;
    if (trouble && file)
        unlink(name);
    free(name);
    return status;
}

/* The profile by which the list was read that the first of these offers stands in; NULL: none has one. */
static lb_status find_profile(struct lb_store *store, const struct order_rows *rows, struct lb_profile **out,
                              struct lb_error *err)
{
    struct lb_statement *st;
    *out = NULL;
    lb_status status =
        lb_store_prepare(store, &st, "SELECT profile FROM source WHERE name = ?1 AND profile <> ''", err);
    for (size_t i = 0; !status && !*out && i < rows->count; i++) {
        bool row;
        struct lb_bytes *bytes = NULL;
        lb_bind_text(st, 1, rows->at[i].offer->place.file);
        status = lb_step(st, &row, err);
        const char *text = !status && row ? lb_text(st, 0) : NULL;
        if (text)
            status = lb_bytes_open_memory(&bytes, text, strlen(text), err);
        if (bytes && !status)
            status = lb_profile_read(out, bytes, rows->at[i].offer->place.file, err);
        lb_bytes_close(bytes);
        lb_statement_reset(st);
    }
    lb_statement_free(st);
    return status;
}

static lb_status write_parcel(struct lb_order_files *files, struct lb_store *store, const char *stem,
                              const struct order_rows *rows)
{
    struct lb_profile *own = NULL;
    struct lb_buf csv = {0}, mail = {0};
    lb_status status = refuse_taken(files, stem);
    if (!status && !files->profile)
        status = find_profile(store, rows, &own, files->err);
    if (!status) {
        order_write_csv(&csv, rows, files->profile ? files->profile : own);
        order_write_mail(&mail, rows);
        status = write_waiting(files, stem, order_endings[0], &csv);
    }
    if (!status)
        status = write_waiting(files, stem, order_endings[1], &mail);
    lb_profile_free(own);
    lb_buf_free(&csv);
    lb_buf_free(&mail);
    return status;
}

static lb_status write_all(struct lb_order_files *files, struct lb_store *store,
                           const struct lb_purchase *purchase, const char *folder)
{
    struct lb_names taken = {0};
    struct order_reader reader;
    lb_status status = order_reader_open(&reader, store, purchase, &files->texts, files->err);
    for (size_t p = 0; !status && p < purchase->basket->parcel_count; p++) {
        const struct lb_parcel *parcel = &purchase->basket->parcels[p];
        struct order_rows rows = {0};
        status = order_read_rows(&reader, parcel, &rows);
        if (!status)
            status = name_parcel(files, &taken, folder, purchase->market.suppliers[parcel->supplier].name,
                                 &files->stems[files->count]);
        if (!status)
            status = write_parcel(files, store, files->stems[files->count++], &rows);
    }
    order_reader_close(&reader);
    lb_names_free(&taken);
    return status;
}

lb_status lb_order_files_write(struct lb_order_files **out, struct lb_store *store,
                               const struct lb_purchase *purchase, const char *folder,
                               const struct lb_profile *profile, struct lb_error *err)
{
    *out = NULL;
    struct lb_order_files *files = calloc(1, sizeof *files);
    if (!files)
        return lb_fail_nomem(err);
    files->profile = profile;
    files->err = err;
    files->stems = lb_arena_alloc(&files->texts, (purchase->basket->parcel_count + 1) * sizeof *files->stems);
    bool needed = purchase->basket->parcel_count > 0; /* all of it may lie on the shelf */
    char *whole = needed ? realpath(folder, NULL) : strdup("/");
    lb_status status =
        !files->stems ? lb_fail_nomem(err)
        : !whole ? lb_fail(err, LB_SYSTEM, "%s: the folder cannot be found: %s. Nothing was ordered.", folder,
                           strerror(errno))
                 : write_all(files, store, purchase, whole);
    free(whole);
    if (status)
        lb_order_files_free(files);
    else
        *out = files;
    return status;
}

const char *const *lb_order_files_stems(const struct lb_order_files *files)
{
    return files->stems;
}

lb_status lb_order_files_name(struct lb_order_files *files, struct lb_store *store, struct lb_error *err)
{
    struct lb_buf names = {0};
    files->recorded = true;
    lb_status status = lb_order_files_resume(store, &names, err);
    lb_buf_free(&names);
    return status;
}

void lb_order_files_free(struct lb_order_files *files)
{
    if (!files)
        return;
    for (size_t i = 0; !files->recorded && i < files->count; i++)
        for (size_t e = 0; files->stems[i] && e < ORDER_ENDINGS; e++) {
            char *name = order_waiting_name(files->stems[i], order_endings[e]);
            if (name)
                unlink(name);
            free(name);
        }
    lb_arena_free(&files->texts);
    free(files);
}
