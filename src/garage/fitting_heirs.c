/* What stands for the listed parts: members of their `same` closure; once, what may be used instead of one of
 * these; and from all of them on, successors along supersessions with the `same` closure of each.
 *
 * Rows are read for many parts at a time, and only for parts that came in; what each passes on is worked out
 * in memory, until nothing improves any more. Truth, places and texts only ever improve, and there are few of
 * each, so that this ends also when rows go round in a circle. */
#include "catalog/spans.h"
#include "garage/fitting_parts.h"

#include <stdlib.h>
#include <string.h>

enum {
    AT_ONCE = 1000,      /* parts whose rows are asked for with one question */
    HEIRS_MAX = 1 << 18, /* parts: what stands for more than that is no cross-reference but a mistake */
};

#define HEIRS(way, heir, table, part)                                                                        \
    "SELECT j.key, " way ", r." heir " FROM json_each(?1) j CROSS JOIN " table " r ON r." part               \
    " = j.value JOIN span p ON p.first = (SELECT max(first) FROM span WHERE first <= r.id) AND "             \
    "r.id < p.first + p.count "

/* Numbers of ways are those of `enum way`. */
static const char query[] = HEIRS("0", "other", "crossrefs", "part") "WHERE r.relation = 'same' UNION ALL " //
    HEIRS("r.relation = 'instead'", "part", "crossrefs", "other") "UNION ALL "                              //
    HEIRS("2", "new", "supersessions", "part");

struct unread {
    uint32_t *at; /* nodes */
    size_t count, room;
};

bool fitting_improve(struct stand *known, const struct stand *further)
{
    if (further->truth != known->truth) {
        if (further->truth < known->truth)
            return false;
        *known = *further;
        return true;
    }
    struct stand before = *known;
    known->places |= further->places;
    if (further->asks && (!known->asks || strcmp(further->asks, known->asks) < 0))
        known->asks = further->asks;
    return known->places != before.places || known->asks != before.asks;
}

static lb_status wait_for(struct making *m, uint32_t node)
{
    if (m->nodes.at[node].waits)
        return LB_OK;
    m->nodes.at[node].waits = true;
    return LB_PUSH(&m->waiting, node) ? LB_OK : lb_fail_nomem(m->err);
}

/* By which way the heir comes in; WAYS: it does not. `same` goes on by the way that led here, but not from
 * what may be used instead. */
static enum way way_on(enum way by, enum way heir)
{
    if (heir == BY_SUCCESSION)
        return BY_SUCCESSION;
    if (heir == BY_INSTEAD)
        return by == BY_SAME ? BY_INSTEAD : WAYS;
    return by == BY_INSTEAD ? WAYS : by;
}

/* A part with rows of its own has what these say. */
static lb_status pass_on(struct making *m, uint32_t from, const struct heir *heir)
{
    bool better = false;
    struct node *to = &m->nodes.at[heir->to];
    if (to->listed)
        return LB_OK;
    for (int by = 0; by < WAYS; by++) {
        enum way way = way_on((enum way)by, heir->way);
        if (m->nodes.at[from].by[by].truth != LB_FALSE && way != WAYS)
            better |= fitting_improve(&to->by[way], &m->nodes.at[from].by[by]);
    }
    return better ? wait_for(m, heir->to) : LB_OK;
}

/* Until nothing improves. Parts that came in and whose heirs are not read yet are put into `unread`. */
static lb_status spread(struct making *m, struct unread *unread)
{
    lb_status status = LB_OK;
    while (!status && m->waiting.count) {
        uint32_t at = m->waiting.at[--m->waiting.count];
        struct node *node = &m->nodes.at[at];
        node->waits = false;
        if (!node->known && !LB_PUSH(unread, at))
            status = lb_fail_nomem(m->err);
        node->known = true;
        for (uint32_t i = node->first_heir; !status && i; i = m->heirs.at[i - 1].next)
            status = pass_on(m, at, &m->heirs.at[i - 1]);
    }
    return status;
}

/* As an element of a JSON array; a part key has a control character in it. */
static void put_key(struct lb_buf *out, const char *key)
{
    lb_buf_puts(out, out->length ? ",\"" : "[\"");
    for (; *key; key++) {
        if ((unsigned char)*key < ' ')
            lb_buf_printf(out, "\\u%04x", (unsigned)*key);
        else if (*key == '"' || *key == '\\')
            lb_buf_printf(out, "\\%c", *key);
        else
            lb_buf_putc(out, *key);
    }
    lb_buf_putc(out, '"');
}

static lb_status read_heir(struct making *m, struct lb_statement *st, uint32_t node)
{
    struct heir heir = {.way = (enum way)lb_integer(st, 1)};
    lb_status status = lb_need_texts(st, 2, 1, m->err);
    if (status)
        return status;
    if (m->keys.count >= HEIRS_MAX && lb_names_find(&m->keys, lb_text(st, 2)) == LB_NO_NAME)
        return LB_OK;
    status = fitting_node(m, lb_text(st, 2), &heir.to);
    if (status)
        return status;
    heir.next = m->nodes.at[node].first_heir;
    if (!LB_PUSH(&m->heirs, heir))
        return lb_fail_nomem(m->err);
    m->nodes.at[node].first_heir = (uint32_t)m->heirs.count;
    return LB_OK;
}

static lb_status read_some(struct making *m, struct lb_statement *st, const uint32_t *nodes, size_t count)
{
    bool row;
    lb_buf_clear(&m->scratch);
    for (size_t i = 0; i < count; i++)
        put_key(&m->scratch, m->keys.at[nodes[i]]);
    lb_buf_putc(&m->scratch, ']');
    if (m->scratch.failed)
        return lb_fail_nomem(m->err);
    lb_bind_text(st, 1, m->scratch.text);
    lb_status status;
    while (!(status = lb_step(st, &row, m->err)) && row)
        if ((status = read_heir(m, st, nodes[lb_integer(st, 0)])))
            break;
    lb_statement_reset(st);
    return status;
}

/* Reads the heirs of those in `unread`, empties it, and puts all that have some to those that wait. */
static lb_status read_heirs(struct making *m, struct lb_statement *st, struct unread *unread)
{
    lb_status status = LB_OK;
    for (size_t i = 0; !status && i < unread->count; i += AT_ONCE) {
        size_t left = unread->count - i;
        status = read_some(m, st, unread->at + i, left < AT_ONCE ? left : AT_ONCE);
    }
    for (size_t i = 0; !status && i < unread->count; i++)
        if (m->nodes.at[unread->at[i]].first_heir)
            status = wait_for(m, unread->at[i]);
    unread->count = 0;
    return status;
}

lb_status fitting_heirs(struct making *m)
{
    struct unread unread = {0};
    struct lb_statement *st;
    lb_status status = lb_store_prepare(m->store, &st, query, m->err);
    for (uint32_t i = 0; !status && i < m->nodes.count; i++)
        if (m->nodes.at[i].by[BY_SAME].truth != LB_FALSE)
            status = wait_for(m, i);
    while (!status && m->waiting.count) {
        status = spread(m, &unread);
        if (!status)
            status = read_heirs(m, st, &unread);
    }
    lb_statement_free(st);
    free(unread.at);
    return status;
}
