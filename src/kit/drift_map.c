/* What the service map says otherwise: lines, fastenings, circuits. */
#include "base/measure.h"
#include "kit/drift_parts.h"

#include <stdlib.h>
#include <string.h>

/* Numbers of lines by what they are for: "component\x1fitem" -> number. */
struct places {
    struct lb_names names;
    LB_VEC(int) numbers; /* by name */
};

static lb_status name_place(struct drifting *d, struct places *places, const struct lb_lock_place *place,
                            int number)
{
    struct lb_buf name = {0};
    uint32_t id;
    lb_buf_printf(&name, "%s\x1f%s", place->component, place->item ? place->item : "");
    size_t known = places->names.count;
    bool good = !name.failed && lb_names_add(&places->names, name.text, &id) &&
                (places->names.count == known || LB_PUSH(&places->numbers, number));
    lb_buf_free(&name);
    return good ? LB_OK : lb_fail_nomem(d->err);
}

static lb_status name_places(struct drifting *d, struct places *places)
{
    lb_status status = LB_OK;
    for (size_t i = 0; i < d->now->lines.count; i++)
        for (size_t k = 0; !status && k < d->now->lines.at[i].places.count; k++)
            status = name_place(d, places, &d->now->lines.at[i].places.at[k], d->now->lines.at[i].number);
    return status;
}

/* 0: no line is for it. */
static int line_for(const struct places *places, const char *component, const char *item)
{
    struct lb_buf name = {0};
    lb_buf_printf(&name, "%s\x1f%s", component, item);
    uint32_t id = name.failed ? LB_NO_NAME : lb_names_find(&places->names, name.text);
    lb_buf_free(&name);
    return id == LB_NO_NAME ? 0 : places->numbers.at[id];
}

/* "8 flange-bolt M6x1.0x25 8.8", "3.6 L coolant". */
static void put_article(struct lb_buf *out, int64_t quantity, const char *unit, const char *part_type,
                        const char *spec)
{
    lb_measure_print(out, quantity, unit);
    lb_buf_printf(out, " %s%s%s", part_type, spec ? " " : "", spec ? spec : "");
}

static void put_line(struct lb_buf *out, const struct lb_lock_line *line)
{
    put_article(out, line->quantity, line->unit, line->part_type, line->spec);
    for (size_t i = 0; i < line->places.count; i++)
        lb_buf_printf(out, "%s%s", i ? ", " : " for ", line->places.at[i].component);
    lb_buf_puts(out, line->spare ? ", only if it does not pass its check" : "");
}

static lb_status say_line(struct drifting *d, int number, const char *before, const struct lb_lock_line *line)
{
    struct lb_buf words = {0};
    put_line(&words, line);
    lb_status status = words.failed
                           ? lb_fail_nomem(d->err)
                           : drift_say(d, LB_DRIFT_MAP, number, "%s: %s", before, lb_buf_text(&words));
    lb_buf_free(&words);
    return status;
}

/* "LABEL: torque OLD → NEW"; LB_LOCK_UNSAID reads "not stated". */
static lb_status compare_number(struct drifting *d, int line, const char *label, const char *what,
                                int64_t was, const char *was_unit, int64_t now, const char *now_unit)
{
    struct lb_buf words = {0};
    if (was == now && strcmp(was_unit, now_unit) == 0)
        return LB_OK;
    lb_buf_printf(&words, "%s: %s", label, what);
    for (int i = 0; i < 2; i++) {
        lb_buf_puts(&words, i ? " → " : " ");
        if ((i ? now : was) == LB_LOCK_UNSAID)
            lb_buf_puts(&words, "not stated");
        else
            lb_measure_print(&words, i ? now : was, i ? now_unit : was_unit);
    }
    lb_status status =
        words.failed ? lb_fail_nomem(d->err) : drift_say(d, LB_DRIFT_MAP, line, "%s", lb_buf_text(&words));
    lb_buf_free(&words);
    return status;
}

