#include "importers/profile.h"

#include "importers/read.h"

#include <criterion/criterion.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static struct lb_profile *load(const char *text, struct lb_error *err)
{
    struct lb_profile *profile = NULL;
    struct lb_bytes *bytes;
    cr_assert_eq(lb_bytes_open_memory(&bytes, text, strlen(text), err), LB_OK);
    lb_status status = lb_profile_read(&profile, bytes, "p.csv", err);
    cr_expect_eq(status == LB_OK, profile != NULL);
    lb_bytes_close(bytes);
    return profile;
}

#define HEAD "field,heading,convert\n"

static void expect_refused(const char *rows, long line, const char *words)
{
    struct lb_error err = {0};
    cr_expect_null(load(rows, &err));
    cr_expect_eq(err.status, LB_DATA);
    cr_expect_eq(err.row, line, "line %ld: %s", err.row, lb_error_text(&err));
    cr_expect_str_eq(lb_error_text(&err), words);
    lb_error_free(&err);
}

Test(profile, refused_with_its_line)
{
    expect_refused("", 0, "this is no profile: the file is empty");
    expect_refused("brand,part_number\n", 1,
                   "this is no profile: its first row must name the columns field, heading and convert");
    expect_refused(HEAD, 0, "this profile maps no column");
    expect_refused(HEAD "prize,Preis,\n", 2,
                   "\"prize\" is no column of any kind of file; did you mean \"price\"?");
    expect_refused(HEAD "price,Preis,\nprice,Netto,\n", 3, "price is there twice: line 2 says it already");
    expect_refused(HEAD "price,,\n", 2,
                   "price needs the heading that it is under, or `fixed` with a value for every row");
    expect_refused(HEAD "currency,W,fixed EUR\n", 2, "a value that is fixed for every row has no heading");
    expect_refused(HEAD "price,Preis,decimal dot\n", 2,
                   "\"decimal dot\": `decimal` is `decimal comma` or `decimal point`");
    expect_refused(HEAD "separator,,fixed x\n", 2, "a separator is one of , ; | or the word tab, not \"x\"");
    expect_refused(HEAD "separator,X,\n", 2,
                   "separator is said of the whole file: no heading, and `fixed` with the value");
    expect_refused(
        HEAD "kind,,fixed offers+rates\n", 2,
        "\"offers+rates\" is no kind of file; only parts, offers and applications are joined, with +");
    expect_refused(HEAD "ignore,,\n", 2, "a row of `ignore` names a heading and nothing else");
    expect_refused(HEAD "packs,Menge,pieces\n", 2, "a row of `packs` names a heading and nothing else");
    expect_refused(HEAD "packs,Menge,\npacks,Anzahl,\n", 3, "packs is there twice");
    expect_refused(HEAD "brand,Marke,\nignore,marke,\n", 2,
                   "the heading \"marke\" is used here, and ignored in another row");
    expect_refused(HEAD ",Marke,\n", 2, "field must be stated");
    expect_refused(HEAD "brand,\"Marke\n", 2, "a quote is opened in this line and not closed");
}

Test(profile, written_as_it_was_read)
{
    static const char text[] = HEAD "encoding,,fixed windows-1252\n"
                                    "separator,,fixed tab\n"
                                    "kind,,fixed offers+parts\n"
                                    "supplier,,fixed nord\n"
                                    "kind,Art,\n"
                                    "brand,\"Marke, Hersteller\",upper\n"
                                    "price,'=Preis,decimal comma; currency $=USD\n"
                                    "packs,Menge,\n"
                                    "ignore,Seite,\n";
    struct lb_error err = {0};
    struct lb_profile *profile = load(text, &err);
    struct lb_buf out = {0};
    cr_assert(profile, "%s", lb_error_text(&err));
    cr_expect_str_eq(lb_profile_find(profile, "price")->heading, "=Preis");
    cr_expect_eq(profile->separator, '\t');
    cr_expect_str_eq(profile->encoding, "windows-1252");
    cr_expect_eq(profile->kind_count, 2);
    lb_profile_write(&out, profile);
    cr_expect_str_eq(lb_buf_text(&out),
                     "field,heading,convert\nencoding,,fixed windows-1252\n"
                     "separator,,fixed tab\nkind,,fixed offers+parts\nsupplier,,fixed nord\n"
                     "kind,Art,\nbrand,\"Marke, Hersteller\",upper\n"
                     "price,\"'=Preis\",decimal comma; currency $=USD\npacks,Menge,\nignore,Seite,\n");
    cr_expect_str_eq(profile->packs, "Menge");
    lb_buf_free(&out);
    lb_profile_free(profile);
}

