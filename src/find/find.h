/* Find: the right part from a few careless words. Words (stems, abbreviations, other names, repaired typing
 * errors, the last one as far as it is typed), part numbers and dimensions in any order; with a vehicle, what
 * fits first.
 *
 *     lb_find_open(&finder, store, &err);
 *     struct lb_find_request request = {.text = "rad hose uper", .limit = 10, .today = today};
 *     status = lb_find(finder, &request, &result, &err);
 *     for (size_t i = 0; i < result->hit_count; i++) puts(result->hits[i].part_number);
 *     lb_find_free(result);
 *     lb_find_close(finder);
 */
#ifndef LB_FIND_FIND_H
#define LB_FIND_FIND_H

#include "find/shortlist.h"
#include "store/store.h"

struct lb_finder;

struct lb_find_request {
    const char *text;                     /* words as typed, joined by blanks; any bytes but NUL */
    int limit;                            /* hits at the most, 1 to LB_FIND_LIMIT */
    int32_t today;                        /* days since 1970-01-01: which offers are live */
    const struct lb_shortlist *shortlist; /* what is listed for a vehicle; NULL: no vehicle */
    bool all;                             /* with a shortlist: also what does not fit, after the rest */
    bool exhaustive; /* score every title that any word leads to: the slow way, to check the quick one */
};

enum { LB_FIND_LIMIT = 1000 };

/* One reason for a hit or its rank: "upper: in the part type (typed as uper)", and what it added to the
 * score. */
struct lb_find_reason {
    const char *words;
    double points;
};

struct lb_find_hit {
    const char *brand, *part_number;
    const char *part_type, *description, *spec; /* NULL: not stated */
    enum lb_find_fit fit;                       /* LB_FIND_NO_VEHICLE when none was given */
    const char *asks; /* fit LB_FIND_ASK: the fact that decides, or NULL: no list says */
    bool superseded, discontinued;
    const char *now; /* "superseded twice; now Velmora 1140-0150"; NULL: not superseded */
    const char
        *note;   /* "5 mm shorter", "goes on from what was typed", "takes the place of Velmora 1140-0081" */
    bool priced; /* the least price of one pack among live offers */
    int64_t price, pack_quantity; /* minor units; millionths */
    char currency[4];
    const char *supplier; /* who asks it */
    double score;
    const struct lb_find_reason *reasons; /* best first */
    size_t reason_count;
};

struct lb_find_result {
    const struct lb_find_hit *hits;
    size_t hit_count;
    int64_t total;              /* parts that were found, shown or not */
    bool total_least;           /* there are at least that many */
    const char *const *remarks; /* "no title has “uper”: taken for “upper”", one sentence each */
    size_t remark_count;
    /* Nothing found: what to try, one sentence each ("nearest words: …", "nearest numbers: …", "without
     * “xyz” there are 12"). */
    const char *const *advice;
    size_t advice_count;
};

/* LB_DATA: nothing was imported yet, or the index must be brought up to date first. */
LB_CHECK lb_status lb_find_open(struct lb_finder **out, struct lb_store *store, struct lb_error *err);
void lb_find_close(struct lb_finder *finder);
/* LB_USAGE: no words, or none that a title or number could have (punctuation alone). */
LB_CHECK lb_status lb_find(struct lb_finder *finder, const struct lb_find_request *request,
                           struct lb_find_result **out, struct lb_error *err);
void lb_find_free(struct lb_find_result *result);

#endif