static lb_status compare_words(struct drifting *d, int line, const char *label, const char *what,
                               const char *was, const char *now)
{
    if (drift_same(was, now))
        return LB_OK;
    return drift_say(d, LB_DRIFT_MAP, line, "%s: %s %s → %s", label, what, was ? was : "not stated",
                     now ? now : "not stated");
}

static lb_status compare_line(struct drifting *d, const struct lb_lock_line *was,
                              const struct lb_lock_line *now)
{
    static const char *const sure[] = {"to be asked", "sure"};
    struct lb_buf label = {0};
    lb_buf_printf(&label, "%s%s%s", now->part_type, now->spec ? " " : "", now->spec ? now->spec : "");
    lb_status status = label.failed ? lb_fail_nomem(d->err) : LB_OK;
    if (!status)
        status = compare_number(d, now->number, lb_buf_text(&label), "needed", was->quantity, was->unit,
                                now->quantity, now->unit);
    if (!status)
        status = compare_words(d, now->number, lb_buf_text(&label), "needed as", lb_reason_name(was->reason),
                               lb_reason_name(now->reason));
    if (!status)
        status = compare_words(d, now->number, lb_buf_text(&label), "whether it is needed:", sure[was->sure],
                               sure[now->sure]);
    lb_buf_free(&label);
    return status;
}

static lb_status compare_lines(struct drifting *d)
{
    lb_status status = LB_OK;
    for (size_t i = 0; !status && i < d->was->lines.count; i++) {
        const struct lb_lock_line *was = &d->was->lines.at[i];
        const struct lb_lock_line *now = drift_line(&d->now_keys, d->now, was->key);
        status = now ? compare_line(d, was, now) : say_line(d, 0, "not in the kit any more", was);
    }
    for (size_t i = 0; !status && i < d->now->lines.count; i++) {
        const struct lb_lock_line *now = &d->now->lines.at[i];
        if (!drift_line(&d->was_keys, d->was, now->key))
            status = say_line(d, now->number, "new in the kit", now);
    }
    return status;
}

/* Gives a list's members names that are different: "bolt of pump", "bolt of pump (2)". */
static lb_status name_member(struct drifting *d, struct lb_names *names, const char *what, const char *of)
{
    struct lb_buf name = {0};
    lb_status status = LB_OK;
    size_t known = names->count;
    for (int copy = 1; !status && names->count == known; copy++) {
        uint32_t id;
        lb_buf_clear(&name);
        lb_buf_printf(&name, "%s%s%s", what, of ? " of " : "", of ? of : "");
        if (copy > 1)
            lb_buf_printf(&name, " (%d)", copy);
        if (name.failed || !lb_names_add(names, name.text, &id))
            status = lb_fail_nomem(d->err);
    }
    lb_buf_free(&name);
    return status;
}

static lb_status compare_fastening(struct drifting *d, const char *label, int line,
                                   const struct lb_lock_fastening *was, const struct lb_lock_fastening *now)
{
    static const char *const reuse[] = {"never", "after a check", "always"};
    lb_status status =
        compare_number(d, line, label, "quantity", was->quantity, was->unit, now->quantity, now->unit);
    if (!status)
        status = compare_words(d, line, label, "part type", was->part_type, now->part_type);
    if (!status)
        status = compare_words(d, line, label, "spec", was->spec, now->spec);
    if (!status)
        status = compare_words(d, line, label, "goes back", reuse[was->reuse], reuse[now->reuse]);
    if (!status)
        status = compare_number(d, line, label, "torque", was->torque, "N·m", now->torque, "N·m");
    return status ? status : compare_number(d, line, label, "angle", was->angle, "°", now->angle, "°");
}

static lb_status name_fastenings(struct drifting *d, struct lb_names *names, const struct lb_kit_lock *lock)
{
    lb_status status = LB_OK;
    for (size_t i = 0; !status && i < lock->fastenings.count; i++)
        status = name_member(d, names, lock->fastenings.at[i].item, lock->fastenings.at[i].component);
    return status;
}

