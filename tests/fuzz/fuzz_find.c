/* Any words into find: nothing may crash, and what find.h promises must hold.
 *
 * An input is a byte and what was typed, up to the first NUL. Of the byte, bits 0 to 2: how many parts to
 * show at most; bit 3: a vehicle; bit 4: with it, also what does not fit; bits 5 and 6: the page's width.
 *
 * replay.c runs the corpus through this in the ordinary suite; the preset `fuzz` links it with libFuzzer. */
#include "fuzz_find.h"

#include "base/text.h"
#include "report/find_json.h"
#include "report/find_text.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

enum { CONTROL_BYTES = 1, TODAY = 20454, COMPARED = 50 };

static void must(bool holds)
{
    if (!holds)
        __builtin_trap();
}

static void judge_text(const char *text)
{
    must(text != NULL && lb_text_is_utf8(text, strlen(text), NULL));
}

static void judge_text_or_null(const char *text)
{
    if (text)
        judge_text(text);
}

static void judge_texts(const char *const *texts, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        judge_text(texts[i]);
        must(*texts[i]);
    }
}

static void judge_hit(const struct lb_find_hit *hit, const struct lb_find_request *request)
{
    judge_text(hit->brand);
    judge_text(hit->part_number);
    judge_text_or_null(hit->part_type);
    judge_text_or_null(hit->description);
    judge_text_or_null(hit->spec);
    judge_text_or_null(hit->asks);
    judge_text_or_null(hit->now);
    judge_text_or_null(hit->note);
    must((hit->fit == LB_FIND_NO_VEHICLE) == !request->shortlist);
    must(hit->fit != LB_FIND_NO || request->all);
    must(!hit->priced || (hit->supplier && hit->price >= 0 && hit->pack_quantity > 0));
    judge_text_or_null(hit->priced ? hit->supplier : NULL);
    must(isfinite(hit->score) && hit->score >= 0);
    for (size_t i = 0; i < hit->reason_count; i++)
        judge_text(hit->reasons[i].words);
}

static void judge_result(const struct lb_find_result *result, const struct lb_find_request *request)
{
    must(result->hit_count <= (size_t)request->limit);
    must(result->total >= (int64_t)result->hit_count);
    for (size_t i = 0; i < result->hit_count; i++) {
        judge_hit(&result->hits[i], request);
        for (size_t j = 0; j < i && i < COMPARED; j++)
            must(strcmp(result->hits[i].part_number, result->hits[j].part_number) != 0 ||
                 strcmp(result->hits[i].brand, result->hits[j].brand) != 0);
    }
    judge_texts(result->remarks, result->remark_count);
    judge_texts(result->advice, result->advice_count);
    must(result->hit_count || result->advice_count); /* nothing found is never a blank */
}

/* The whole answer as it would be printed. The caller frees it. */
static struct lb_buf print(const struct lb_find_request *request, const struct lb_find_result *result,
                           uint8_t control)
{
    static const int widths[] = {0, 40, 80, 200};
    const struct lb_find_view view = {.query = request->text,
                                      .vehicle = request->shortlist ? request->shortlist->vehicle : NULL,
                                      .limit = request->limit,
                                      .all = request->all,
                                      .why = true};
    const struct lb_style style = {.width = widths[control >> 5 & 3], .colour = control >> 7 != 0};
    struct lb_buf out = {0};
    json_t *object = lb_report_find_json(request->text, result, true);
    must(object != NULL);
    lb_report_json_dump(&out, object);
    json_decref(object);
    lb_report_find(&out, result, &view, &style);
    must(!out.failed);
    return out;
}

/* Everything that can be found is looked at: the best are no others. */
static void judge_exhaustive(struct lb_finder *finder, const struct lb_find_request *request,
                             const struct lb_find_result *quick, struct lb_error *err)
{
    struct lb_find_request whole = *request;
    struct lb_find_result *slow;
    whole.exhaustive = true;
    must(lb_find(finder, &whole, &slow, err) == LB_OK);
    judge_result(slow, &whole);
    must(slow->hit_count == quick->hit_count);
    for (size_t i = 0; i < quick->hit_count; i++)
        must(fabs(slow->hits[i].score - quick->hits[i].score) < 1e-9);
    lb_find_free(slow);
}

static void judge_again(struct lb_finder *finder, const struct lb_find_request *request,
                        const struct lb_buf *first, uint8_t control, struct lb_error *err)
{
    struct lb_find_result *result;
    must(lb_find(finder, request, &result, err) == LB_OK);
    struct lb_buf again = print(request, result, control);
    must(again.length == first->length && memcmp(again.text, first->text, again.length) == 0);
    lb_buf_free(&again);
    lb_find_free(result);
}

static struct lb_finder *open_finder(const struct lb_shortlist **shortlist)
{
    static struct lb_store *store;
    static struct lb_fitting *fitting;
    static struct lb_finder *finder;
    struct lb_error err = {0};
    if (!finder) {
        fuzz_find_index(&store, &fitting);
        if (lb_find_open(&finder, store, &err))
            abort();
    }
    *shortlist = lb_fitting_shortlist(fitting);
    return finder;
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    static const int limits[] = {10, 1, 2, 3, 10, 25, 100, LB_FIND_LIMIT};
    const struct lb_shortlist *shortlist;
    struct lb_finder *finder = open_finder(&shortlist);
    if (size < CONTROL_BYTES)
        return -1;
    char *text = strndup((const char *)data + CONTROL_BYTES, size - CONTROL_BYTES);
    if (!text)
        abort();
    const struct lb_find_request request = {.text = text,
                                            .limit = limits[*data & 7],
                                            .today = TODAY,
                                            .shortlist = *data & 8 ? shortlist : NULL,
                                            .all = (*data & 24) == 24};
    struct lb_error err = {0};
    struct lb_find_result *result;
    lb_status status = lb_find(finder, &request, &result, &err);
    must(status == LB_OK || status == LB_USAGE);
    must((result != NULL) == (status == LB_OK));
    if (status) {
        judge_text(lb_error_text(&err));
    } else {
        judge_result(result, &request);
        struct lb_buf out = print(&request, result, *data);
        judge_again(finder, &request, &out, *data, &err);
        judge_exhaustive(finder, &request, result, &err);
        lb_buf_free(&out);
    }
    lb_find_free(result);
    lb_error_free(&err);
    free(text);
    return 0;
}
