#include "importers/encoding.h"

#include "bytes_help.h"
#include "importers/csv_reader.h"

#include <iconv.h>
#include <stdio.h>

/* Memory that comes in small pieces, as a pipe's does. */
struct pieces {
    struct lb_bytes bytes;
    const char *at;
    size_t left, size;
};

static lb_status read_piece(struct lb_bytes *bytes, char *to, size_t room, size_t *got, struct lb_error *err)
{
    struct pieces *p = (struct pieces *)bytes;
    (void)err;
    *got = p->left < room ? p->left : room;
    *got = *got < p->size ? *got : p->size;
    memcpy(to, p->at, *got);
    p->at += *got;
    p->left -= *got;
    bytes->done += *got;
    return LB_OK;
}

static void close_pieces(struct lb_bytes *bytes)
{
    free(bytes);
}

static struct lb_bytes *open_pieces(const char *bytes, size_t length, size_t size)
{
    struct pieces *p = malloc(sizeof *p);
    cr_assert(p);
    *p = (struct pieces){{.size = length, .read = read_piece, .close = close_pieces}, bytes, length, size};
    return &p->bytes;
}

/* What `length` bytes become, and what they were told to be. Pieces in and out of all sizes must agree. */
static void expect_bytes(const char *bytes, size_t length, const char *given, const char *want,
                         size_t want_length, const char *encoding)
{
    static const size_t sizes[] = {1, 7, 4096, 1 << 21};
    for (size_t i = 0; i < 16; i++) {
        struct lb_bytes *text;
        struct lb_buf got = {0};
        struct lb_error err = {0};
        cr_assert_eq(lb_encoding_open(&text, open_pieces(bytes, length, sizes[i / 4]), given, &err), LB_OK);
        cr_assert_eq(read_everything(text, sizes[i % 4], &got, &err), LB_OK);
        cr_assert_eq(got.length, want_length, "%s: %zu bytes instead of %zu", encoding, got.length,
                     want_length);
        cr_assert(memcmp(lb_buf_text(&got), want, want_length) == 0, "%s: \"%.160s\" instead of \"%.160s\"",
                  encoding, lb_buf_text(&got), want);
        cr_assert_str_eq(text->encoding ? text->encoding : "", encoding);
        cr_assert_eq(text->done, length);
        cr_assert_eq(text->size, length);
        lb_buf_free(&got);
        lb_bytes_close(text);
    }
}

static size_t encode(const char *utf8, const char *encoding, char *to, size_t room)
{
    char *from = (char *)(uintptr_t)utf8, *at = to;
    size_t left = strlen(utf8);
    iconv_t converter = iconv_open(encoding, "UTF-8");
    cr_assert_neq(converter, (iconv_t)-1, "%s", encoding);
    cr_assert_neq(iconv(converter, &from, &left, &at, &room), (size_t)-1, "%s", encoding);
    iconv_close(converter);
    return (size_t)(at - to);
}

/* UTF-8 text, written in an encoding, must come back, and the encoding be told as `told`. */
static void expect_found(const char *utf8, const char *written, const char *told)
{
    char bytes[8192];
    size_t length = encode(utf8, written, bytes, sizeof bytes);
    expect_bytes(bytes, length, NULL, utf8, strlen(utf8), told);
}

#define HEADING "supplier;brand;part_number;name;price;currency\n"

static const char german[] = HEADING "nord;Kestrel;A-1;Kühlmittelschlauch;3,50;EUR\n"
                                     "nord;Kestrel;A-2;Zahnriemen;13,50;EUR\n"
                                     "nord;Kestrel;A-3;Gehäuse groß;8,00;EUR\n";

Test(encoding, western_lists_with_a_few_letters)
{
    expect_found(german, "WINDOWS-1252", "Windows-1252");
    expect_found(HEADING "nord;Peyrot;A-1;Joint d’étanchéité;3,50;EUR\n", "WINDOWS-1252", "Windows-1252");
    expect_found(HEADING "nord;Peyrot;A-1;Pompe à eau;3,50;EUR\n", "WINDOWS-1252", "Windows-1252");
    expect_found(HEADING "nord;Peyrot;A-1;Galet tendeur, côté;3,50;EUR\nnord;P;A-2;vis 1/2\" à tête;1;EUR\n",
                 "WINDOWS-1252", "Windows-1252");
    expect_found(HEADING "nord;Kestrel;A-1;Termostato, año 2004;3,50;EUR\n", "WINDOWS-1252", "Windows-1252");
    expect_found(HEADING "nord;Kestrel;A-1;Kølerslange, øvre;3,50;DKK\nnord;K;A-2;Påfyldning;1,00;DKK\n",
                 "WINDOWS-1252", "Windows-1252");
    expect_found(HEADING "nord;Kestrel;A-1;Thermostat 88°, ±2;€3.50;EUR\n", "WINDOWS-1252", "Windows-1252");
    expect_found(HEADING "nord;Kestrel;A-1;½ inch hose;3.50;GBP\n", "WINDOWS-1252", "Windows-1252");
}