/* What a reading told, as text: rows as part number, price, currency, pack and stock. */
struct ear {
    FILE *out;
    struct lb_buf mapping;
};

static lb_status hear_begin(void *context, const struct lb_kind *const *kinds, int count,
                            struct lb_error *err)
{
    (void)context, (void)kinds, (void)count, (void)err;
    return LB_OK;
}

static lb_status hear_row(void *context, const struct lb_row *row, struct lb_error *err)
{
    static const char *const fields[] = {"part_number",   "price", "currency", "pack_quantity",
                                         "minimum_packs", "stock", "valid_to"};
    struct ear *ear = context;
    (void)err;
    fprintf(ear->out, "%ld", row->line);
    for (size_t f = 0; f < sizeof fields / sizeof *fields; f++) {
        int i = lb_kind_column(row->kinds[0], fields[f]);
        const struct lb_value *value = i < 0 ? NULL : &row->values[0][i];
        if (value && value->type == LB_VALUE_INTEGER)
            fprintf(ear->out, " %lld", (long long)value->integer);
        else if (value && value->type == LB_VALUE_TEXT)
            fprintf(ear->out, " %s", value->text);
    }
    fputc('\n', ear->out);
    return LB_OK;
}

static lb_status hear_reject(void *context, long line, int column, const char *heading, const char *reason,
                             const char *raw, struct lb_error *err)
{
    (void)raw, (void)err;
    fprintf(((struct ear *)context)->out, "%ld:%d:%s: %s\n", line, column, heading, reason);
    return LB_OK;
}

static void hear_warning(void *context, long line, const char *words)
{
    fprintf(((struct ear *)context)->out, "%ld? %s\n", line, words);
}

static lb_status hear_mapping(void *context, const struct lb_mapping *mapping, struct lb_error *err)
{
    struct lb_mapping *copy = lb_mapping_copy(mapping);
    (void)err;
    cr_assert(copy);
    lb_mapping_write_profile(&((struct ear *)context)->mapping, copy);
    lb_mapping_free(copy);
    return LB_OK;
}

/* Reads `csv` as the profile says (NULL: by the lexicon); *mapping may be NULL. */
static char *read_with(const char *profile_text, const char *csv, const char *supplier, char **mapping)
{
    struct ear ear = {0};
    struct lb_error err = {0};
    char *told = NULL;
    size_t size;
    struct lb_bytes *bytes;
    struct lb_read_report report;
    struct lb_profile *profile = profile_text ? load(profile_text, &err) : NULL;
    cr_assert(profile || !profile_text, "%s", lb_error_text(&err));
    ear.out = open_memstream(&told, &size);
    const struct lb_row_sink sink = {.context = &ear,
                                     .begin = hear_begin,
                                     .row = hear_row,
                                     .reject = hear_reject,
                                     .warn = hear_warning,
                                     .mapping = hear_mapping};
    const struct lb_read_options options = {.supplier = supplier, .profile = profile};
    cr_assert_eq(lb_bytes_open_memory(&bytes, csv, strlen(csv), &err), LB_OK);
    if (lb_read_bytes(bytes, "x.csv", &options, &sink, &report, &err))
        fprintf(ear.out, "error %ld:%ld %s\n", err.row, err.column, lb_error_text(&err));
    else
        cr_expect_eq(report.read, report.accepted + report.rejected);
    fclose(ear.out);
    if (mapping)
        *mapping = strdup(lb_buf_text(&ear.mapping));
    lb_buf_free(&ear.mapping);
    lb_bytes_close(bytes);
    lb_profile_free(profile);
    lb_error_free(&err);
    return told;
}

