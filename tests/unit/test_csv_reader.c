#include "importers/csv_reader.h"

#include <criterion/criterion.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Reads everything and tells it as text: `line:cell|cell;` or `line!column fault;`. */
static char *told_from(struct lb_bytes *in, int expect)
{
    char *text = NULL;
    size_t size;
    FILE *out = open_memstream(&text, &size);
    struct lb_error err = {0};
    struct lb_csv *csv;
    struct lb_csv_record record;
    cr_assert_eq(lb_csv_open(&csv, in, 0, &err), LB_OK);
    lb_csv_expect(csv, expect);
    for (;;) {
        cr_assert_eq(lb_csv_next(csv, &record, &err), LB_OK);
        if (record.line == 0)
            break;
        fprintf(out, "%ld", record.line);
        if (record.fault)
            fprintf(out, "!%d %s;", record.column, record.fault);
        for (int i = 0; i < record.count; i++)
            fprintf(out, "%c%s", i ? '|' : ':', record.cells[i]);
        if (!record.fault)
            fputc(';', out);
    }
    lb_csv_free(csv);
    fclose(out);
    return text;
}

static char *told(const char *bytes, size_t length, int expect)
{
    struct lb_bytes *in;
    struct lb_error err = {0};
    cr_assert_eq(lb_bytes_open_memory(&in, bytes, length, &err), LB_OK);
    char *text = told_from(in, expect);
    lb_bytes_close(in);
    return text;
}

static void expect_bytes(const char *bytes, size_t length, int cells, const char *want)
{
    char *got = told(bytes, length, cells);
    cr_expect_str_eq(got, want);
    free(got);
}

static void expect(const char *bytes, int cells, const char *want)
{
    expect_bytes(bytes, strlen(bytes), cells, want);
}

#define OPEN "a quote is opened in this line and not closed"
#define JUNK "text follows a closing quote (a quote within a quoted cell is written twice)"

Test(csv_reader, line_ends_and_byte_order_mark)
{
    expect("\xEF\xBB\xBF"
           "a,b\r\n1,2\r\n\r\n3,4",
           2, "1:a|b;2:1|2;4:3|4;");
    expect("a,b\n1,2\n\n  \n3,4\n", 2, "1:a|b;2:1|2;5:3|4;");
    expect("a,b\r1,2\r\r3,4\r", 2, "1:a|b;2:1|2;4:3|4;");
    expect("\n\na,b\n1,2", 2, "3:a|b;4:1|2;");
    expect("a,b\r\n\"x\ry\r\nz\",2\r\n3,4", 2, "1:a|b;2:x\ry\r\nz|2;5:3|4;");
}

static lb_status read_one(struct lb_bytes *bytes, char *to, size_t room, size_t *got, struct lb_error *err)
{
    static const char text[] = "\xEF\xBB\xBF\"a,x\";b\r\n1,5;\"2\r\n3\"\r\n";
    (void)err;
    cr_assert(room > 0);
    *got = bytes->done < sizeof text - 1;
    *to = text[bytes->done];
    bytes->done += *got;
    return LB_OK;
}

/* A download comes in pieces; the mark and the separator must not depend on them. */
Test(csv_reader, one_byte_at_a_time)
{
    struct lb_bytes in = {.read = read_one};
    char *got = told_from(&in, 2);
    cr_expect_str_eq(got, "1:a,x|b;2:1,5|2\r\n3;");
    free(got);
}

Test(csv_reader, nothing_in_it)
{
    expect("\n", 2, "");
    expect("\xEF\xBB\xBF\n \r\n", 2, "");
}

Test(csv_reader, separators)
{
    expect("a;b;c\n1,5;2;3", 3, "1:a|b|c;2:1,5|2|3;");
    expect("a\tb\tc\n1\t\t3", 3, "1:a|b|c;2:1||3;");
    expect("a|b\n1|2", 2, "1:a|b;2:1|2;");
    expect("\"a,x,y,z\";b\n1;2", 2, "1:a,x,y,z|b;2:1|2;");
    expect("alone\n1\n", 1, "1:alone;2:1;");
}

Test(csv_reader, quotes)
{
    expect("a,b\n5\" hose,x", 2, "1:a|b;2:5\" hose|x;");
    expect("a,b\n\"5\"\" hose\" , \" x \"", 2, "1:a|b;2:5\" hose|x;");
    expect("a,b\n\"\",\"\"\"\"", 2, "1:a|b;2:|\";");
    expect("a,b\n\"x\ny\",2\n3,4", 2, "1:a|b;2:x\ny|2;4:3|4;");
    expect("a,b\n \t\"x, y\",2", 2, "1:a|b;2:x, y|2;");
}

Test(csv_reader, text_after_a_closing_quote)
{
    expect("a,b\n1,\"x\"y\n3,4\n", 2, "1:a|b;2!2 " JUNK ";3:3|4;");
    expect("a,b\n\"x\" \"y\",2\n3,4\n", 2, "1:a|b;2!1 " JUNK ";3:3|4;");
    expect("a,b\n\"x\"y,\"z\n3,4\n", 2, "1:a|b;2!1 " JUNK ";3:3|4;");
}

Test(csv_reader, an_open_quote_costs_one_line)
{
    expect("a,b\n1,\"x\n3,4\n5,6\n", 2, "1:a|b;2!2 " OPEN ";3:3|4;4:5|6;");
    expect("a,b\n\"x,2\n3,\"4\"\n5,6", 2, "1:a|b;2!1 " OPEN ";3:3|4;4:5|6;");
    expect("a,b\r\n\"x,2\r\n3,4\r\n5,\"6\r\n", 2, "1:a|b;2!1 " OPEN ";3:3|4;4!2 " OPEN ";");
    expect("a,b\n1,\"", 2, "1:a|b;2!2 " OPEN ";");
    /* the quoted cell over two lines behind the runaway one is still read */
    expect("a,b\n\"x,2\n3,\"4\n5\"\n6,7\n", 2, "1:a|b;2!1 " OPEN ";3:3|4\n5;5:6|7;");
}

