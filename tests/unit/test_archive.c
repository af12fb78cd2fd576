#include "importers/archive.h"

#include "bytes_help.h"
#include "importers/unpack.h"
#include "scratch.h"

/* Archives are made with the library that reads them; without it the reader has only its refusal to show. */
#if LB_HAVE_ARCHIVE
#include <archive.h>
#include <archive_entry.h>

static struct archive *writer(struct scratch *s, const char *name, int format, int filter,
                              const char *options)
{
    struct archive *archive = archive_write_new();
    cr_assert(archive);
    cr_assert_eq(archive_write_set_format(archive, format), ARCHIVE_OK);
    cr_assert_eq(archive_write_add_filter(archive, filter), ARCHIVE_OK);
    cr_assert_eq(archive_write_set_bytes_in_last_block(archive, 1), ARCHIVE_OK);
    cr_assert_eq(archive_write_set_options(archive, options), ARCHIVE_OK, "%s",
                 archive_error_string(archive));
    cr_assert_eq(archive_write_open_filename(archive, scratch_path(s, name)), ARCHIVE_OK);
    return archive;
}

static void add(struct archive *archive, const char *name, mode_t type, const char *content, size_t length)
{
    struct archive_entry *entry = archive_entry_new();
    archive_entry_set_pathname(entry, name);
    archive_entry_set_filetype(entry, type);
    archive_entry_set_perm(entry, 0644);
    archive_entry_set_size(entry, (la_int64_t)length);
    cr_assert_eq(archive_write_header(archive, entry), ARCHIVE_OK, "%s", archive_error_string(archive));
    cr_assert_eq(archive_write_data(archive, content, length), (la_ssize_t)length);
    archive_entry_free(entry);
}

static void add_text(struct archive *archive, const char *name, const char *text)
{
    add(archive, name, AE_IFREG, text, strlen(text));
}

static void finish(struct archive *archive)
{
    cr_assert_eq(archive_write_close(archive), ARCHIVE_OK);
    archive_write_free(archive);
}

/* One compressed file, as gzip and its like make it. */
static void compress_file(struct scratch *s, const char *name, int filter, const char *content, size_t length)
{
    struct archive *archive = writer(s, name, ARCHIVE_FORMAT_RAW, filter, NULL);
    add(archive, "data", AE_IFREG, content, length);
    finish(archive);
}

static char *read_file(struct scratch *s, const char *name, size_t *length)
{
    FILE *file = fopen(scratch_path(s, name), "rb");
    cr_assert(file);
    char *bytes = malloc(1 << 20);
    *length = fread(bytes, 1, 1 << 20, file);
    fclose(file);
    return bytes;
}

/* "a|b" of what is listed, or the words of the failure. */
static lb_status list(struct scratch *s, const char *name, struct lb_buf *told)
{
    struct lb_archive_members members = {0};
    struct lb_error err = {0};
    bool is_archive;
    lb_buf_clear(told);
    lb_status status = lb_archive_list(scratch_path(s, name), &is_archive, &members, &err);
    if (status)
        lb_buf_puts(told, lb_error_text(&err));
    else if (!is_archive)
        lb_buf_puts(told, "no archive");
    for (size_t i = 0; i < members.names.count; i++)
        lb_buf_printf(told, "%s%s", i ? "|" : "", members.names.at[i]);
    lb_error_free(&err);
    lb_archive_members_free(&members);
    return status;
}

static void expect_list(struct scratch *s, const char *name, const char *want)
{
    struct lb_buf told = {0};
    cr_expect_eq(list(s, name, &told), LB_OK);
    cr_expect_str_eq(lb_buf_text(&told), want);
    lb_buf_free(&told);
}

static void expect_refused(struct scratch *s, const char *name, const char *words)
{
    struct lb_buf told = {0};
    cr_expect_eq(list(s, name, &told), LB_DATA);
    cr_expect(strstr(lb_buf_text(&told), words), "%s", lb_buf_text(&told));
    lb_buf_free(&told);
}

