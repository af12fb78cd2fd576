/* What the steps share that turn a plan into a kit. Private to kit/. */
#ifndef LB_KIT_BUILD_H
#define LB_KIT_BUILD_H

#include "base/arena.h"
#include "base/names.h"
#include "base/position.h"
#include "catalog/lookup.h"
#include "garage/shelf.h"
#include "kit/kit.h"

/* One applications row of a part for this vehicle's make and model. */
struct application {
    enum lb_truth truth;
    lb_position position;
    int64_t quantity; /* -1: not stated */
    const char *asks; /* what decides it, when unknown */
    struct lb_place place;
};

/* One way in which a part is superseded: all of a group are needed together. */
struct successor {
    uint32_t part;
    const char *group;
    int64_t quantity;
    struct lb_place place;
};

/* A part with what is known of it; read from the index when first asked for. */
struct entry {
    struct lb_part part;
    bool loaded; /* false: only its name is known so far */
    LB_VEC(struct application) applications;
    LB_VEC(struct successor) successors;
    LB_VEC(struct lb_part_offer) offers;
    LB_VEC(struct lb_content) contents;
    LB_VEC(struct lb_former) former;
    bool former_read;
    enum lb_dimension dimension; /* of the part's unit; offers' packs are in its base unit */
    const char *unit;
    int64_t shelf, shelf_left; /* what lies there of it; what no line has taken yet */
    bool shelf_opened;
    uint32_t seen;   /* the last line (number) that has it as a candidate */
    unsigned colour; /* of the walk that looks for loops of supersession */
};

/* A part that some catalogue lists for the vehicle's make and model. */
struct listed {
    const char *part_type, *key, *brand, *number;
};

/* A part as some row names it. */
struct mention {
    const char *key, *brand, *number, *spec; /* spec NULL: the row states none */
    struct lb_place place;
};

struct mentions {
    struct mention *at;
    size_t count, room;
};

/* What a line has of one part: ordered, or taken off the shelf. */
struct supply {
    const char *key, *brand, *number;
    bool beside, ordered; /* it goes with the part that answers the line; some of it was ordered */
    int64_t here, on_way;
};

/* What a box that was ordered is to hold for a line. */
struct box_share {
    const char *key; /* the box's */
    int64_t quantity, left;
};

struct line_build {
    struct lb_line line; /* kept whole; handed out at the end */
    LB_VEC(struct supply) supplies;
    LB_VEC(struct box_share) box_shares;
    bool supplied; /* what was ordered or taken for it answers it: nothing is left to choose */
    int64_t open;  /* of the need, in its unit: what neither its own part nor a box covers yet */
    LB_VEC(struct lb_candidate) candidates;
    LB_VEC(struct lb_cover) covers;
    lb_position positions[8]; /* of the components it is for */
    int position_count;
};

enum part_query {
    QUERY_PART,
    QUERY_OFFERS,
    QUERY_APPLICATIONS,
    QUERY_SUCCESSORS,
    QUERY_CONTENTS,
    QUERY_SAME,
    QUERY_INSTEAD,
    QUERY_LISTED,  /* parts that applications name for the make and model */
    QUERY_TYPES,   /* what a part is, and how it is written */
    QUERY_BY_ROWS, /* parts by their rows' ids */
    QUERY_APPLIES, /* is there an applications row at all */
    QUERY_BOXES,
    QUERY_FORMER,      /* what catalogues said of a part and say no more */
    QUERY_GONE,        /* parts of some types that catalogues no longer list */
    QUERY_LISTED_ONCE, /* parts, makes and models that applications no longer name */
    QUERY_WAS,         /* what an offer cost before */
    QUERY_COUNT
};

struct build {
    struct lb_kit kit; /* first: what is handed out */
    struct lb_arena arena;
    struct lb_store *store;
    struct lb_error *err;
    struct lb_facts facts;
    int32_t today;
    int64_t id; /* of the kit's row */
    struct lb_buf make_key, model_key, scratch;
    struct lb_names texts, part_keys, supplier_names;
    LB_VEC(struct entry *) parts; /* by part_keys */
    LB_VEC(struct lb_supplier) suppliers;
    LB_VEC(struct lb_rate) rates;
    LB_VEC(struct line_build) lines;
    LB_VEC(struct listed)
    listed; /* parts that any applications row lists for the make and model, by part type */
    LB_VEC(struct lb_gap) gaps;
    LB_VEC(const char *) remarks;
    struct lb_market market; /* suppliers, rates and currency, for comparing offers */
    struct lb_statement *queries[QUERY_COUNT];
    struct lb_lookup *lookup; /* opened when first needed */
    struct lb_buf rows;       /* ids, as JSON */
    const char *rows_of;      /* the part key (one of part_keys) whose rows they are; NULL: something else */
    struct lb_shelf shelf;
};

