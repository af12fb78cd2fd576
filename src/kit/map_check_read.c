/* All that a map says, rows that only its author cares for included. */
#include "base/text.h"
#include "kit/map_checker.h"

#include <stdlib.h>
#include <string.h>

#define OWN(n) (ROW_OWN + (n))
#define QUERY(columns, table)                                                                                \
    "SELECT " ROW_COLUMNS ", " columns LB_PLACED(table) "WHERE r.platform = ?1" LB_IN_ORDER

/* Of a vehicle of which nothing is known no row is false. */
static lb_status read_row(struct surveyor *s, struct lb_statement *st, struct lb_row *row)
{
    bool applies;
    return survey_row(s, st, -1, &applies, row);
}

static lb_status read_job(struct surveyor *s, struct lb_statement *st)
{
    struct checker *c = s->reader;
    struct job_row job = {0};
    const char *component = lb_text(st, OWN(1)), *circuit = lb_text(st, OWN(2));
    lb_status status = read_row(s, st, &job.target.row);
    job.target.thing.is_circuit = component == NULL;
    job.target.refit = strcmp(lb_text(st, OWN(3)), "refit") == 0;
    if (!status)
        status = survey_name(s, component ? &s->components : &s->circuits, component ? component : circuit,
                             &job.target.thing.id);
    if (!status)
        status = survey_name(s, &c->jobs, lb_text(st, OWN(0)), &job.job);
    c->failed |= !status && !LB_PUSH(&c->job_rows, job);
    return status;
}

static lb_status read_pulley(struct surveyor *s, struct lb_statement *st)
{
    struct checker *c = s->reader;
    struct pulley_row pulley = {.order = lb_integer(st, OWN(1))};
    lb_status status = read_row(s, st, &pulley.row);
    if (!status)
        status = survey_name(s, &s->components, lb_text(st, OWN(0)), &pulley.belt);
    if (!status)
        status = survey_name(s, &s->components, lb_text(st, OWN(2)), &pulley.component);
    c->failed |= !status && !LB_PUSH(&c->pulleys, pulley);
    return status;
}

static lb_status read_platform(struct surveyor *s, struct lb_statement *st)
{
    struct checker *c = s->reader;
    struct platform_row platform = {.built = {LB_DATE_MIN, LB_DATE_MAX}};
    struct lb_interval day;
    const char *from = lb_text(st, OWN(0)), *to = lb_text(st, OWN(1));
    if (from && !lb_date_parse(from, &day))
        platform.built.first = day.first;
    if (to && !lb_date_parse(to, &day))
        platform.built.last = day.last;
    lb_status status = read_row(s, st, &platform.row);
    c->failed |= !status && !LB_PUSH(&c->platforms, platform);
    return status;
}

static lb_status read_step_texts(struct surveyor *s, struct lb_statement *st)
{
    struct checker *c = s->reader;
    struct step_row step;
    lb_status status = survey_text(s, lb_text(st, OWN(0)), &step.first);
    if (!status)
        status = survey_text(s, lb_text(st, OWN(1)), &step.then);
    c->failed |= !status && !LB_PUSH(&c->steps, step);
    return status;
}

/* A row for this platform goes before a general one. */
static lb_status read_fact(struct surveyor *s, struct lb_statement *st)
{
    struct checker *c = s->reader;
    const char *key = lb_text(st, 0), *values = lb_text(st, 1);
    uint32_t id;
    size_t before = c->explained.count;
    lb_status status = survey_name(s, &c->explained, key, &id);
    if (!status && values && c->explained.count > before)
        c->failed |= !lb_variants_list(&c->variants, key, values);
    return status;
}

static lb_status parse_conditions(struct checker *c)
{
    const struct lb_names *texts = &c->survey->conditions;
    lb_status status = LB_OK;
    c->conditions = check_alloc(c, texts->count + 1, sizeof *c->conditions);
    for (size_t i = 0; c->conditions && !status && i < texts->count; i++) {
        char *when = strndup(texts->at[i], strcspn(texts->at[i], "\x1f")); /* build dates come after */
        status = when ? lb_condition_parse(&c->conditions[i], when, c->err) : lb_fail_nomem(c->err);
        free(when);
        c->failed |= !status && !lb_variants_learn(&c->variants, c->conditions[i]);
    }
    for (size_t i = 0; i < c->platforms.count; i++)
        c->failed |= !lb_variants_built(&c->variants, c->platforms.at[i].built);
    return status;
}

#define LIST(array, count, member, name)                                                                     \
    for (size_t i = 0; i < (count); i++)                                                                     \
    c->failed |= !LB_PUSH(&c->rows, ((struct any_row){&(array)[i].member, name}))