static void expect_read(const char *profile, const char *csv, const char *want)
{
    char *told = read_with(profile, csv, "nord", NULL);
    cr_expect_str_eq(told, want);
    free(told);
}

#define BASE HEAD "brand,Marke,\npart_number,Nr,\ncurrency,,fixed EUR\n"

Test(profile, a_row_by_a_profile)
{
    expect_read(
        BASE "price,Preis,decimal comma; per column PE; on-request auf Anfrage\npack_quantity,VE,pack text\n"
             "minimum_packs,Min,pieces\nstock,Da,pieces\nvalid_to,Bis,date D.M.Y\n",
        "Marke;Nr;Preis;PE;VE;Min;Da;Bis\n"
        "A;1;24,60;100;50 Stk;120;99;31.12.2026\n"
        "A;2;12,34;100;1;1;1;\n"
        "A;3;auf Anfrage;;;;;\n"
        "A;4;12,34;;1;1;1;\n"
        "A;5;12,345;1;1;1;1;\n"
        "A;6;2,40;100;;250;250;\n"
        "A;7;1,00;1;1;x;1;\n",
        "2 1 1230 EUR 50000000 3 1 2026-12-31\n"
        "3:3:Preis: \"12.34\" for 100 comes to no whole amount of money for a pack of 1\n"
        "4:3:Preis: price on request: the cell says \"auf Anfrage\"\n"
        "5:4:PE: for how many pieces the price is must be stated\n"
        "6:3:Preis: \"12.345\" for 1 comes to no whole amount of money for a pack of 1\n"
        "7 6 240 EUR 100000000 3 2\n"
        "8:6:Min: \"x\" is not a number\n");
}

/* Where an order says how many packs, nothing is read, and nothing is remarked on. */
Test(profile, packs_are_for_orders)
{
    char *mapping;
    expect_read(BASE "price,Preis,\npacks,Menge,\n", "Marke;Nr;Preis;Menge\nA;1;2;x\n",
                "2 1 200 EUR 1000000 1\n");
    expect_read(BASE "price,Preis,\npacks,Menge,\n", "Marke;Nr;Preis\nA;1;2\n", "2 1 200 EUR 1000000 1\n");
    free(read_with(BASE "price,Preis,\nignore,Farbe,\npacks,Menge,\n", "Marke;Nr;Preis\nA;1;2\n", "nord",
                   &mapping));
    cr_expect(strstr(mapping, "\nignore,Farbe,\npacks,Menge,\n"), "%s", mapping);
    free(mapping);
}

Test(profile, headings_that_are_not_there)
{
    expect_read(BASE "price,Preis,\nstock,Da,\n", "Marke;Nr;Preis\nA;1;2\n",
                "0? the profile's heading \"Da\" is not in this file\n2 1 200 EUR 1000000 1\n");
    expect_read(
        BASE "price,Preis,per column PE\n", "Marke;Nummer;Preis\nA;1;2\n",
        "error 1:0 the profile p.csv names headings that this file does not have: \"Nr\" (part_number), "
        "\"PE\" (what the price is for)\n");
    expect_read(BASE "price,Preis,\n", "Marke;Nr;Preis; preis\nA;1;2;3\n",
                "error 1:0 the heading \"Preis\", which the profile gives to price, is there twice\n");
    expect_read(
        BASE "price,Netto,\nignore,Farbe,\n", "Marke;Nr;price;Netto;Farbe;Form\nA;1;9;2;red;round\n",
        "0? column 3, \"price\", is not known to a file of offers and is ignored\n"
        "0? column 6, \"Form\", is not known to a file of offers and is ignored\n2 1 200 EUR 1000000 1\n");
}