/* Most of these uchardet by itself takes for another alphabet, from the Baltic to DOS. */
Test(encoding, western_words_that_look_eastern)
{
    static const char *const words[] = {
        "cinta métrica", "tuyau percé", "fusível duplo", "Rückholfeder", "pignone libertà", "válvula", "mçã",
        "crémaillère",   "piña",        "coração",       "kædestrammer", "påhængstræk",     "però",
    };
    for (size_t i = 0; i < sizeof words / sizeof *words; i++) {
        char list[200];
        snprintf(list, sizeof list, HEADING "nord;Kestrel;A-1;%s;3,50;EUR\n", words[i]);
        expect_found(list, "WINDOWS-1252", "Windows-1252");
    }
}

Test(encoding, other_alphabets)
{
    expect_found(HEADING "nord;Kestrel;A-1;Przewód chłodnicy górny;35,00;PLN\n"
                         "nord;Kestrel;A-2;Uszczelka głowicy cylindrów;120,00;PLN\n"
                         "nord;Kestrel;A-3;Łożysko koła przednie;99,00;PLN\n"
                         "nord;Kestrel;A-4;Świeca żarowa;49,00;PLN\n",
                 "WINDOWS-1250", "Windows-1250");
    expect_found(HEADING "nord;Kestrel;A-1;Hadice chladiče horní;35,00;CZK\n"
                         "nord;Kestrel;A-2;Těsnění hlavy válců;120,00;CZK\n"
                         "nord;Kestrel;A-3;Ložisko kola přední;99,00;CZK\n"
                         "nord;Kestrel;A-4;Žhavicí svíčka;49,00;CZK\n",
                 "WINDOWS-1250", "Windows-1250");
    expect_found(HEADING "nord;Kestrel;A-1;Патрубок радиатора верхний;350;RUB\n"
                         "nord;Kestrel;A-2;Прокладка головки блока;1200;RUB\n",
                 "WINDOWS-1251", "Windows-1251");
    expect_found(HEADING "nord;Kestrel;A-1;Патрубок радиатора верхний;350;RUB\n"
                         "nord;Kestrel;A-2;Прокладка головки блока;1200;RUB\n",
                 "KOI8-R", "KOI8-R");
}

Test(encoding, far_east)
{
    static const char japanese[] = HEADING "nord;K;A-1;ラジエーターホース 上側;350;JPY\n"
                                           "nord;K;A-2;シリンダーヘッドガスケット;1200;JPY\n"
                                           "nord;K;A-3;前輪ハブベアリング、左右共通;900;JPY\n";
    static const char chinese[] = HEADING "nord;K;A-1;散热器上水管;350;CNY\n"
                                          "nord;K;A-2;气缸盖垫片;1200;CNY\n"
                                          "nord;K;A-3;前轮轮毂轴承，左右通用;900;CNY\n"
                                          "nord;K;A-4;更换冷却液所需的零件;900;CNY\n";
    expect_found(japanese, "SHIFT_JIS", "Shift_JIS");
    expect_found(japanese, "EUC-JP", "EUC-JP");
    expect_found(chinese, "GBK", "GB18030");
    /* Katakana alone: its bytes beyond ASCII stand one by one, as the accents of a Latin alphabet do. */
    expect_found(HEADING "nord;K;A-1;ホース;350;JPY\nnord;K;A-2;ラジエーター ボルト;12;JPY\n", "SHIFT_JIS",
                 "Shift_JIS");
    expect_found(HEADING "nord;K;A-1;ボルト ① ㈱前輪ハブ;350;JPY\nnord;K;A-2;ラジエーター;1;JPY\n", "CP932",
                 "Shift_JIS");
}

Test(encoding, utf8_and_its_mark)
{
    expect_bytes(german, sizeof german - 1, NULL, german, sizeof german - 1, "UTF-8");
    expect_bytes("\xEF\xBB\xBF"
                 "a;b\n",
                 7, NULL, "a;b\n", 4, "UTF-8");
    expect_bytes("\xEF\xBB\xBF"
                 "a;b\n",
                 7, "utf8", "a;b\n", 4, "UTF-8");
    expect_bytes("a;b\n", 4, NULL, "a;b\n", 4, "");
    expect_bytes("", 0, NULL, "", 0, "");
    expect_bytes("\xFF", 1, "UTF-8", "\xFF", 1, "UTF-8");
}

