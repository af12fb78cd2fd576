/* What a fetch brings: the bytes, only when they have changed, only those that are missing. */
#include "bench.h"

#include <criterion/criterion.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

static void begin(void)
{
    bench_begin("DNS:localhost,IP:127.0.0.1");
}

TestSuite(fetch, .init = begin, .fini = bench_end, .timeout = 200);

Test(fetch, whole)
{
    bench_fetched("whole/offers.csv", "v1", false);
    cr_assert_str_eq(bench.got.etag, "\"v1\"");
    cr_assert_str_eq(bench.got.last_modified, "Mon, 06 Jan 2025 08:00:00 GMT");
    cr_assert_str_eq(bench.got.final_url, bench_url("whole/offers.csv"));
    cr_assert_eq(strncmp(bench.got.path, bench.downloads, strlen(bench.downloads)), 0);
    bench_logged(0, "200 sent=", " Range= If-Range= If-None-Match= If-Modified-Since= ");
    cr_assert(strstr(bench_log(0), " headers=Host;User-Agent;Accept /"), "%s", bench_log(0));
}

Test(fetch, without_a_stated_size)
{
    bench_fetched("chunked/offers.csv", "v1", false);
    cr_assert_eq(bench_fetch("empty/offers.csv"), LB_OK);
    cr_assert_eq(bench_size(bench.got.path), 0);
}

Test(fetch, unchanged)
{
    bench_fetched("whole/offers.csv", "v1", false);
    bench_fetched("whole/offers.csv", "v1", true);
    bench_logged(1, "304 sent=0", "If-None-Match=\"v1\" If-Modified-Since=Mon, 06 Jan 2025 08:00:00 GMT");
    cr_assert_str_eq(bench.got.etag, "\"v1\"");
    cr_assert_str_eq(bench.got.last_modified, "Mon, 06 Jan 2025 08:00:00 GMT");
    bench_fetched("notag/offers.csv", "v1", false);
    bench_fetched("notag/offers.csv", "v1", true);
    bench_logged(3, "304 sent=0", "If-None-Match= If-Modified-Since=Mon, 06 Jan");
    cr_assert_null(bench.got.etag);
    bench_fetched("weak+nodate/offers.csv", "v1", false);
    bench_fetched("weak+nodate/offers.csv", "v1", true);
    bench_logged(5, "304 sent=0", "If-None-Match=W/\"v1\" If-Modified-Since= ");
    bench_fetched("notag+nodate/offers.csv", "v1", false);
    bench_fetched("notag+nodate/offers.csv", "v1", false);
    bench_logged(7, "200 ", "If-None-Match= If-Modified-Since= ");
}

Test(fetch, changed)
{
    bench_fetched("whole,v2/offers.csv", "v1", false);
    bench_fetched("whole,v2/offers.csv", "v2", false);
    bench_logged(1, "200 ", "If-None-Match=\"v1\"");
    bench_fetched("whole,v2/offers.csv", "v2", true);
}

Test(fetch, file_gone_or_touched)
{
    bench_fetched("whole/offers.csv", "v1", false);
    cr_assert_eq(unlink(bench.got.path), 0);
    bench_fetched("whole/offers.csv", "v1", false);
    cr_assert_eq(truncate(bench.got.path, 100), 0);
    bench_fetched("whole/offers.csv", "v1", false);
    bench_logged(2, "200 ", "If-None-Match= If-Modified-Since= ");
}

static void write_about(const char *bytes, size_t length)
{
    FILE *file = fopen(bench_beside(".about"), "wb");
    cr_assert(file);
    cr_assert_eq(fwrite(bytes, 1, length, file), length);
    cr_assert_eq(fclose(file), 0);
}

Test(fetch, damaged_about)
{
    static char noise[40000];
    memset(noise, 'x', sizeof noise);
    const struct {
        const char *bytes;
        size_t length;
    } damages[] = {{"", 0}, {"\n\n", 2}, {"etag \"v1\"", 9}, {"etag: \"v1\"\0\n", 12}, {noise, sizeof noise}};
    bench_fetched("whole/offers.csv", "v1", false);
    for (size_t i = 0; i < sizeof damages / sizeof *damages; i++) {
        write_about(damages[i].bytes, damages[i].length);
        bench_fetched("whole/offers.csv", "v1", false);
        bench_fetched("whole/offers.csv", "v1", true);
    }
}

