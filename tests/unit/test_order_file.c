/* An order as files: whose columns, which bytes, under which names, and never by halves. */
#include "shop_help.h"

#include "purchase/order_file.h"

#include <dirent.h>
#include <sys/stat.h>

static const char *const sat[] = {"sat", NULL}, *const both[] = {"sun", "sat", NULL};

static struct lb_profile *profile_of(const char *text)
{
    struct lb_profile *profile;
    struct lb_bytes *bytes;
    expect_ok(lb_bytes_open_memory(&bytes, text, strlen(text), &err));
    expect_ok(lb_profile_read(&profile, bytes, "p.csv", &err));
    lb_bytes_close(bytes);
    return profile;
}

static const char *out_folder(struct shop *shop)
{
    scratch_path(&shop->s, "out");
    mkdir(shop->s.path, 0777);
    return shop->s.path;
}

/* Caller frees. */
static char *read_out(struct shop *shop, const char *name)
{
    char path[400];
    char *text = calloc(1, 20000);
    snprintf(path, sizeof path, "%s/out/%s", shop->s.folder, name);
    FILE *file = fopen(path, "rb");
    cr_assert(file && text, "%s is not there", path);
    size_t got = fread(text, 1, 19999, file);
    text[got] = '\0';
    fclose(file);
    return text;
}

static void expect_out(struct shop *shop, const char *name, const char *want)
{
    char *text = read_out(shop, name);
    cr_expect_str_eq(text, want, "%s: %s", name, text);
    free(text);
}

/* All names in the folder, hidden ones too, sorted. */
static void expect_names(struct shop *shop, const char *want)
{
    struct dirent **entries;
    struct lb_buf seen = {0};
    int count = scandir(out_folder(shop), &entries, NULL, alphasort);
    for (int i = 0; i < count; i++) {
        if (strcmp(entries[i]->d_name, ".") != 0 && strcmp(entries[i]->d_name, "..") != 0)
            lb_buf_printf(&seen, "%s%s", seen.length ? " " : "", entries[i]->d_name);
        free(entries[i]);
    }
    free(entries);
    cr_expect_str_eq(lb_buf_text(&seen), want);
    lb_buf_free(&seen);
}

/* Writes, records and names. */
static void place(struct shop *shop, struct bought *b, const struct lb_profile *profile)
{
    struct lb_order_files *files;
    expect_ok(lb_store_begin(shop->store, &err));
    expect_ok(lb_order_files_write(&files, shop->store, &b->purchase, out_folder(shop), profile, &err));
    expect_ok(lb_orders_record(shop->store, &b->purchase, lb_order_files_stems(files), SHOP_NOW, &err));
    expect_ok(lb_store_commit(shop->store, &err));
    expect_ok(lb_order_files_name(files, shop->store, &err));
    lb_order_files_free(files);
}

static void order_with(struct shop *shop, const char *const *names, const char *profile_text)
{
    struct bought *b = shop_buy(shop, names);
    struct lb_profile *profile = profile_text ? profile_of(profile_text) : NULL;
    place(shop, b, profile);
    lb_profile_free(profile);
    bought_free(b);
}

Test(order_file, our_own_columns)
{
    struct shop shop = shop_open();
    order_with(&shop, both, NULL);
    expect_names(&shop, "mill-order.csv mill-order.txt quay-order.csv quay-order.txt");
    expect_out(
        &shop, "quay-order.csv",
        "supplier_code,brand,part_number,description,packs,pack_quantity,price,currency,amount,kits\r\n"
        "Q1,Orlop,100-01,Water pump,2,1,48.00,EUR,96.00,sun; sat\r\n"
        "Q2,Orlop,100-02,,2,10,1.00,EUR,2.00,sun; sat\r\n"
        ",Orlop,100-03,,2,1,3.20,EUR,6.40,sun; sat\r\n");
    expect_out(
        &shop, "mill-order.csv",
        "supplier_code,brand,part_number,description,packs,pack_quantity,price,currency,amount,kits\r\n"
        ",Orlop,100-05,,1,1,90.00,EUR,90.00,sun\r\n"
        "M4,Orlop,100-04,\"Coolant, blue\",2,5,7.50,EUR,15.00,sun; sat\r\n");
    shop_close(&shop);
}

