#include "report/parcel_json.h"
#include "report/part_report.h"

static json_t *groups_json(struct lb_maker *maker, const struct lb_part_group *groups, size_t count)
{
    json_t *array = lb_maker_array(maker);
    for (size_t g = 0; g < count; g++) {
        json_t *group = lb_maker_array(maker);
        for (size_t i = 0; i < groups[g].count; i++) {
            json_t *member = lb_report_part_name_json(maker, groups[g].members[i].part);
            lb_maker_set(maker, member, "quantity", lb_report_json_quantity(groups[g].members[i].quantity));
            lb_maker_add(maker, group, member);
        }
        lb_maker_add(maker, array, group);
    }
    return array;
}

static json_t *parts_json(struct lb_maker *maker, const struct lb_part *const *parts, size_t count)
{
    json_t *array = lb_maker_array(maker);
    for (size_t i = 0; i < count; i++)
        lb_maker_add(maker, array, lb_report_part_name_json(maker, parts[i]));
    return array;
}

static json_t *source_json(struct lb_maker *maker, const struct lb_place *place)
{
    json_t *object = lb_maker_object(maker);
    lb_maker_set(maker, object, "file", lb_report_json_text(place->file));
    lb_maker_set(maker, object, "line", json_integer(place->line));
    return object;
}

static json_t *was_json(struct lb_maker *maker, const struct lb_part_offer *offer)
{
    json_t *array = lb_maker_array(maker);
    for (size_t i = 0; i < offer->was_count; i++) {
        const struct lb_price_was *was = &offer->was[i];
        json_t *object = lb_maker_object(maker);
        lb_maker_set(maker, object, "price", lb_report_json_money(was->price, was->currency));
        lb_maker_set(maker, object, "until", lb_report_json_text(was->until));
        lb_maker_add(maker, array, object);
    }
    return array;
}

static json_t *offers_json(struct lb_maker *maker, const struct lb_part_card *card)
{
    json_t *array = lb_maker_array(maker);
    for (size_t i = 0; i < card->part->offer_count; i++) {
        const struct lb_part_offer *offer = &card->part->offers[i];
        json_t *object = lb_maker_object(maker);
        lb_maker_set(maker, object, "supplier", lb_report_json_text(card->suppliers[offer->supplier].name));
        lb_maker_set(maker, object, "supplier_code", lb_report_json_text_or_null(offer->supplier_code));
        lb_maker_set(maker, object, "price", lb_report_json_money(offer->price, offer->currency));
        lb_maker_set(maker, object, "core_deposit", lb_report_json_money(offer->deposit, offer->currency));
        lb_maker_set(maker, object, "pack_quantity", lb_report_json_quantity(offer->pack_quantity));
        lb_maker_set(maker, object, "minimum_packs", json_integer(offer->minimum_packs));
        lb_maker_set(maker, object, "stock", offer->stock < 0 ? json_null() : json_integer(offer->stock));
        lb_maker_set(maker, object, "valid_to", lb_report_json_text_or_null(offer->valid_to));
        lb_maker_set(maker, object, "live", json_boolean(offer->live));
        lb_maker_set(maker, object, "was", was_json(maker, offer));
        lb_maker_set(maker, object, "source", source_json(maker, &offer->place));
        lb_maker_add(maker, array, object);
    }
    return array;
}

static json_t *applications_json(struct lb_maker *maker, const struct lb_part_card *card)
{
    json_t *array = lb_maker_array(maker);
    for (size_t i = 0; i < card->application_count; i++) {
        const struct lb_part_application *a = &card->applications[i];
        json_t *object = lb_maker_object(maker);
        lb_maker_set(maker, object, "make", lb_report_json_text(a->make));
        lb_maker_set(maker, object, "model", lb_report_json_text(a->model));
        lb_maker_set(maker, object, "built_from", lb_report_json_text_or_null(a->built_from));
        lb_maker_set(maker, object, "built_to", lb_report_json_text_or_null(a->built_to));
        lb_maker_set(maker, object, "when", lb_report_json_text_or_null(a->when));
        lb_maker_set(maker, object, "position", lb_report_json_text_or_null(a->position));
        lb_maker_set(maker, object, "quantity",
                     a->quantity < 0 ? json_null() : lb_report_json_quantity(a->quantity));
        lb_maker_set(maker, object, "source", source_json(maker, &a->place));
        lb_maker_add(maker, array, object);
    }
    return array;
}