Test(fetch, about_of_another_url)
{
    char about[256];
    bench_fetched("whole/offers.csv", "v1", false);
    long size = bench_size(bench.got.path);
    int length = snprintf(about, sizeof about, "url: https://example.com/\netag: \"v1\"\nsize: %ld\n", size);
    write_about(about, (size_t)length);
    bench_fetched("whole/offers.csv", "v1", false);
    length = snprintf(about, sizeof about, "url: %s\netag: \"v1\"\nsize: %ld\n",
                      bench_url("whole/offers.csv"), size);
    write_about(about, (size_t)length);
    bench_fetched("whole/offers.csv", "v1", true);
}

Test(fetch, about_cut_short)
{
    char about[1024];
    bench_fetched("whole/offers.csv", "v1", false);
    FILE *file = fopen(bench_beside(".about"), "rb");
    size_t length = fread(about, 1, sizeof about, file);
    fclose(file);
    for (size_t kept = 0; kept < length; kept += 5) {
        write_about(about, kept);
        bench_fetched("whole/offers.csv", "v1", false);
    }
}

Test(fetch, resumed)
{
    bench_refused("cut-50000,whole/offers.csv", LB_SYSTEM, "The 50000 bytes that came are kept");
    cr_assert_eq(bench_size(bench_download(".part")), 50000);
    char sent[64];
    snprintf(sent, sizeof sent, "206 sent=%ld ", bench_size(bench_list("v1")) - 50000);
    bench_fetched("cut-50000,whole/offers.csv", "v1", false);
    bench_logged(1, sent, "Range=bytes=50000- If-Range=\"v1\"");
    bench_fetched("cut-50000,whole/offers.csv", "v1", true);
}

Test(fetch, resumed_in_many_pieces)
{
    for (int i = 1; i <= 3; i++) {
        bench_refused("cut-30000,cut-30000,cut-30000,whole/offers.csv", LB_SYSTEM, "broke off");
        cr_assert_eq(bench_size(bench_download(".part")), 30000 * i);
    }
    bench_fetched("cut-30000,cut-30000,cut-30000,whole/offers.csv", "v1", false);
    bench_logged(3, "206 ", "Range=bytes=90000-");
}

Test(fetch, resumed_by_date)
{
    bench_refused("notag+cut-50000,notag/offers.csv", LB_SYSTEM, "are kept");
    bench_fetched("notag+cut-50000,notag/offers.csv", "v1", false);
    bench_logged(1, "206 ", "Range=bytes=50000- If-Range=Mon, 06 Jan 2025");
    bench_refused("weak+chunked+cut-50000,weak/offers.csv", LB_SYSTEM, "are kept");
    bench_fetched("weak+chunked+cut-50000,weak/offers.csv", "v1", false);
    bench_logged(3, "206 ", "If-Range=Mon, 06 Jan 2025");
}

Test(fetch, not_resumed_without_a_strong_name)
{
    const char *scripts[] = {"notag+nodate+cut-50000,whole/offers.csv",
                             "weak+nodate+cut-50000,whole/offers.csv"};
    for (int i = 0; i < 2; i++) {
        bench_refused(scripts[i], LB_SYSTEM, "only begin from the start");
        bench_fetched(scripts[i], "v1", false);
        bench_logged(2 * i + 1, "200 ", " Range= If-Range= ");
    }
}

Test(fetch, a_server_that_ignores_range)
{
    bench_refused("cut-50000,norange/offers.csv", LB_SYSTEM, "broke off");
    bench_fetched("cut-50000,norange/offers.csv", "v1", false);
    bench_logged(1, "200 ", "Range=bytes=50000-");
    cr_assert_eq(bench_requests(), 2);
}

Test(fetch, another_edition_behind_the_part)
{
    bench_refused("cut-50000,v2/offers.csv", LB_SYSTEM, "broke off");
    bench_fetched("cut-50000,v2/offers.csv", "v2", false);
    bench_logged(1, "200 ", "Range=bytes=50000-");
    cr_assert_eq(bench_requests(), 2);
}