/* member NULL: the one file in it. The text, or the words of the failure. */
static lb_status unpack(struct scratch *s, const char *name, const char *member, struct lb_buf *text)
{
    struct lb_bytes *bytes = NULL;
    struct lb_error err = {0};
    const char *path = scratch_path(s, name);
    lb_status status;
    if (member) {
        status = lb_archive_open(&bytes, path, member, &err);
    } else {
        status = lb_bytes_open_file(&bytes, path, &err);
        if (!status)
            status = lb_archive_unpack(&bytes, path, &err);
    }
    lb_buf_clear(text);
    if (!status)
        status = read_everything(bytes, 65536, text, &err);
    if (status) {
        lb_buf_clear(text);
        lb_buf_puts(text, lb_error_text(&err));
    } else {
        cr_expect(bytes->size > 0 && bytes->done <= bytes->size);
    }
    lb_error_free(&err);
    lb_bytes_close(bytes);
    return status;
}

static void expect_text(struct scratch *s, const char *name, const char *member, const char *want)
{
    struct lb_buf text = {0};
    cr_expect_eq(unpack(s, name, member, &text), LB_OK, "%s: %.200s", name, lb_buf_text(&text));
    cr_expect_str_eq(lb_buf_text(&text), want);
    lb_buf_free(&text);
}

static void expect_broken(struct scratch *s, const char *name, const char *member, const char *words)
{
    struct lb_buf text = {0};
    cr_expect_eq(unpack(s, name, member, &text), LB_DATA, "%s", name);
    cr_expect(strstr(lb_buf_text(&text), words), "%s: %.200s", name, lb_buf_text(&text));
    lb_buf_free(&text);
}

/* 200 kB that do not compress well, so that every format has several blocks to be cut in. */
static const char *rows(void)
{
    static char text[200001];
    uint32_t state = 7;
    for (size_t i = 0; i < sizeof text - 1; i++) {
        state = state * 1664525 + 1013904223;
        text[i] = i % 50 == 49 ? '\n' : (char)('!' + state / 65536 % 90);
    }
    return text;
}

static const struct {
    const char *name;
    int filter;
} compressions[] = {{"x.csv.gz", ARCHIVE_FILTER_GZIP},
                    {"x.csv.zst", ARCHIVE_FILTER_ZSTD},
                    {"x.csv.xz", ARCHIVE_FILTER_XZ},
                    {"x.csv.bz2", ARCHIVE_FILTER_BZIP2}};

Test(archive, compressed_files)
{
    struct scratch s = scratch_make();
    for (size_t i = 0; i < 4; i++) {
        const char *name = compressions[i].name;
        compress_file(&s, name, compressions[i].filter, rows(), strlen(rows()));
        expect_list(&s, name, "no archive");
        expect_text(&s, name, NULL, rows());
        compress_file(&s, "misnamed.csv", compressions[i].filter, "a;b\n", 4);
        expect_text(&s, "misnamed.csv", NULL, "a;b\n");
        compress_file(&s, "nothing", compressions[i].filter, "", 0);
        expect_text(&s, "nothing", NULL, "");
    }
    scratch_write(&s, "plain.gz", "a;b\n1;2\n", 8);
    expect_list(&s, "plain.gz", "no archive");
    expect_text(&s, "plain.gz", NULL, "a;b\n1;2\n");
    scratch_remove(&s);
}

Test(archive, what_is_cut_off_is_not_the_whole)
{
    struct scratch s = scratch_make();
    for (size_t i = 0; i < 4; i++) {
        size_t length;
        compress_file(&s, compressions[i].name, compressions[i].filter, rows(), strlen(rows()));
        char *packed = read_file(&s, compressions[i].name, &length);
        const size_t cuts[] = {length - 1, length - 4, length / 2, 20};
        for (size_t c = 0; c < 4; c++) {
            scratch_write(&s, "cut", packed, cuts[c]);
            expect_broken(&s, "cut", NULL, "is cut off");
        }
        free(packed);
    }
    scratch_remove(&s);
}