/* build_parts.c */
LB_CHECK lb_status build_text(struct build *b, const char *text, const char **out);
/* Formatted text that lives as long as the kit; NULL and b->err filled when memory ran out. */
const char *build_words(struct build *b, const char *format, ...) LB_PRINTF(2, 3);
/* A prepared query with its first parameter bound; NULL: b->err filled. Reset it by reading to its end. */
struct lb_statement *build_query(struct build *b, enum part_query query, const char *parameter);
/* Parts of a type, with a spec those that may meet it, as build_mentions reads them. */
struct lb_statement *build_query_type(struct build *b, const char *part_type, const struct lb_spec *spec);
LB_CHECK lb_status build_part(struct build *b, const char *key, const char *brand, const char *number,
                              uint32_t *part);
/* Reads a query that lists parts (key, brand, number, spec, file, line) to its end, before other queries run.
 * `st` NULL: build_query failed, and its status is passed on. What was in `out` is replaced. */
LB_CHECK lb_status build_mentions(struct build *b, struct lb_statement *st, struct mentions *out);
LB_CHECK lb_status build_place(struct build *b, struct lb_statement *st, int column, struct lb_place *place);

/* build_market.c: suppliers, shipping, rates, the currency to compare in. */
LB_CHECK lb_status build_suppliers(struct build *b);
/* The supplier of that name. One that offers something but has no suppliers row is taken as it is, in the
 * currency of its offer, without shipping or tax, and remarked on. */
LB_CHECK lb_status build_supplier(struct build *b, const char *name, const char *currency,
                                  uint32_t *supplier);
LB_CHECK lb_status build_currency(struct build *b);
/* pool.c: how many live offers are in which currency. */
struct currency_count {
    struct lb_names codes;
    LB_VEC(size_t) offers; /* by code */
};
LB_CHECK lb_status build_count_currencies(struct currency_count *count, const struct lb_part *part,
                                          struct lb_error *err);
/* The one of most, ties by code; "": none. Borrowed from the count. */
const char *build_most_currency(const struct currency_count *count);
void build_free_currencies(struct currency_count *count);
/* Is some live offer in a currency that can be compared? */
bool build_comparable(const struct build *b, const struct lb_part *part);
/* What `quantity` of a part costs at its cheapest live offer; false: none has enough or can be compared. */
bool build_price(const struct build *b, const struct lb_part *part, int64_t quantity, int64_t *cost,
                 const struct lb_part_offer **offer);

LB_CHECK lb_status build_lines(struct build *b);                     /* kit.c */
LB_CHECK lb_status build_remark(struct build *b, const char *words); /* kit.c; words NULL: out of memory */
LB_CHECK lb_status build_listed(struct build *b);                    /* build_listed.c: reads them */
/* build_listed.c: those of them that are of the line's type and fit become its candidates. */
LB_CHECK lb_status build_by_application(struct build *b, struct line_build *line);
LB_CHECK lb_status build_candidates(struct build *b); /* build_candidates.c */
/* Adds a part to a line's candidates unless it is there or its own applications rule it out; *added (may be
 * NULL) is its index, or LB_NO_NAME. */
LB_CHECK lb_status build_add(struct build *b, struct line_build *line, struct lb_candidate candidate,
                             uint32_t part, uint32_t *added);
/* Does the part fit by its own applications: best row per position; NULL *row: it says nothing of this
 * vehicle. */
enum lb_fit build_own_fit(const struct entry *entry, const struct line_build *line,
                          const struct application **row);
