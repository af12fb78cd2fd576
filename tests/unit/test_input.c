#include "importers/input.h"

#include "bytes_help.h"
#include "scratch.h"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

/* "name|name" of what a path means, or the words of the failure. */
static lb_status named(const char *path, struct lb_import_paths *paths, struct lb_buf *told)
{
    struct lb_error err = {0};
    lb_buf_clear(told);
    lb_status status = lb_import_paths_add(paths, path, &err);
    if (status)
        lb_buf_puts(told, lb_error_text(&err));
    for (size_t i = 0; !status && i < paths->files.count; i++)
        lb_buf_printf(told, "%s%s", i ? "|" : "", paths->files.at[i].name);
    lb_error_free(&err);
    return status;
}

static void expect_named(const char *path, lb_status status, const char *want)
{
    struct lb_import_paths paths = {0};
    struct lb_buf told = {0};
    cr_expect_eq(named(path, &paths, &told), status);
    cr_expect(strstr(lb_buf_text(&told), want), "\"%s\" instead of \"%s\"", lb_buf_text(&told), want);
    if (!status)
        cr_expect_str_eq(lb_buf_text(&told), want);
    lb_buf_free(&told);
    lb_import_paths_free(&paths);
}

static void write_text(struct scratch *s, const char *name, const char *text)
{
    scratch_write(s, name, text, strlen(text));
}

/* The text of the n-th file that `path` means, or the words of the failure. */
static void expect_content(const char *path, size_t n, const char *encoding, lb_status want_status,
                           const char *want)
{
    struct lb_import_paths paths = {0};
    struct lb_buf told = {0};
    struct lb_bytes *bytes = NULL;
    struct lb_error err = {0};
    cr_assert_eq(named(path, &paths, &told), LB_OK, "%s", lb_buf_text(&told));
    cr_assert(n < paths.files.count);
    lb_buf_clear(&told);
    lb_status status = lb_input_open(&bytes, &paths.files.at[n], encoding, &err);
    cr_expect(!status == (bytes != NULL));
    if (!status)
        status = read_everything(bytes, 4096, &told, &err);
    cr_expect_eq(status, want_status, "%s", lb_error_text(&err));
    const char *got = status ? lb_error_text(&err) : lb_buf_text(&told);
    cr_expect(status ? strstr(got, want) != NULL : strcmp(got, want) == 0, "\"%s\" instead of \"%s\"", got,
              want);
    lb_bytes_close(bytes);
    lb_error_free(&err);
    lb_buf_free(&told);
    lb_import_paths_free(&paths);
}

static void run(struct scratch *s, const char *command)
{
    char whole[512];
    snprintf(whole, sizeof whole, "cd '%s' && %s", s->folder, command);
    cr_assert_eq(system(whole), 0, "%s", command);
}

Test(input, plain_files_and_folders)
{
    struct scratch s = scratch_make();
    run(&s, "mkdir -p in/b in/.hidden empty");
    write_text(&s, "in/z.csv", "a;b\n");
    write_text(&s, "in/A.CSV", "a;b\ngr\xFCn;1\n");
    write_text(&s, "in/b/c.csv", "x");
    write_text(&s, "in/notes.txt", "no");
    write_text(&s, "in/.hidden/d.csv", "no");
    write_text(&s, "odd.dat", "odd");
    expect_named(scratch_path(&s, "in"), LB_OK, "A.CSV|b/c.csv|z.csv");
    expect_named(scratch_path(&s, "odd.dat"), LB_OK, "odd.dat");
    expect_named(scratch_path(&s, "empty"), LB_DATA, "there are no .csv files in this folder.");
    expect_named(scratch_path(&s, "none"), LB_DATA, "cannot be opened: No such file or directory.");
    expect_named("/dev/null", LB_DATA, "is neither a file nor a folder.");
    expect_content(scratch_path(&s, "in"), 0, NULL, LB_OK, "a;b\ngr\xC3\xBCn;1\n");
    expect_content(scratch_path(&s, "in"), 0, "UTF-8", LB_OK, "a;b\ngr\xFCn;1\n");
    expect_content(scratch_path(&s, "in"), 2, NULL, LB_OK, "a;b\n");
    expect_content(scratch_path(&s, "in"), 2, "klingon", LB_USAGE, "no encoding is called \"klingon\"");
    scratch_remove(&s);
}