/* A byte that is off anywhere, the sums at the end included. */
Test(archive, what_is_damaged_is_refused)
{
    struct scratch s = scratch_make();
    for (size_t i = 0; i < 4; i++) {
        size_t length;
        compress_file(&s, compressions[i].name, compressions[i].filter, rows(), strlen(rows()));
        char *packed = read_file(&s, compressions[i].name, &length);
        packed[length / 2] ^= 0x10;
        packed[length / 2 + 1] ^= 0x01;
        scratch_write(&s, "damaged", packed, length);
        struct lb_buf text = {0};
        /* libarchive writes zstd without a sum, where some damage cannot be seen */
        if (compressions[i].filter != ARCHIVE_FILTER_ZSTD)
            cr_expect_eq(unpack(&s, "damaged", NULL, &text), LB_DATA, "%s", compressions[i].name);
        lb_buf_free(&text);
        free(packed);
    }
    scratch_remove(&s);
}

Test(archive, gzip_to_the_last_byte)
{
    struct scratch s = scratch_make();
    size_t length;
    compress_file(&s, "x.gz", ARCHIVE_FILTER_GZIP, "a;b\n1;2\n", 8);
    char *packed = read_file(&s, "x.gz", &length);
    char twice[400] = {0};
    cr_assert(length < 100);
    memcpy(twice, packed, length);
    memcpy(twice + length, packed, length);
    scratch_write(&s, "twice.gz", twice, 2 * length);
    expect_text(&s, "twice.gz", NULL, "a;b\n1;2\na;b\n1;2\n");
    scratch_write(&s, "padded.gz", twice, 2 * length + 100);
    expect_text(&s, "padded.gz", NULL, "a;b\n1;2\na;b\n1;2\n");
    twice[2 * length] = 'x';
    scratch_write(&s, "garbage.gz", twice, 2 * length + 1);
    expect_broken(&s, "garbage.gz", NULL, "is damaged");
    packed[length - 8] ^= 1; /* the sum alone */
    scratch_write(&s, "sum.gz", packed, length);
    expect_broken(&s, "sum.gz", NULL, "is damaged");
    free(packed);
    scratch_remove(&s);
}

Test(archive, members)
{
    static const struct {
        const char *name;
        int format, filter;
    } kinds[] = {{"m.zip", ARCHIVE_FORMAT_ZIP, ARCHIVE_FILTER_NONE},
                 {"m.tar", ARCHIVE_FORMAT_TAR_PAX_RESTRICTED, ARCHIVE_FILTER_NONE},
                 {"m.tar.gz", ARCHIVE_FORMAT_TAR_USTAR, ARCHIVE_FILTER_GZIP},
                 {"m.tar.zst", ARCHIVE_FORMAT_TAR_GNUTAR, ARCHIVE_FILTER_ZSTD}};
    struct scratch s = scratch_make();
    for (size_t i = 0; i < 4; i++) {
        struct archive *archive = writer(&s, kinds[i].name, kinds[i].format, kinds[i].filter, NULL);
        add_text(archive, "z/offers.CSV", "offers");
        add(archive, "folder.csv/", AE_IFDIR, "", 0);
        add_text(archive, "readme.md", "read me");
        add_text(archive, "__MACOSX/z/offers.csv", "junk");
        add_text(archive, ".hidden.csv", "hidden");
        add_text(archive, "z/.git/x.csv", "hidden");
        add_text(archive, "../climbs.csv", "climbs");
        add_text(archive, "./dot.txt", rows());
        add_text(archive, "parts.tsv", "parts");
        finish(archive);
        expect_list(&s, kinds[i].name, "../climbs.csv|./dot.txt|parts.tsv|z/offers.CSV");
        expect_text(&s, kinds[i].name, "z/offers.CSV", "offers");
        expect_text(&s, kinds[i].name, "../climbs.csv", "climbs"); /* read, and written nowhere */
        expect_text(&s, kinds[i].name, "./dot.txt", rows());
        expect_broken(&s, kinds[i].name, "none.csv", "has no member called none.csv");
        expect_broken(&s, kinds[i].name, NULL, "is an archive of several files");
    }
    scratch_remove(&s);
}