Test(encoding, wide_ones)
{
    static const char *const names[] = {"UTF-16LE", "UTF-16BE", "UTF-32LE", "UTF-32BE"};
    char bytes[4096], marked[256];
    snprintf(marked, sizeof marked, "\xEF\xBB\xBF%s", german); /* the mark, in whatever it is written */
    for (size_t i = 0; i < 4; i++) {
        size_t length = encode(marked, names[i], bytes, sizeof bytes);
        expect_bytes(bytes, length, NULL, german, sizeof german - 1, names[i]);
    }
    for (size_t i = 0; i < 2; i++) {
        size_t length = encode(german, names[i], bytes, sizeof bytes);
        expect_bytes(bytes, length, NULL, german, sizeof german - 1, names[i]);
        expect_bytes(bytes, length, names[i], german, sizeof german - 1, names[i]);
    }
}

Test(encoding, what_cannot_be_decoded_is_one_bad_byte)
{
    expect_bytes("a\x81z\n\xFC\n", 6, "Windows-1252", "a\xFFz\n\xC3\xBC\n", 7, "Windows-1252");
    /* a lone surrogate; an odd byte at the end */
    expect_bytes("a\0\0\xD8z\0\n", 7, "UTF-16LE", "a\xFFz\xFF", 4, "UTF-16LE");
    /* the line end behind half a character stays */
    expect_bytes("\x83\n\x83\x67", 4, "Shift_JIS", "\xFF\n\xE3\x83\x88", 5, "Shift_JIS");
    expect_bytes("x\x83", 2, "Shift_JIS", "x\xFF", 2, "Shift_JIS");
    expect_bytes("a\0b\n", 4, NULL, "a\0b\n", 4, "");
    static const char nul[] = "a\0b;gr\xFCn;und noch etwas mehr Text dazu\n";
    static const char kept[] = "a\0b;gr\xC3\xBCn;und noch etwas mehr Text dazu\n";
    expect_bytes(nul, sizeof nul - 1, NULL, kept, sizeof kept - 1, "Windows-1252");
}

/* Rows of the reader: `line:cell|…;` or `line!reason;`. */
static void expect_rows(const char *bytes, size_t length, const char *encoding, const char *want)
{
    char told[1024] = "";
    size_t n = 0;
    struct lb_bytes *file, *text;
    struct lb_csv *csv;
    struct lb_csv_record record;
    struct lb_error err = {0};
    cr_assert_eq(lb_bytes_open_memory(&file, bytes, length, &err), LB_OK);
    cr_assert_eq(lb_encoding_open(&text, file, encoding, &err), LB_OK);
    cr_assert_eq(lb_csv_open(&csv, text, 0, &err), LB_OK);
    while (lb_csv_next(csv, &record, &err) == LB_OK && record.line > 0) {
        n += (size_t)snprintf(told + n, sizeof told - n, "%ld%s%s", record.line, record.fault ? "!" : "",
                              record.fault ? record.fault : "");
        for (int i = 0; i < record.count; i++)
            n += (size_t)snprintf(told + n, sizeof told - n, "%c%s", i ? '|' : ':', record.cells[i]);
        n += (size_t)snprintf(told + n, sizeof told - n, ";");
    }
    cr_expect_str_eq(told, want);
    lb_csv_free(csv);
    lb_bytes_close(text);
}

Test(encoding, a_bad_byte_costs_its_row)
{
    static const char windows[] = "a;b\ngr\xFCn;1\nx\x81;2\nwei\xDF;3\n";
    static const char utf8[] = "a;b\ngrün;1\nx\xFC;2\nweiß;3\n";
    expect_rows(windows, sizeof windows - 1, NULL,
                "1:a|b;2:grün|1;3!a byte that is not Windows-1252;4:weiß|3;");
    expect_rows(windows, sizeof windows - 1, "UTF-8",
                "1:a|b;2!the bytes are not UTF-8;3!the bytes are not UTF-8;4!the bytes are not UTF-8;");
    /* One broken row does not make a file of UTF-8 another, whose every umlaut would be two odd letters. */
    expect_rows(utf8, sizeof utf8 - 1, NULL, "1:a|b;2:grün|1;3!the bytes are not UTF-8;4:weiß|3;");
}

/* `filler` bytes of rows, then `tail`. */
static char *large(size_t filler, const char *tail, size_t *length)
{
    char *bytes = malloc(filler + strlen(tail));
    cr_assert(bytes);
    for (size_t i = 0; i < filler; i++)
        bytes[i] = i % 40 == 39 ? '\n' : i % 10 == 9 ? ';' : 'x';
    memcpy(bytes + filler, tail, strlen(tail));
    *length = filler + strlen(tail);
    return bytes;
}