Test(order_file, a_mail_to_paste)
{
    struct shop shop = shop_open();
    order_with(&shop, both, NULL);
    expect_out(
        &shop, "quay-order.txt",
        "To Quayside Parts\n\nGood day,\n\nplease send us:\n\n"
        "1. 2 × Orlop 100-01, Water pump\n   your code Q1; 48.00 EUR each time, together 96.00 EUR\n"
        "2. 2 packs of 10 Orlop 100-02, flange-bolt\n   your code Q2; 1.00 EUR each time, together 2.00 EUR\n"
        "3. 2 × Orlop 100-03, pump-gasket\n   3.20 EUR each time, together 6.40 EUR\n"
        "\nBy your list this comes to 104.40 EUR and 4.90 EUR for shipping.\n"
        "We expect to pay 109.30 EUR without tax, 131.16 EUR with 20 % tax.\n"
        "\nPlease confirm this order, its prices and the day on which we can expect it. Should you not have "
        "something,\nor only another part in its place, please ask us before you send anything.\n"
        "\nThank you, and kind regards\n");
    char *mail = read_out(&shop, "mill-order.txt");
    cr_expect(strstr(mail, "1. 1 × Orlop 100-05, starter-motor\n   90.00 EUR\n"), "%s", mail);
    cr_expect(strstr(mail, "2. 2 packs of 5 L Orlop 100-04, Coolant, blue\n"), "%s", mail);
    cr_expect(strstr(mail, "without tax; which tax you charge we do not know.\n"), "%s", mail);
    cr_expect(strstr(mail, "Deposits of 25.00 EUR come on top"), "%s", mail);
    free(mail);
    shop_close(&shop);
}

Test(order_file, nothing_that_a_spreadsheet_would_run)
{
    struct shop shop = shop_open();
    struct lb_kit *kit = shop_open_kit(&shop, "sat");
    expect_ok(lb_kit_decide(shop.store, kit, shop_line(kit, "flange-bolt"), LB_BUY, "Kestrel", "K-2", &err));
    lb_kit_free(kit);
    order_with(&shop, sat, NULL);
    char *list = read_out(&shop, "mill-order.csv");
    cr_expect(strstr(list, ",Kestrel,K-2,\"'=Bolt\",1,8,"), "%s", list);
    free(list);
    shop_close(&shop);
}

Test(order_file, the_columns_of_a_profile)
{
    struct shop shop = shop_open();
    order_with(&shop, sat,
               "field,heading,convert\nseparator,,fixed ;\nsupplier,,fixed quay\nbrand,Marke,map Orl=Orlop\n"
               "part_number,Nummer,upper\nsupplier_code,Artikel,prefix Q\nstock,Bestand,pieces\n"
               "price,Preis,decimal comma; per column PE\npack_quantity,VE,decimal comma\n"
               "packs,Menge,\ndescription,\"Was; es ist\",\n");
    expect_out(
        &shop, "quay-order.csv",
        "Marke;Nummer;Artikel;Preis;PE;VE;\"Was; es ist\";Menge\r\n"
        "Orl;100-01;1;48,00;1;1;Water pump;1\r\nOrl;100-02;2;1,00;10;10;;1\r\nOrl;100-03;;3,20;1;1;;1\r\n");
    shop_close(&shop);
}

Test(order_file, a_price_per_hundred_is_exact_or_left_out)
{
    struct shop shop = shop_open();
    order_with(&shop, sat,
               "field,heading,convert\nsupplier,,fixed quay\nbrand,Make,\npart_number,Ref,\n"
               "price,Price,currency symbol; per 3\ncurrency,Price,currency symbol\npack_quantity,Sold "
               "in,pack text\n");
    expect_out(&shop, "quay-order.csv",
               "Make,Ref,Price,Sold in,packs\r\nOrlop,100-01,144.00 EUR,1,1\r\nOrlop,100-02,0.30 EUR,10,1\r\n"
               "Orlop,100-03,9.60 EUR,1,1\r\n");
    expect_out(&shop, "mill-order.csv", "Make,Ref,Price,Sold in,packs\r\nOrlop,100-04,4.50 EUR,5,1\r\n");
    shop_close(&shop);
}