Test(archive, one_file_of_any_name_and_none)
{
    struct scratch s = scratch_make();
    struct archive *archive = writer(&s, "one.zip", ARCHIVE_FORMAT_ZIP, ARCHIVE_FILTER_NONE, NULL);
    add_text(archive, "LISTE.DAT", "a;b\n");
    add_text(archive, "__MACOSX/LISTE.DAT", "junk");
    finish(archive);
    expect_list(&s, "one.zip", "LISTE.DAT");
    expect_text(&s, "one.zip", "LISTE.DAT", "a;b\n");
    archive = writer(&s, "two.zip", ARCHIVE_FORMAT_ZIP, ARCHIVE_FILTER_NONE, NULL);
    add_text(archive, "one.dat", "1");
    add_text(archive, "two.dat", "2");
    finish(archive);
    expect_list(&s, "two.zip", "");
    finish(writer(&s, "empty.zip", ARCHIVE_FORMAT_ZIP, ARCHIVE_FILTER_NONE, NULL));
    expect_list(&s, "empty.zip", "");
    archive = writer(&s, "twins.tar", ARCHIVE_FORMAT_TAR_USTAR, ARCHIVE_FILTER_NONE, NULL);
    add_text(archive, "a.csv", "1");
    add_text(archive, "a.csv", "2");
    finish(archive);
    expect_refused(&s, "twins.tar", "has two members called a.csv");
    scratch_remove(&s);
}

Test(archive, broken_archives)
{
    struct scratch s = scratch_make();
    size_t length;
    struct archive *archive =
        writer(&s, "m.zip", ARCHIVE_FORMAT_ZIP, ARCHIVE_FILTER_NONE, "compression=store");
    add_text(archive, "a.csv", rows());
    add_text(archive, "b.csv", "b");
    finish(archive);
    char *packed = read_file(&s, "m.zip", &length);
    scratch_write(&s, "cut.zip", packed, length / 2);
    expect_refused(&s, "cut.zip", "cut.zip is ");
    packed[1000] ^= 1;
    scratch_write(&s, "sum.zip", packed, length);
    expect_list(&s, "sum.zip", "a.csv|b.csv");
    expect_broken(&s, "sum.zip", "a.csv", "a.csv in "); /* and where it is */
    expect_broken(&s, "sum.zip", "a.csv", "sum.zip is damaged");
    expect_text(&s, "sum.zip", "b.csv", "b");
    free(packed);
    archive = writer(&s, "m.tar.gz", ARCHIVE_FORMAT_TAR_USTAR, ARCHIVE_FILTER_GZIP, NULL);
    add_text(archive, "a.csv", rows());
    finish(archive);
    packed = read_file(&s, "m.tar.gz", &length);
    scratch_write(&s, "cut.tar.gz", packed, length / 2);
    expect_refused(&s, "cut.tar.gz", "is cut off");
    expect_broken(&s, "cut.tar.gz", "a.csv", "is cut off");
    free(packed);
    scratch_remove(&s);
}

Test(archive, encrypted)
{
    struct scratch s = scratch_make();
    struct archive *archive = archive_write_new();
    cr_assert_eq(archive_write_set_format_zip(archive), ARCHIVE_OK);
    cr_assert_eq(archive_write_set_options(archive, "zip:encryption=zipcrypt"), ARCHIVE_OK);
    cr_assert_eq(archive_write_set_passphrase(archive, "secret"), ARCHIVE_OK);
    cr_assert_eq(archive_write_open_filename(archive, scratch_path(&s, "locked.zip")), ARCHIVE_OK);
    add_text(archive, "a.csv", "a;b\n");
    finish(archive);
    expect_list(&s, "locked.zip", "a.csv");
    expect_broken(&s, "locked.zip", "a.csv", "a.csv in ");
    expect_broken(&s, "locked.zip", "a.csv", "locked.zip is encrypted");
    scratch_remove(&s);
}