static void expect_large(size_t filler, const char *tail, const char *want_tail, const char *encoding)
{
    size_t length, want_length;
    char *bytes = large(filler, tail, &length), *want = large(filler, want_tail, &want_length);
    struct lb_bytes *file, *text;
    struct lb_buf got = {0};
    struct lb_error err = {0};
    cr_assert_eq(lb_bytes_open_memory(&file, bytes, length, &err), LB_OK);
    cr_assert_eq(lb_encoding_open(&text, file, NULL, &err), LB_OK);
    cr_assert_eq(read_everything(text, 1000003, &got, &err), LB_OK);
    cr_assert_eq(got.length, want_length);
    cr_assert(memcmp(got.text, want, want_length) == 0);
    cr_assert_str_eq(text->encoding, encoding);
    lb_buf_free(&got);
    lb_bytes_close(text);
    free(bytes);
    free(want);
}

Test(encoding, the_first_umlaut_comes_late)
{
    expect_large(3 << 20, "K\xFChler\n", "K\xC3\xBChler\n", "Windows-1252");
    expect_large(3 << 20, "K\xC3\xBChler\n", "K\xC3\xBChler\n", "UTF-8");
    expect_large((3 << 20) + 1, "\xC3", "\xC3\x83", "Windows-1252"); /* cut at the end of the file: none */
}

/* A window ends in the middle of a sequence, wherever that is: the first non-ASCII byte is 1 MiB before it.
 */
Test(encoding, a_window_may_cut_a_sequence)
{
    for (size_t shift = 0; shift < 4; shift++) {
        size_t length = (1 << 20) + 64;
        char *bytes = malloc(length);
        struct lb_bytes *file, *text;
        struct lb_buf got = {0};
        struct lb_error err = {0};
        cr_assert(bytes);
        memset(bytes, 'x', length);
        memcpy(bytes, "\xE2\x82\xAC", 3);
        for (size_t i = (1 << 20) - shift; i + 3 <= length; i += 3)
            memcpy(bytes + i, "\xE2\x82\xAC", 3);
        memset(bytes + length - 2, '\n', 2);
        bytes[length - 3] = bytes[length - 4] = bytes[length - 5] = 'x';
        cr_assert_eq(lb_bytes_open_memory(&file, bytes, (1 << 20) + 30 - shift, &err), LB_OK);
        cr_assert_eq(lb_encoding_open(&text, file, NULL, &err), LB_OK);
        cr_assert_eq(read_everything(text, 65536, &got, &err), LB_OK);
        cr_assert_str_eq(text->encoding, "UTF-8");
        cr_assert_eq(got.length, (1 << 20) + 30 - shift);
        cr_assert(memcmp(got.text, bytes, got.length) == 0);
        lb_buf_free(&got);
        lb_bytes_close(text);
        free(bytes);
    }
}

Test(encoding, no_text_at_all_is_left_alone)
{
    char bytes[300];
    memset(bytes, '\1', sizeof bytes);
    memcpy(bytes, "\x89PNG\r\n\x1A\n", 8);
    expect_bytes(bytes, sizeof bytes, NULL, bytes, sizeof bytes, "UTF-8");
}

Test(encoding, names_that_no_one_knows)
{
    static const char *const names[] = {"klingon", "", "UTF-8//IGNORE", "WINDOWS-1252//TRANSLIT"};
    for (size_t i = 0; i < sizeof names / sizeof *names; i++) {
        struct lb_bytes *file, *text;
        struct lb_error err = {0};
        cr_assert_eq(lb_bytes_open_memory(&file, "a", 1, &err), LB_OK);
        cr_assert_eq(lb_encoding_open(&text, file, names[i], &err), LB_USAGE);
        cr_assert_null(text);
        cr_assert(strstr(lb_error_text(&err), "Windows-1252"), "%s", lb_error_text(&err));
        lb_error_free(&err);
        lb_bytes_close(file); /* still the caller's */
    }
}

/* One letter in every row is no proof of a rarer alphabet that has it too. */
Test(encoding, one_letter_over_and_over)
{
    struct lb_buf list = {0}, want = {0};
    for (int i = 0; i < 3000; i++) {
        lb_buf_printf(&list, "Rudviva;K\xfchler JNT STRG %d;145,01\r\n", i);
        lb_buf_printf(&want, "Rudviva;K\xc3\xbchler JNT STRG %d;145,01\r\n", i);
    }
    struct lb_bytes *text;
    struct lb_buf got = {0};
    struct lb_error err = {0};
    cr_assert_eq(lb_encoding_open(&text, open_pieces(list.text, list.length, 1 << 16), NULL, &err), LB_OK);
    cr_assert_eq(read_everything(text, 4096, &got, &err), LB_OK);
    cr_expect_str_eq(text->encoding, "Windows-1252");
    cr_expect_str_eq(got.text, want.text);
    lb_bytes_close(text);
    lb_buf_free(&list);
    lb_buf_free(&want);
    lb_buf_free(&got);
}