Test(profile, what_is_said_of_the_file)
{
    expect_read(
        BASE "price,Preis,\nseparator,,fixed |\nkind,,fixed offers\n", "Marke|Nr|Preis|a;b;c;d\nA|1|2|\n",
        "0? column 4, \"a;b;c;d\", is not known to a file of offers and is ignored\n2 1 200 EUR 1000000 1\n");
    expect_read(BASE "price,Preis,\nkind,,fixed parts+offers\n", "Marke;Nr;Preis\nA;1;2\n",
                "error 1:0 the profile p.csv takes this file for parts, which also needs part_type\n");
    expect_read(
        BASE "price,Preis,\nsupplier,,fixed ost\n", "Marke;Nr;Preis\nA;1;2\n",
        "error 1:0 the supplier is to be nord, and the profile p.csv fixes it to ost; leave one out\n");
}

Test(profile, the_cell_is_named_as_the_file_has_it)
{
    expect_read(
        BASE "price,Preis,decimal comma\n", "Marke;Nr;Preis\nA;1;12,345\n",
        "2:3:Preis: \"12.345\" has more decimal places than its currency (the cell says \"12,345\")\n");
}

Test(profile, the_lexicon_alone)
{
    expect_read(NULL,
                "Marke;Hersteller-Nr.;Artikel-Nr.;Preis;Währung;Gültig bis;Lagerbestand\n"
                "A;1;x;1.234,50;EUR;31.12.2026;1.000\nA;2;y;12,00;EUR;;\n",
                "0? column 3, \"Artikel-Nr.\", is not used: it may be part_number, which is not sure beside "
                "\"Hersteller-Nr.\"; a profile can say so\n"
                "2 1 123450 EUR 1000000 1 1000 2026-12-31\n3 2 1200 EUR 1000000 1\n");
    expect_read(NULL, "Marke;Teilenummer;Preis\nA;1;12,50 €\nA;2;£ 3,00\n",
                "2 1 1250 EUR 1000000 1\n3 2 300 GBP 1000000 1\n");
    expect_read(NULL, "Marke;Teilenummer;Preis\nA;1;12,50 € / 100 Stk\nA;2;auf Anfrage\n",
                "2 1 1250 EUR 100000000 1\n3:3:Preis: price on request: the cell says \"auf Anfrage\"\n");
    expect_read(NULL, "Marke;Teilenummer;Preis EUR\nA;1;12,50\n", "2 1 1250 EUR 1000000 1\n");
}

/* What could be read in two ways is not read. */
Test(profile, what_is_doubtful_is_left_out)
{
    expect_read(
        NULL, "Marke;Teilenummer;Preis EUR\nA;1;1.234\nA;2;2.500\n",
        "error 1:0 these columns are those of offers, which also needs price; if a file of suppliers is "
        "meant, "
        "leave out the columns that it does not have; "
        "\"Preis "
        "EUR\" may be price, but cells such as \"1.234\" can be read in two ways; a profile can say which\n");
    expect_read(NULL, "Marke;Teilenummer;Preis EUR;Gültig bis\nA;1;1.50;03/04/2026\n",
                "0? column 4, \"Gültig bis\", is not used: it may be valid_to, but cells such as "
                "\"03/04/2026\" can be "
                "read in two ways; a profile can say which\n2 1 150 EUR 1000000 1\n");
    expect_read(NULL, "Marke;Teilenummer;Preis EUR;Bestand\nA;1;1.50;ja\n",
                "0? column 4, \"Bestand\", is not used: it may be stock, but none of its first cells is one\n"
                "2 1 150 EUR 1000000 1\n");
    expect_read(
        NULL, "Marke;Teilenummer;Preis\nA;1;$1.50\n",
        "error 1:0 these columns make no kind of file; the nearest is parts, which also needs part_type; "
        "\"Preis\" may be price, but the sign in cells such as \"$1.50\" is that of several "
        "currencies; a profile can say which (currency $=USD)\n");
}