Test(csv_reader, cells_against_the_heading)
{
    expect("a,b\n1\n1,2,3\n1,2,,\n1,2", 2,
           "1:a|b;2!0 the row has 1 cell, the heading 2;3!0 the row has 3 cells, the heading 2;"
           "4:1|2||;5:1|2;");
    expect("a,b\n\"x\ny\"\n", 2,
           "1:a|b;2!0 the row has 1 cell, the heading 2; it runs over 2 lines, so a quote may be missing;");
}

Test(csv_reader, bytes_that_are_no_text)
{
    static const char nul[] = "a,b\n1,x\0y\n3,4\n";
    expect_bytes(nul, sizeof nul - 1, 2, "1:a|b;2!2 a NUL byte; this is no text;3:3|4;");
    expect("a,b\n1,gr\xFC"
           "n\n3,\xC3\xBC\n",
           2, "1:a|b;2!2 the bytes are not UTF-8;3:3|\xC3\xBC;");
    expect("a,b\n\"\xC3\",2\n\xC0\x80,4\n", 2,
           "1:a|b;2!1 the bytes are not UTF-8;3!1 the bytes are not UTF-8;");
}

/* `head`, then `filler` bytes of `x` with a line end every `every` bytes (0: none), then `tail`. */
static char *large(const char *head, size_t filler, size_t every, const char *tail, size_t *length)
{
    size_t h = strlen(head), t = strlen(tail);
    char *bytes = malloc(h + filler + t);
    memcpy(bytes, head, h);
    memset(bytes + h, 'x', filler);
    for (size_t i = every; every && i <= filler; i += every)
        bytes[h + i - 1] = '\n';
    memcpy(bytes + h + filler, tail, t);
    *length = h + filler + t;
    return bytes;
}

Test(csv_reader, a_line_beyond_all_measure)
{
    size_t length;
    char *bytes = large("a,b\n", 5000000, 0, "\n3,4\n", &length);
    expect_bytes(bytes, length, 2, "1:a|b;2!0 the line is longer than 1 MiB;3:3|4;");
    free(bytes);
    bytes = large("a,b\n\"", 5000000, 0, "\n3,4\n", &length);
    expect_bytes(bytes, length, 2, "1:a|b;2!0 the line is longer than 1 MiB;3:3|4;");
    free(bytes);
    bytes = large("a,b\n", LB_CSV_RECORD_MAX + 1, 0, "", &length); /* with nothing behind it */
    expect_bytes(bytes, length, 2, "1:a|b;2!0 the line is longer than 1 MiB;");
    free(bytes);
    bytes = large("a,b\n1,\"", 1000000, 0, "\"\n3,4\n", &length);
    char *got = told(bytes, length, 2);
    cr_expect_eq(strlen(got), 1000000 + strlen("1:a|b;2:1|;3:3|4;"));
    free(got);
    free(bytes);
}

Test(csv_reader, an_open_quote_before_much_text)
{
    size_t length;
    char *bytes = large("a\n\"x\n", 3000000, 10, "\"y\nz\"\n", &length);
    char *got = told(bytes, length, 1);
    cr_expect_eq(strncmp(got, "1:a;2!1 " OPEN ";3:xxxxxxxxx;", 60), 0);
    cr_expect_str_eq(got + strlen(got) - strlen("300002:xxxxxxxxx;300003:y\nz;"),
                     "300002:xxxxxxxxx;300003:y\nz;");
    free(got);
    free(bytes);
}

/* Every line leaves a quote open whichever way it is entered: must not be searched to the end for each. */
Test(csv_reader, stray_quotes_stay_linear, .timeout = 20)
{
    static const char line[] = "5\",\",x\n";
    size_t lines = 400000, each = sizeof line - 1;
    char *bytes = malloc(lines * each);
    for (size_t i = 0; i < lines; i++)
        memcpy(bytes + i * each, line, each);
    char *got = told(bytes, lines * each, 0);
    size_t faults = 0;
    for (const char *p = got; (p = strchr(p, '!')); p++)
        faults++;
    cr_expect_eq(faults, lines);
    free(got);
    free(bytes);
}

/* Whatever the bytes: it ends, lines rise, and every line that is not blank belongs to a record. */
Test(csv_reader, random_bytes, .timeout = 30)
{
    static const char some[] = "\",,;\n\r a\"x\t\0\xC3\xBC|";
    unsigned state = 7;
    for (int round = 0; round < 2000; round++) {
        char bytes[40];
        size_t length = 1 + (size_t)round % 39;
        for (size_t i = 0; i < length; i++) {
            state = state * 1103515245u + 12345u;
            bytes[i] = some[(state >> 16) % (sizeof some - 1)];
        }
        free(told(bytes, length, round % 4));
    }
}

Test(csv_reader, a_folder_cannot_be_read)
{
    struct lb_bytes *in;
    struct lb_error err = {0};
    struct lb_csv *csv;
    struct lb_csv_record record;
    cr_assert_eq(lb_bytes_open_file(&in, "/", &err), LB_OK);
    cr_assert_eq(lb_csv_open(&csv, in, 0, &err), LB_OK);
    cr_expect_eq(lb_csv_next(csv, &record, &err), LB_SYSTEM);
    lb_error_free(&err);
    lb_csv_free(csv);
    lb_bytes_close(in);
}
