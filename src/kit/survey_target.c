/* Which platform the vehicle stands on, and what the job is about. */
#include "base/shell.h"
#include "base/text.h"
#include "kit/surveyor.h"

#include <stdlib.h>
#include <string.h>

enum { OWN_PLATFORM = ROW_OWN, OWN_BUILT };                         /* of a platforms row */
enum { OWN_JOB = ROW_OWN, OWN_COMPONENT, OWN_CIRCUIT, OWN_ACTION }; /* of a jobs row */

/* One platform that has a row for the vehicle's make and model. */
struct candidate {
    uint32_t name;
    bool sure;
    struct lb_row row; /* the row that decided: the first true one, else the first unknown one */
};

struct choice {
    LB_VEC(struct candidate) candidates;
    size_t sure;
};

static lb_status weigh(struct surveyor *s, struct lb_statement *st, struct choice *choice)
{
    struct candidate found = {0};
    bool applies;
    lb_status status = survey_row(s, st, OWN_BUILT, &applies, &found.row);
    if (!status)
        status = survey_name(s, &s->texts, lb_text(st, OWN_PLATFORM), &found.name);
    if (status || !applies)
        return status;
    found.sure = found.row.doubt_count == 0;
    for (size_t i = 0; i < choice->candidates.count; i++) {
        struct candidate *known = &choice->candidates.at[i];
        if (known->name != found.name)
            continue;
        if (found.sure && !known->sure) {
            choice->sure++;
            *known = found;
        }
        return LB_OK;
    }
    choice->sure += found.sure;
    return LB_PUSH(&choice->candidates, found) ? LB_OK : lb_fail_nomem(s->err);
}

static lb_status find_candidates(struct surveyor *s, struct choice *choice)
{
    struct lb_statement *statement = NULL;
    struct lb_buf make = {0}, model = {0};
    bool row;
    lb_text_fold(&make, s->vehicle->make);
    lb_text_fold(&model, s->vehicle->model);
    lb_status status = make.failed || model.failed ? lb_fail_nomem(s->err) : LB_OK;
    if (!status)
        status = lb_store_prepare(s->store, &statement,
                                  "SELECT " ROW_COLUMNS ", r.platform, r.built_from, r.built_to" LB_PLACED(
                                      "platforms") "WHERE r.make_key = ?1 AND r.model_key = ?2" LB_IN_ORDER,
                                  s->err);
    if (!status) {
        lb_bind_text(statement, 1, lb_buf_text(&make));
        lb_bind_text(statement, 2, lb_buf_text(&model));
        while (!(status = lb_step(statement, &row, s->err)) && row)
            if ((status = weigh(s, statement, choice)))
                break;
    }
    lb_statement_free(statement);
    lb_buf_free(&make);
    lb_buf_free(&model);
    return status;
}

static lb_status refuse_none(struct surveyor *s)
{
    const struct lb_vehicle *v = s->vehicle;
    struct lb_buf name = {0};
    return lb_shell_failed(
        &name,
        lb_fail(
            s->err, LB_DATA,
            "no service map covers %s (%s %s%s%s). Import a map whose platforms file has a row for it, or "
            "correct the vehicle: lastbolt vehicle set %s KEY=VALUE",
            v->name, v->make, v->model, v->built ? ", built " : "", v->built ? v->built : "",
            lb_shell_word(&name, v->name)),
        s->err);
}

/* The facts that would leave one of several platforms: those that their rows do not know yet. */
static lb_status refuse_several(struct surveyor *s, const struct choice *choice, bool among_sure)
{
    struct lb_buf words = {0};
    const char *between = "";
    lb_buf_printf(&words, "%s matches several service maps: ", s->vehicle->name);
    for (size_t i = 0; i < choice->candidates.count; i++) {
        const struct candidate *c = &choice->candidates.at[i];
        if (among_sure && !c->sure)
            continue;
        lb_buf_printf(&words, "%s%s (%s:%u)", between, s->texts.at[c->name], s->sources.at[c->row.source],
                      c->row.line);
        between = ", ";
    }
    between = ". What decides: ";
    for (size_t fact = 0; !among_sure && fact < s->fact_names.count; fact++) {
        lb_buf_printf(&words, "%s%s", between, s->fact_names.at[fact]);
        between = ", ";
    }
    if (among_sure)
        lb_buf_puts(&words, ". Their platforms rows must not overlap: give them build dates or a condition "
                            "that tells them apart.");
    else {
        lb_buf_puts(&words, ". State it: lastbolt vehicle set ");
        lb_shell_word(&words, s->vehicle->name);
        lb_buf_puts(&words, " KEY=VALUE");
    }
    lb_status status = words.failed ? lb_fail_nomem(s->err) : lb_fail(s->err, LB_DATA, "%s", words.text);
    lb_buf_free(&words);
    return status;
}

lb_status survey_platform(struct surveyor *s)
{
    struct choice choice = {0};
    lb_status status = find_candidates(s, &choice);
    if (!status && !choice.candidates.count)
        status = refuse_none(s);
    else if (!status && (choice.sure > 1 || (!choice.sure && choice.candidates.count > 1)))
        status = refuse_several(s, &choice, choice.sure > 1);
    for (size_t i = 0; !status && i < choice.candidates.count; i++) {
        const struct candidate *c = &choice.candidates.at[i];
        if (!c->sure && choice.sure)
            continue;
        s->survey.platform = s->texts.at[c->name];
        s->survey.map.platform = c->row;
    }
    free(choice.candidates.at);
    return status;
}