Test(fetch, a_range_that_does_not_fit)
{
    const char *scripts[] = {"cut-50000,v2+blind/offers.csv", "notag+cut-50000,v2+blind+notag/offers.csv",
                             "cut-50000,v2+blind+notag+nodate/offers.csv", "v2+cut-50000,v2+skew/offers.csv",
                             "v2+cut-50000,v2+open/offers.csv"};
    for (int i = 0; i < 5; i++) {
        bench_refused(scripts[i], LB_SYSTEM, "broke off");
        bench_fetched(scripts[i], "v2", false);
        bench_logged(3 * i + 1, "206 ", "Range=bytes=50000-");
        bench_logged(3 * i + 2, "200 ", " Range= If-Range= ");
    }
}

Test(fetch, a_part_that_the_server_does_not_know)
{
    bench_refused("cut-50000,r416/offers.csv", LB_SYSTEM, "broke off");
    bench_fetched("cut-50000,r416/offers.csv", "v1", false);
    bench_logged(1, "416 ", "Range=bytes=50000-");
    bench_logged(2, "200 ", " Range= ");
    bench_refused("cut-50000,status-416/offers.csv", LB_SYSTEM, "broke off");
    bench_refused("cut-50000,status-416/offers.csv", LB_DATA, "status 416");
    cr_assert_eq(bench_requests(), 6);
}

Test(fetch, damaged_part)
{
    bench_refused("cut-50000,whole/offers.csv", LB_SYSTEM, "broke off");
    FILE *about = fopen(bench_download(".part.about"), "wb");
    fputs("etag: \"v1\"", about);
    fclose(about);
    bench_fetched("cut-50000,whole/offers.csv", "v1", false);
    bench_logged(1, "200 ", " Range= ");
}

Test(fetch, a_part_of_an_edition_that_was_taken_back)
{
    bench_fetched("whole,v2+cut-50000,whole/offers.csv", "v1", false);
    bench_refused("whole,v2+cut-50000,whole/offers.csv", LB_SYSTEM, "broke off");
    bench_fetched("whole,v2+cut-50000,whole/offers.csv", "v1", true);
    bench_logged(2, "304 ", "Range=bytes=50000- If-Range=\"v2\" If-None-Match=\"v1\"");
}

Test(fetch, redirects)
{
    bench_fetched("to-5/offers.csv", "v1", false);
    cr_assert_eq(bench_requests(), 6);
    cr_assert_str_eq(bench.got.final_url, bench_url("whole/offers.csv"));
    bench_fetched("to-5/offers.csv", "v1", true);
    bench_refused("to-6/offers.csv", LB_DATA, "redirects more than five times");
}

Test(fetch, names_of_files)
{
    static const char *const cases[][2] = {{"whole/.hidden", "-hidden"},
                                           {"whole/..", "-list"},
                                           {"whole/", "-list"},
                                           {"whole/a%2fb;c.csv?x=/etc/d", "-a_2fb_c.csv"}};
    char path[400] = "whole/", earlier[512];
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        (void)bench_fetch(cases[i][0]);
        const char *lock = bench_download(".lock");
        cr_assert(lock);
        cr_assert_eq(strlen(strrchr(lock, '/')), strlen("/0123456789abcdef.lock") + strlen(cases[i][1]));
        cr_assert(strstr(lock, cases[i][1]), "%s", lock);
        char command[128];
        snprintf(command, sizeof command, "rm -r '%s'", bench.downloads);
        cr_assert_eq(system(command), 0);
    }
    memset(path + 6, 'n', 300);
    strcpy(path + 306, ".csv");
    bench_fetched(path, "v1", false);
    cr_assert_eq(strlen(strrchr(bench.got.path, '/')), 1 + 16 + 1 + 80);
    cr_assert_str_eq(strrchr(bench.got.path, '.'), ".csv");
    strcpy(earlier, bench.got.path);
    path[6] = 'm'; /* the same tail */
    bench_fetched(path, "v1", false);
    cr_assert_str_neq(earlier, bench.got.path);
}