Test(archive, archives_within_stay_shut)
{
    struct scratch s = scratch_make();
    size_t length;
    compress_file(&s, "x.gz", ARCHIVE_FILTER_GZIP, "a;b\n", 4);
    char *packed = read_file(&s, "x.gz", &length);
    compress_file(&s, "x.gz.gz", ARCHIVE_FILTER_GZIP, packed, length);
    expect_broken(&s, "x.gz.gz", NULL, "holds another archive");
    compress_file(&s, "x.gz.xz", ARCHIVE_FILTER_XZ, packed, length);
    expect_broken(&s, "x.gz.xz", NULL, "holds another archive");
    expect_refused(&s, "x.gz.xz", "holds another archive");
    free(packed);
    scratch_remove(&s);
}

/* 72 MiB of one byte in each format, where 64 are always allowed; what came out before the limit is at most
 * what is always allowed. */
Test(archive, bombs)
{
    struct scratch s = scratch_make();
    size_t length = 72 << 20;
    char *filler = malloc(length);
    cr_assert(filler);
    memset(filler, 'a', length);
    for (size_t i = 0; i < 4; i++) {
        compress_file(&s, "bomb", compressions[i].filter, filler, length);
        expect_broken(&s, "bomb", NULL, "more than 500 times its size");
    }
    struct archive *archive = writer(&s, "bomb.zip", ARCHIVE_FORMAT_ZIP, ARCHIVE_FILTER_NONE, NULL);
    add(archive, "a.csv", AE_IFREG, filler, length);
    finish(archive);
    expect_refused(&s, "bomb.zip", "more than 500 times its size");
    expect_broken(&s, "bomb.zip", "a.csv", "more than 500 times its size");
    archive = writer(&s, "bomb.tgz", ARCHIVE_FORMAT_TAR_USTAR, ARCHIVE_FILTER_GZIP, NULL);
    add(archive, "a.dat", AE_IFREG, filler, length);
    finish(archive);
    expect_refused(&s, "bomb.tgz", "more than 500 times its size");
    free(filler);
    scratch_remove(&s);
}

Test(archive, too_many_entries)
{
    struct scratch s = scratch_make();
    struct archive *archive = writer(&s, "many.tar", ARCHIVE_FORMAT_TAR_USTAR, ARCHIVE_FILTER_NONE, NULL);
    for (int i = 0; i < 10001; i++) {
        char name[32];
        snprintf(name, sizeof name, "%d.dat", i);
        add(archive, name, AE_IFREG, "", 0);
    }
    finish(archive);
    expect_refused(&s, "many.tar", "more than 10000 entries");
    scratch_remove(&s);
}
#endif

Test(archive, limits)
{
    const uint64_t mib = 1 << 20;
    cr_expect_eq(lb_unpack_check(64 * mib, 1, "x", NULL), LB_OK);
    cr_expect_eq(lb_unpack_check(64 * mib + 1, 1, "x", NULL), LB_DATA);
    cr_expect_eq(lb_unpack_check(200 * mib, mib, "x", NULL), LB_OK);
    cr_expect_eq(lb_unpack_check(65536 * mib, 32768 * mib, "x", NULL), LB_OK);
    cr_expect_eq(lb_unpack_check(65536 * mib + 1, 32768 * mib, "x", NULL), LB_DATA);
}

Test(archive, told_by_content)
{
    cr_expect_eq(lb_packing_of("BZh9 is a part number;b\n", 24), LB_UNPACKED);
    cr_expect_eq(lb_packing_of("PK;b\n", 5), LB_UNPACKED);
    cr_expect_eq(lb_packing_of("", 0), LB_UNPACKED);
    cr_expect_eq(lb_packing_of("PK\3\4", 4), LB_ZIP);
}

Test(archive, told_by_name)
{
    static const char *const so[] = {"a.zip", "A.ZIP", "a.csv.gz", "a.CSV.zst", "a.tar", "a.tar.xz", "a.tgz"};
    static const char *const not_so[] = {"a.csv", "notes.txt.gz", "photo.gz", "zip", ".zip", "a.csv.gz.part"};
    for (size_t i = 0; i < sizeof so / sizeof *so; i++)
        cr_expect(lb_archive_is_named_so(so[i]), "%s", so[i]);
    for (size_t i = 0; i < sizeof not_so / sizeof *not_so; i++)
        cr_expect_not(lb_archive_is_named_so(not_so[i]), "%s", not_so[i]);
}