LB_CHECK lb_status build_substitutes(struct build *b, struct line_build *line); /* build_substitutes.c */
LB_CHECK lb_status build_refuse_loops(struct build *b);
LB_CHECK lb_status build_decisions(struct build *b); /* definition.c */
/* The part that was named or ordered for a line becomes its chosen candidate; when the catalogues do not list
 * it for the line, it is added in that way. */
LB_CHECK lb_status build_take_part(struct build *b, struct line_build *line, const char *brand,
                                   const char *number, enum lb_via via);
/* build_supply.c: what was ordered, what came, and what lies on the shelf. */
LB_CHECK lb_status build_supply(struct build *b);
/* What the line has of that part, or NULL. */
const struct supply *build_supply_of(const struct line_build *line, const char *part_key);
/* Forgets what the lines have taken off the shelf. */
void build_fill_shelf(struct build *b);
/* Is all that a candidate asks for still there? Takes it. */
bool build_shelf_has(const struct lb_candidate *candidate);
void build_shelf_take(const struct lb_candidate *candidate);
/* What the line has of its chosen part is taken off what is to be bought; then, once boxes have covered what
 * they can, the shelf. */
void build_count_supply(struct line_build *line);
void build_count_shelf(struct line_build *line);
/* All that the line still wants comes from somewhere else than a supplier now. */
bool build_is_seen_to(const struct lb_line *line);
LB_CHECK lb_status build_choose(struct build *b); /* build_choose.c */
LB_CHECK lb_status build_cover(struct build *b);  /* build_boxes.c: what the chosen boxes cover */
LB_CHECK lb_status build_save(struct build *b);   /* build_boxes.c: boxes that pay */
/* How much of the line's need one box of its chosen part holds; 0: it is not answered by a box. */
int64_t build_held_by_box(const struct build *b, const struct line_build *line);
/* Does a content of a box answer a line, and only for the component that the box was chosen for? */
bool build_content_meets(const struct build *b, const struct lb_content *content,
                         const struct line_build *line, bool *bare);
LB_CHECK lb_status build_basket(struct build *b); /* build_market.c */
LB_CHECK lb_status build_gaps(struct build *b);   /* build_gaps.c */
/* Adds to b->gaps what lb_kit_judge tells. */
LB_CHECK lb_status build_judge(struct build *b, const struct line_build *line, const struct lb_candidate *c,
                               int64_t quantity);
/* build_history.c: what the catalogues said before. Of a part: part.former, and what its offers cost. */
LB_CHECK lb_status build_former(struct build *b, struct entry *entry);
LB_CHECK lb_status build_was(struct build *b, struct entry *entry);
/* Of a kit: of the candidates that nobody offers now, and what would do for lines that have nothing. */
LB_CHECK lb_status build_history(struct build *b);
LB_CHECK lb_status build_gone(struct build *b); /* build_gone.c: the latter */
/* Are these the make and model of the kit's vehicle? A card has none. */
bool build_for_vehicle(struct build *b, const char *make, const char *model);
/* part_unknown.c: fills b->err with why a part has no card; never LB_OK. */
LB_CHECK lb_status build_refuse_part(struct build *b, struct entry *entry, const char *brand,
                                     const char *number);
/* Fills b->err with LB_DATA and who listed or offered the part until when; LB_OK: nobody ever did. */
LB_CHECK lb_status build_refuse_former(struct build *b, const char *brand, const char *number);
/* definition.c: the kit's row, its vehicle and what it wants. */
LB_CHECK lb_status build_definition(struct build *b, const char *name);
/* Stores them, inside the caller's transaction: of a kit by its id, or of one that is no fleet's by its name.
 */
LB_CHECK lb_status build_store_wants(struct lb_store *store, int64_t kit, const struct lb_want *wants,
                                     size_t count, struct lb_error *err);
LB_CHECK lb_status build_define(struct lb_store *store, const char *name, const struct lb_vehicle *vehicle,
                                const struct lb_want *wants, size_t want_count, struct lb_error *err);

/* May parts answer it that no catalogue ties to a vehicle? Fluids and consumables, and what was missed
 * before.
 */
static inline bool build_takes_any(const struct lb_need *need)
{
    return need->reason == LB_FLUID || need->reason == LB_CONSUMABLE || need->reason == LB_MISSED_BEFORE;
}

static inline struct entry *entry_of(const struct lb_part *part)
{
    return (struct entry *)part; /* its first member */
}

#endif