enum { NAMES_SHOWN = 12 };

/* Names the nearest; when none is near, some of those that there are. */
lb_status lb_survey_refuse_unknown(const char *platform, const char *what, const char *name,
                                   const char *const *known, size_t count, struct lb_error *err)
{
    struct lb_buf words = {0};
    lb_buf_printf(&words, "%s has no %s \"%s\".", platform, what, name);
    size_t start = words.length;
    lb_buf_puts(&words, count ? " Did you mean " : " Import the file that lists them.");
    if (count && lb_text_nearest(&words, name, known, count)) {
        lb_buf_putc(&words, '?');
    } else if (count) {
        words.length = words.failed ? 0 : start;
        for (size_t i = 0; i < count && i < NAMES_SHOWN; i++)
            lb_buf_printf(&words, "%s%s", i ? ", " : " It has: ", known[i]);
        lb_buf_puts(&words, count > NAMES_SHOWN ? " and others." : ".");
    }
    lb_status status = words.failed ? lb_fail_nomem(err) : lb_fail(err, LB_DATA, "%s", words.text);
    lb_buf_free(&words);
    return status;
}

static lb_status refuse_unknown(struct surveyor *s, const char *what, const char *name,
                                const struct lb_names *known)
{
    return lb_survey_refuse_unknown(s->survey.platform, what, name, known->at, known->count, s->err);
}

static lb_status add_target(struct surveyor *s, struct lb_target target)
{
    return LB_PUSH(&s->targets, target) ? LB_OK : lb_fail_nomem(s->err);
}

/* --replace: a component that the map knows, or a circuit to be drained and refilled. */
static lb_status want_component(struct surveyor *s, const char *folded, const char *name)
{
    struct lb_target target = {.row = {.source = LB_NO_NAME}};
    target.thing.id = lb_names_find(&s->components, folded);
    if (target.thing.id == LB_NO_NAME) {
        target.thing.id = lb_names_find(&s->circuits, folded);
        target.thing.is_circuit = true;
    }
    return target.thing.id == LB_NO_NAME ? refuse_unknown(s, "component", name, &s->components)
                                         : add_target(s, target);
}

static lb_status read_job_row(struct surveyor *s, struct lb_statement *st, const char *job, bool *named,
                              struct lb_names *jobs)
{
    struct lb_target target = {0};
    uint32_t id;
    bool applies;
    const char *component = lb_text(st, OWN_COMPONENT), *circuit = lb_text(st, OWN_CIRCUIT);
    lb_status status = survey_name(s, jobs, lb_text(st, OWN_JOB), &id);
    if (status || strcmp(jobs->at[id], job) != 0)
        return status;
    *named = true;
    status = survey_row(s, st, -1, &applies, &target.row);
    if (status || !applies)
        return status;
    target.thing.is_circuit = component == NULL;
    target.refit = strcmp(lb_text(st, OWN_ACTION), "refit") == 0;
    status = survey_name(s, component ? &s->components : &s->circuits, component ? component : circuit,
                         &target.thing.id);
    return status ? status : add_target(s, target);
}

static lb_status want_job(struct surveyor *s, const char *job, const char *name)
{
    struct lb_statement *statement;
    struct lb_names jobs = {0};
    size_t before = s->targets.count;
    bool row, named = false;
    lb_status status = lb_store_prepare(
        s->store, &statement,
        "SELECT " ROW_COLUMNS
        ", r.job, r.component, r.circuit, r.action" LB_PLACED("jobs") "WHERE r.platform = ?1" LB_IN_ORDER,
        s->err);
    if (status)
        return status;
    lb_bind_text(statement, 1, s->survey.platform);
    while (!(status = lb_step(statement, &row, s->err)) && row)
        if ((status = read_job_row(s, statement, job, &named, &jobs)))
            break;
    lb_statement_free(statement);
    if (!status && !named)
        status = refuse_unknown(s, "job", name, &jobs);
    else if (!status && s->targets.count == before)
        status = lb_fail(s->err, LB_DATA,
                         "the job %s has nothing to do on %s: none of its rows applies to this vehicle.",
                         name, s->vehicle->name);
    lb_names_free(&jobs);
    return status;
}

lb_status survey_targets(struct surveyor *s, const struct lb_want *wants, size_t count)
{
    struct lb_buf folded = {0};
    lb_status status = LB_OK;
    for (size_t i = 0; !status && i < count; i++) {
        lb_buf_clear(&folded);
        lb_text_fold(&folded, wants[i].name);
        if (folded.failed)
            status = lb_fail_nomem(s->err);
        else if (wants[i].kind == LB_WANT_JOB)
            status = want_job(s, lb_buf_text(&folded), wants[i].name);
        else
            status = want_component(s, lb_buf_text(&folded), wants[i].name);
    }
    lb_buf_free(&folded);
    return status;
}