#if LB_HAVE_ARCHIVE
Test(input, packed_files)
{
    struct scratch s = scratch_make();
    run(&s,
        "mkdir -p in/t && printf 'a;b\\ngr\\374n;1\\n' >in/t/latin.csv && printf 'a;b\\n' >in/t/z.txt"
        " && tar -C in/t -czf in/lists.tgz . && gzip -c in/t/latin.csv >in/l.csv.gz && cp in/l.csv.gz "
        "in/gz.csv"
        " && echo photo >in/t/photo && cp in/t/photo in/t/other && tar -C in/t -cf in/photos.tar photo other "
        "&& gzip -c in/t/photo "
        ">in/photo.gz"
        " && rm -r in/t && head -c 30 in/lists.tgz >in/broken.zip && gzip -c in/lists.tgz >in/twice.csv.gz");
    expect_named(scratch_path(&s, "in"), LB_OK,
                 "broken.zip|gz.csv|l.csv.gz|lists.tgz/./latin.csv|lists.tgz/./z.txt|twice.csv.gz");
    expect_content(scratch_path(&s, "in"), 0, NULL, LB_DATA, "broken.zip is cut off");
    expect_content(scratch_path(&s, "in"), 1, NULL, LB_OK, "a;b\ngr\xC3\xBCn;1\n");
    expect_content(scratch_path(&s, "in"), 2, NULL, LB_OK, "a;b\ngr\xC3\xBCn;1\n");
    expect_content(scratch_path(&s, "in"), 3, NULL, LB_OK, "a;b\ngr\xC3\xBCn;1\n");
    expect_content(scratch_path(&s, "in"), 4, NULL, LB_OK, "a;b\n");
    expect_content(scratch_path(&s, "in"), 5, NULL, LB_DATA, "holds another archive");
    expect_named(scratch_path(&s, "in/lists.tgz"), LB_OK, "lists.tgz/./latin.csv|lists.tgz/./z.txt");
    expect_named(scratch_path(&s, "in/photos.tar"), LB_DATA,
                 "there are no .csv, .txt or .tsv files in this archive");
    scratch_remove(&s);
}
#else
Test(input, packed_files_without_support)
{
    struct scratch s = scratch_make();
    scratch_write(&s, "l.csv.gz", "\x1F\x8B\x08", 3);
    scratch_write(&s, "l.zip", "PK\3\4", 4);
    expect_content(scratch_path(&s, "l.csv.gz"), 0, NULL, LB_DATA, "built without archive support; unpack ");
    expect_content(scratch_path(&s, "l.zip"), 0, NULL, LB_DATA, "built without archive support; unpack ");
    scratch_remove(&s);
}
#endif

static bool is_stream(const char *path)
{
    struct lb_import_paths paths = {0};
    struct lb_buf told = {0};
    cr_assert_eq(named(path, &paths, &told), LB_OK, "%s", lb_buf_text(&told));
    bool answer = lb_input_is_stream(&paths.files.at[0]);
    lb_buf_free(&told);
    lb_import_paths_free(&paths);
    return answer;
}

/* What <(…) of a shell hands over: a path to a pipe that has no name of its own. */
Test(input, pipes)
{
    int ends[2];
    char path[32];
    cr_assert_eq(pipe(ends), 0);
    snprintf(path, sizeof path, "/dev/fd/%d", ends[0]);
    cr_assert_eq(write(ends[1], "a;b\ngr\xFCn;1\n", 11), 11);
    close(ends[1]);
    cr_expect(is_stream(path));
    expect_named(path, LB_OK, path);
    expect_content(path, 0, NULL, LB_OK, "a;b\ngr\xC3\xBCn;1\n");
    close(ends[0]);
}

Test(input, standard_input)
{
    struct scratch s = scratch_make();
    write_text(&s, "in.csv", "a;b\ngr\xFCn;1\n");
    int file = open(scratch_path(&s, "in.csv"), O_RDONLY);
    cr_assert(file >= 0 && dup2(file, STDIN_FILENO) == STDIN_FILENO);
    close(file);
    cr_expect(is_stream("-"));
    cr_expect_not(is_stream(s.path));
    expect_named("-", LB_OK, "standard input");
    expect_content("-", 0, NULL, LB_OK, "a;b\ngr\xC3\xBCn;1\n");
    cr_expect_eq(fcntl(STDIN_FILENO, F_GETFD), 0); /* open still */
    struct lb_import_paths paths = {0};
    struct lb_buf told = {0};
    cr_expect_eq(named("-", &paths, &told), LB_OK);
    cr_expect_eq(named("-", &paths, &told), LB_USAGE);
    lb_buf_free(&told);
    lb_import_paths_free(&paths);
    scratch_remove(&s);
}