Test(order_file, the_columns_of_the_suppliers_own_list)
{
    struct shop shop = shop_open();
    shop_import(&shop, "offers.csv",
                "Leverantör;Märke;Artikelnummer;Styckpris;Valuta\nquay;Orlop;100-01;48,00;EUR\n"
                "quay;Orlop;100-02;0,10;EUR\nquay;Orlop;100-03;3,20;EUR\nquay;Orlop;100-04;1,50;EUR\n");
    order_with(&shop, sat, NULL);
    char *list = read_out(&shop, "quay-order.csv");
    cr_expect(strstr(list, "Leverantör;Märke;Artikelnummer;Styckpris;Valuta;packs\r\n"), "%s", list);
    cr_expect(strstr(list, "\r\nquay;Orlop;100-02;0,10;EUR;8\r\n"), "%s", list);
    free(list);
    shop_close(&shop);
}

Test(order_file, names_that_come_to_the_same)
{
    struct shop shop = shop_open();
    shop_import(&shop, "suppliers.csv", "supplier,currency\n\"Sjö & Son\",EUR\nsjö (son),EUR\n* * *,EUR\n");
    shop_import(&shop, "offers.csv",
                "supplier,brand,part_number,price,currency\n\"Sjö & Son\",Orlop,100-01,48.00,EUR\n"
                "\"Sjö & Son\",Orlop,100-03,48.00,EUR\nsjö (son),Orlop,100-02,1.00,EUR\n* * "
                "*,Orlop,100-04,1.00,EUR\n");
    order_with(&shop, sat, NULL);
    expect_names(&shop, "sjo-son-2-order.csv sjo-son-2-order.txt sjo-son-order.csv sjo-son-order.txt "
                        "supplier-order.csv supplier-order.txt");
    shop_close(&shop);
}

Test(order_file, nothing_is_overwritten_and_nothing_left_behind)
{
    struct shop shop = shop_open();
    struct bought *b = shop_buy(&shop, sat);
    struct lb_order_files *files;
    out_folder(&shop);
    scratch_write(&shop.s, "out/quay-order.txt", "mine", 4);
    cr_expect_eq(lb_order_files_write(&files, shop.store, &b->purchase, out_folder(&shop), NULL, &err),
                 LB_DATA);
    cr_expect(strstr(lb_error_text(&err), "/out/quay-order.txt is there already"), "%s", lb_error_text(&err));
    expect_names(&shop, "quay-order.txt");
    expect_out(&shop, "quay-order.txt", "mine");
    cr_expect_eq(lb_order_files_write(&files, shop.store, &b->purchase, "/no/such/folder", NULL, &err),
                 LB_SYSTEM);
    cr_expect_null(files);
    bought_free(b);
    shop_close(&shop);
}

/* The run ends behind the record: files wait, and whoever orders next gives them their names. */
Test(order_file, a_run_that_was_stopped_is_finished_by_the_next)
{
    struct shop shop = shop_open();
    struct bought *b = shop_buy(&shop, sat);
    struct lb_order_files *files;
    struct lb_buf names = {0};
    expect_ok(lb_store_begin(shop.store, &err));
    expect_ok(lb_order_files_write(&files, shop.store, &b->purchase, out_folder(&shop), NULL, &err));
    expect_names(&shop,
                 ".mill-order.csv.part .mill-order.txt.part .quay-order.csv.part .quay-order.txt.part");
    expect_ok(lb_orders_record(shop.store, &b->purchase, lb_order_files_stems(files), SHOP_NOW, &err));
    expect_ok(lb_store_commit(shop.store, &err));
    scratch_write(&shop.s, "out/quay-order.txt", "mine", 4);
    cr_expect_eq(lb_order_files_resume(shop.store, &names, &err), LB_SYSTEM);
    cr_expect(strstr(lb_error_text(&err), "/out/quay-order.txt"), "%s", lb_error_text(&err));
    cr_expect(strstr(lb_error_text(&err), "/out/.quay-order.txt.part"), "%s", lb_error_text(&err));
    scratch_path(&shop.s, "out/quay-order.txt");
    remove(shop.s.path);
    lb_buf_clear(&names);
    expect_ok(lb_order_files_resume(shop.store, &names, &err));
    expect_names(&shop, "mill-order.csv mill-order.txt quay-order.csv quay-order.txt");
    lb_buf_clear(&names);
    expect_ok(lb_order_files_resume(shop.store, &names, &err)); /* once is enough */
    cr_expect_eq(names.length, 0);
    lb_buf_free(&names);
    lb_order_files_free(files);
    expect_names(&shop, "mill-order.csv mill-order.txt quay-order.csv quay-order.txt");
    bought_free(b);
    shop_close(&shop);
}