/* Our own names keep their meaning beside headings from the lexicon; how they are written may show. */
Test(profile, own_names_beside_others)
{
    expect_read(NULL,
                "brand,part_number,price,currency,stock,EAN-Code\nA,1,1.50,EUR,3,\nA,2,2.00,EUR,some,\n",
                "0? column 6, \"EAN-Code\" (gtin), is not known to a file of offers and is ignored\n"
                "2 1 150 EUR 1000000 1 3\n3:5:stock: \"some\" is not a number\n");
    expect_read(NULL, "brand;part_number;price;currency;stock;EAN-Code\nA;1;1,50;EUR;some;\n",
                "0? column 6, \"EAN-Code\" (gtin), is not known to a file of offers and is ignored\n"
                "2:5:stock: \"some\" is not a number\n");
}

/* More rows than are looked at first, some of them no rows at all: each is read once, in order. */
Test(profile, every_row_once)
{
    char *csv = NULL, *told;
    size_t size;
    FILE *out = open_memstream(&csv, &size);
    fputs("Marke;Teilenummer;Preis EUR\n", out);
    for (int i = 0; i < 450; i++)
        fprintf(out, i % 90 ? "A;%d;1,50\n" : "A;%d\n", i);
    fclose(out);
    told = read_with(NULL, csv, "nord", NULL);
    int lines = 0;
    long line = 1;
    for (const char *p = told; *p; p = strchr(p, '\n') + 1, lines++) {
        cr_assert_eq(atol(p), line + 1);
        line = atol(p);
    }
    cr_expect_eq(lines, 450);
    free(told);
    free(csv);
}

/* Saved, a mapping reads the file in the same way and says the same of itself. */
Test(profile, a_mapping_reads_as_it_was_made)
{
    static const char csv[] = "Marke;Teilenummer;Preis;PE;VE;Bestand;Gültig bis;Farbe\n"
                              "A;1;1.234,50 €;1;1;1.000;31.12.2026;red\nA;2;auf Anfrage;1;1;1;;\n"
                              "A;3;24,60 €;100;50 Stk.;99;31.12.2026;\n";
    char *first_mapping, *second_mapping;
    char *first = read_with(NULL, csv, "nord", &first_mapping);
    char *second = read_with(first_mapping, csv, NULL, &second_mapping);
    const char *remark = strchr(first, '\n') + 1; /* what is not known is ignored on purpose from then on */
    cr_expect_str_eq(first_mapping, second_mapping);
    cr_expect_str_eq(second, remark);
    cr_expect_not_null(strstr(first, "2 1 123450 EUR 1000000 1 1000 2026-12-31\n"), "%s", first);
    cr_expect_not_null(strstr(first, "4 3 1230 EUR 50000000 1 1 2026-12-31\n"), "%s", first);
    free(first);
    free(second);
    free(first_mapping);
    free(second_mapping);
}

Test(profile, our_own_names_need_none)
{
    char *mapping;
    char *told =
        read_with(NULL, "Supplier,brand,part_number,price,currency,zzz\nN,A,1,2,EUR,\n", "nord", &mapping);
    cr_expect_str_eq(told, "0? column 6, \"zzz\", is not known to a file of offers and is ignored\n"
                           "2 1 200 EUR 1000000 1\n");
    cr_expect_str_eq(mapping, HEAD "encoding,,fixed UTF-8\nseparator,,\"fixed ,\"\nkind,,fixed offers\n"
                                   "supplier,Supplier,empty nord\nbrand,brand,\npart_number,part_number,\n"
                                   "price,price,\ncurrency,currency,\nignore,zzz,\n");
    free(told);
    free(mapping);
}