static lb_status compare_fastenings(struct drifting *d, const struct places *places)
{
    struct lb_names was = {0}, now = {0};
    lb_status status = name_fastenings(d, &was, d->was);
    if (!status)
        status = name_fastenings(d, &now, d->now);
    for (size_t i = 0; !status && i < was.count; i++)
        if (lb_names_find(&now, was.at[i]) == LB_NO_NAME)
            status = drift_say(d, LB_DRIFT_MAP, 0, "no longer to be undone: %s", was.at[i]);
    for (size_t i = 0; !status && i < now.count; i++) {
        const struct lb_lock_fastening *fastening = &d->now->fastenings.at[i];
        uint32_t before = lb_names_find(&was, now.at[i]);
        int line = line_for(places, fastening->component, fastening->item);
        status = before == LB_NO_NAME
                     ? drift_say(d, LB_DRIFT_MAP, line, "now also to be undone: %s", now.at[i])
                     : compare_fastening(d, now.at[i], line, &d->was->fastenings.at[before], fastening);
    }
    lb_names_free(&was);
    lb_names_free(&now);
    return status;
}

static lb_status compare_circuit(struct drifting *d, const char *label, int line,
                                 const struct lb_lock_circuit *was, const struct lb_lock_circuit *now)
{
    lb_status status = compare_number(d, line, label, "capacity", was->capacity, "L", now->capacity, "L");
    if (!status)
        status = compare_words(d, line, label, "fluid", was->fluid, now->fluid);
    if (!status)
        status = compare_words(d, line, label, "spec", was->spec, now->spec);
    if (!status)
        status = compare_number(d, line, label, "mix", was->mix, "%", now->mix, "%");
    if (!status)
        status = compare_number(d, line, label, "protects to", was->freeze_to, "°C", now->freeze_to, "°C");
    return status ? status : compare_words(d, line, label, "thinned with", was->diluent, now->diluent);
}

static lb_status name_circuits(struct drifting *d, struct lb_names *names, const struct lb_kit_lock *lock)
{
    lb_status status = LB_OK;
    for (size_t i = 0; !status && i < lock->circuits.count; i++)
        status = name_member(d, names, lock->circuits.at[i].circuit, NULL);
    return status;
}

static lb_status compare_circuits(struct drifting *d, const struct places *places)
{
    struct lb_names was = {0}, now = {0};
    lb_status status = name_circuits(d, &was, d->was);
    if (!status)
        status = name_circuits(d, &now, d->now);
    for (size_t i = 0; !status && i < was.count; i++)
        if (lb_names_find(&now, was.at[i]) == LB_NO_NAME)
            status = drift_say(d, LB_DRIFT_MAP, 0, "no longer to be filled: %s", was.at[i]);
    for (size_t i = 0; !status && i < now.count; i++) {
        const struct lb_lock_circuit *circuit = &d->now->circuits.at[i];
        uint32_t before = lb_names_find(&was, now.at[i]);
        int line = line_for(places, circuit->circuit, "");
        status = before == LB_NO_NAME
                     ? drift_say(d, LB_DRIFT_MAP, line, "now also to be filled: %s", now.at[i])
                     : compare_circuit(d, now.at[i], line, &d->was->circuits.at[before], circuit);
    }
    lb_names_free(&was);
    lb_names_free(&now);
    return status;
}

lb_status drift_map(struct drifting *d)
{
    struct places places = {0};
    lb_status status = name_places(d, &places);
    if (!status)
        status = drift_text(d, LB_DRIFT_MAP, 0, "service map", d->was->platform, d->now->platform);
    if (!status)
        status = compare_lines(d);
    if (!status)
        status = compare_fastenings(d, &places);
    if (!status)
        status = compare_circuits(d, &places);
    free(places.numbers.at);
    lb_names_free(&places.names);
    return status;
}