static void list_rows(struct checker *c)
{
    const struct lb_map *m = c->map;
    LIST(m->component_rows, m->component_row_count, row, "components");
    LIST(m->fastenings, m->fastening_count, row, "fastenings");
    LIST(m->access, m->access_count, row, "access");
    LIST(m->sequences, m->sequence_count, row, "sequence");
    LIST(m->circuit_rows, m->circuit_row_count, row, "circuits");
    LIST(m->opens, m->opens_count, row, "opens");
    LIST(m->consumables, m->consumable_count, row, "consumables");
    LIST(m->cautions, m->caution_count, row, "cautions");
    LIST(c->job_rows.at, c->job_rows.count, target.row, "jobs");
    LIST(c->pulleys.at, c->pulleys.count, row, "pulleys");
    LIST(c->platforms.at, c->platforms.count, row, "platforms");
}

/* Which names the map describes, and by which row first. */
static void list_described(struct checker *c)
{
    const struct lb_map *m = c->map;
    c->component_of = check_alloc(c, m->component_count + 1, sizeof *c->component_of);
    c->circuit_of = check_alloc(c, m->circuit_count + 1, sizeof *c->circuit_of);
    if (c->failed)
        return;
    for (size_t i = m->component_row_count; i-- > 0;)
        c->component_of[m->component_rows[i].component] = &m->component_rows[i];
    for (size_t i = m->circuit_row_count; i-- > 0;)
        c->circuit_of[m->circuit_rows[i].circuit] = &m->circuit_rows[i];
}

static lb_status read_name(struct surveyor *s, struct lb_statement *st)
{
    uint32_t id;
    return survey_name(s, s->reader, lb_text(st, 0), &id);
}

/* Nothing is known of it: which platforms there are. */
static lb_status refuse_platform(struct checker *c, const char *platform)
{
    struct lb_names names = {0};
    struct lb_buf words = {0};
    c->survey->reader = &names;
    lb_status status =
        survey_rows(c->survey,
                    "SELECT DISTINCT r.platform" LB_PLACED("components") "WHERE ?1 IS NOT NULL "
                                                                         "ORDER BY r.platform",
                    platform, read_name);
    if (!status) {
        lb_buf_printf(&words, "no service map has the platform \"%s\".", platform);
        size_t start = words.length;
        lb_buf_puts(&words, " Did you mean ");
        if (lb_text_nearest(&words, platform, names.at, names.count)) {
            lb_buf_putc(&words, '?');
        } else {
            words.length = words.failed ? 0 : start;
            for (size_t i = 0; i < names.count && i < 12; i++)
                lb_buf_printf(&words, "%s%s", i ? ", " : " There is: ", names.at[i]);
            lb_buf_puts(&words, !names.count       ? " Import one first."
                                : names.count > 12 ? " and others."
                                                   : ".");
        }
        status = words.failed ? lb_fail_nomem(c->err) : lb_fail(c->err, LB_DATA, "%s", words.text);
    }
    lb_buf_free(&words);
    lb_names_free(&names);
    return status;
}

static lb_status read_rows(struct checker *c)
{
    static const struct {
        const char *sql;
        lb_status (*read)(struct surveyor *, struct lb_statement *);
    } kinds[] = {
        {QUERY("r.job, r.component, r.circuit, r.action", "jobs"), read_job},
        {QUERY("r.belt, r.\"order\", r.component", "pulleys"), read_pulley},
        {QUERY("r.built_from, r.built_to", "platforms"), read_platform},
        {QUERY("r.\"first\", r.\"then\"", "sequence"), read_step_texts},
        {"SELECT r.key, r.\"values\"" LB_PLACED(
             "facts") "WHERE r.platform IS NULL OR r.platform = ?1 "
                      "ORDER BY r.platform IS NULL, s.name, " LB_PLACE_LINE,
         read_fact},
    };
    lb_status status = LB_OK;
    for (size_t i = 0; !status && i < sizeof kinds / sizeof *kinds; i++)
        status = survey_rows(c->survey, kinds[i].sql, c->report.platform, kinds[i].read);
    return status;
}

lb_status check_read(struct checker *c)
{
    struct lb_buf folded = {0};
    lb_text_fold(&folded, c->report.platform);
    lb_status status = folded.failed ? lb_fail_nomem(c->err)
                                     : survey_all(&c->survey, c->store, lb_buf_text(&folded), c, c->err);
    lb_buf_free(&folded);
    if (status)
        return status;
    const char *asked = c->report.platform;
    c->report.platform = c->survey->survey.platform;
    status = read_rows(c);
    if (!status)
        status = parse_conditions(c);
    survey_hand_out(c->survey);
    c->map = &c->survey->survey.map;
    if (!status && !c->failed) {
        list_rows(c);
        list_described(c);
    }
    return status || c->failed || c->rows.count ? status : refuse_platform(c, asked);
}