static void set_former_offer(struct lb_maker *maker, json_t *object, const struct lb_former *former)
{
    lb_maker_set(maker, object, "supplier", lb_report_json_text(former->supplier));
    lb_maker_set(maker, object, "price", lb_report_json_money(former->price, former->currency));
    lb_maker_set(maker, object, "pack_quantity", lb_report_json_quantity(former->pack_quantity));
}

static void set_former_part(struct lb_maker *maker, json_t *object, const struct lb_former *former)
{
    lb_maker_set(maker, object, "part_type", lb_report_json_text(former->part_type));
    lb_maker_set(maker, object, "description", lb_report_json_text(former->description));
    lb_maker_set(maker, object, "spec", lb_report_json_text(former->spec));
}

static void set_former_application(struct lb_maker *maker, json_t *object, const struct lb_former *former)
{
    lb_maker_set(maker, object, "make", lb_report_json_text(former->make));
    lb_maker_set(maker, object, "model", lb_report_json_text(former->model));
    lb_maker_set(maker, object, "built_from", lb_report_json_text_or_null(former->built_from));
    lb_maker_set(maker, object, "built_to", lb_report_json_text_or_null(former->built_to));
    lb_maker_set(maker, object, "when", lb_report_json_text_or_null(former->when));
    lb_maker_set(maker, object, "position", lb_report_json_text_or_null(former->position));
}

/* Fields as the same kind has them above; file and line are of the last edition that had the row. */
static json_t *former_json(struct lb_maker *maker, const struct lb_part *part)
{
    json_t *array = lb_maker_array(maker);
    for (size_t i = 0; i < part->former_count; i++) {
        const struct lb_former *former = &part->former[i];
        json_t *object = lb_maker_object(maker);
        lb_maker_set(maker, object, "kind", lb_report_json_text(former->kind));
        lb_maker_set(maker, object, "file", lb_report_json_text(former->place.file));
        lb_maker_set(maker, object, "line", json_integer(former->place.line));
        lb_maker_set(maker, object, "gone", lb_report_json_text(former->gone));
        if (former->kind[0] == 'o')
            set_former_offer(maker, object, former);
        else if (former->kind[0] == 'p')
            set_former_part(maker, object, former);
        else
            set_former_application(maker, object, former);
        lb_maker_add(maker, array, object);
    }
    return array;
}

json_t *lb_report_part_json(const struct lb_part_card *card)
{
    struct lb_maker maker = {0};
    const struct lb_part *part = card->part;
    json_t *object = lb_report_part_name_json(&maker, part);
    lb_maker_set(&maker, object, "version", json_integer(1));
    lb_maker_set(&maker, object, "part_type", lb_report_json_text(part->part_type));
    lb_maker_set(&maker, object, "description", lb_report_json_text(part->description));
    lb_maker_set(&maker, object, "spec", lb_report_json_text(part->spec.text));
    lb_maker_set(&maker, object, "status",
                 lb_report_json_text(part->discontinued ? "discontinued" : "current"));
    lb_maker_set(&maker, object, "superseded_by",
                 groups_json(&maker, card->superseded_by, card->superseded_by_count));
    lb_maker_set(&maker, object, "current", groups_json(&maker, card->current, card->current_count));
    lb_maker_set(&maker, object, "same", parts_json(&maker, card->same, card->same_count));
    lb_maker_set(&maker, object, "instead", parts_json(&maker, card->instead, card->instead_count));
    lb_maker_set(&maker, object, "offers", offers_json(&maker, card));
    lb_maker_set(&maker, object, "applications", applications_json(&maker, card));
    lb_maker_set(&maker, object, "former", former_json(&maker, part));
    return lb_maker_end(&maker, object);
}
