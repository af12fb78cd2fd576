/* How far dimensions are from one another, and the same in words. */
#include "find/dimension_parts.h"

#include "base/decimal.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum {
    MILLIMETRE = 1000,
    BELT_REACH = 25 * MILLIMETRE,
    THREAD_REACH = 5 * MILLIMETRE,
    INSIDE_REACH = MILLIMETRE / 2,
    SECTION_REACH = MILLIMETRE / 2,
    OTHER_RIBS_PART = 200, /* with other ribs: within a 200th of the length */
};

/* Another class counts like a few hundredths of the length; one that holds more is the lesser evil. A section
 * counts three times: an O-ring's groove gives way less to it than to a stretched ring, and as a section is
 * up to two and a half inside diameters, its tenth always weighs more than one of the inside diameter. */
static const double stronger_class = .03, weaker_class = .06, no_class = .05, section_weight = 3;

int32_t lb_dimension_size(const struct lb_spec *spec)
{
    return spec->kind == LB_SPEC_O_RING ? spec->inside : spec->length;
}

static int32_t at_least(int32_t part, int32_t least)
{
    return part > least ? part : least;
}

int32_t lb_dimension_reach(const struct lb_spec *wanted)
{
    if (wanted->kind == LB_SPEC_BELT)
        return at_least(wanted->length / 50, BELT_REACH);
    if (wanted->kind == LB_SPEC_THREAD)
        return at_least(wanted->length / 5, THREAD_REACH);
    return at_least(wanted->inside / 50, INSIDE_REACH);
}

/* Of the size that is looked along; a size that the part does not state is none that comes near. */
static double size_distance(const struct lb_spec *wanted, const struct lb_spec *offered)
{
    int32_t size = lb_dimension_size(wanted), other = lb_dimension_size(offered);
    if (!size || size == other)
        return 0;
    return !other || abs(size - other) > lb_dimension_reach(wanted) ? HUGE_VAL
                                                                    : abs(size - other) / (double)size;
}

static int32_t strength(const char *grade)
{
    return lb_thread_proof_load(8 * MILLIMETRE, grade); /* every class is tabled for M8 */
}

static double class_distance(const char *wanted, const char *offered)
{
    if (!wanted[0] || strcmp(wanted, offered) == 0)
        return 0;
    if (!offered[0])
        return no_class;
    return strength(wanted) && strength(offered) > strength(wanted) ? stronger_class : weaker_class;
}

static double thread_distance(const struct lb_spec *wanted, const struct lb_spec *offered)
{
    if (offered->diameter != wanted->diameter || (wanted->pitch && offered->pitch != wanted->pitch))
        return HUGE_VAL;
    return size_distance(wanted, offered) + class_distance(wanted->grade, offered->grade);
}

static double belt_distance(const struct lb_spec *wanted, const struct lb_spec *offered)
{
    if (offered->ribs == wanted->ribs)
        return size_distance(wanted, offered);
    if (abs(offered->ribs - wanted->ribs) != 1 ||
        abs(offered->length - wanted->length) > wanted->length / OTHER_RIBS_PART)
        return HUGE_VAL;
    return 1 + size_distance(wanted, offered);
}

static double o_ring_distance(const struct lb_spec *wanted, const struct lb_spec *offered)
{
    int32_t apart = wanted->section ? abs(offered->section - wanted->section) : 0;
    if (apart > SECTION_REACH)
        return HUGE_VAL;
    return size_distance(wanted, offered) + (apart ? section_weight * apart / wanted->section : 0);
}

double lb_dimension_distance(const struct lb_spec *wanted, const struct lb_spec *offered)
{
    if (wanted->kind != offered->kind)
        return HUGE_VAL;
    switch (wanted->kind) {
    case LB_SPEC_THREAD:
        return thread_distance(wanted, offered);
    case LB_SPEC_BELT:
        return belt_distance(wanted, offered);
    case LB_SPEC_O_RING:
        return o_ring_distance(wanted, offered);
    case LB_SPEC_NONE:
    case LB_SPEC_TEXT:
        break;
    }
    return HUGE_VAL;
}

static void separate(struct lb_buf *out)
{
    if (out->length)
        lb_buf_puts(out, ", ");
}

/* "5 mm": at most two decimals, none that are noughts. */
static void append_apart(struct lb_buf *out, int32_t micrometres)
{
    int32_t hundredths = (abs(micrometres) + 5) / 10;
    if (!hundredths)
        lb_buf_puts(out, "under 0.01");
    else
        lb_decimal_print(out, hundredths * (LB_MILLION / 100));
    lb_buf_puts(out, " mm");
}

static void append_size(struct lb_buf *out, const struct lb_spec *wanted, const struct lb_spec *offered)
{
    int32_t size = lb_dimension_size(wanted), more = lb_dimension_size(offered) - size;
    if (!size || !more)
        return;
    separate(out);
    append_apart(out, more);
    if (wanted->kind == LB_SPEC_O_RING)
        lb_buf_puts(out, more > 0 ? " wider inside" : " narrower inside");
    else
        lb_buf_puts(out, more > 0 ? " longer" : " shorter");
}

static void append_class(struct lb_buf *out, const char *wanted, const char *offered)
{
    if (!wanted[0] || strcmp(wanted, offered) == 0)
        return;
    separate(out);
    if (offered[0])
        lb_buf_printf(out, "class %s instead of %s", offered, wanted);
    else
        lb_buf_puts(out, "class not stated");
}

static void append_section(struct lb_buf *out, int32_t wanted, int32_t offered)
{
    if (!wanted || wanted == offered)
        return;
    separate(out);
    lb_buf_puts(out, "section ");
    append_apart(out, offered - wanted);
    lb_buf_puts(out, offered > wanted ? " thicker" : " thinner");
}

void lb_dimension_difference(struct lb_buf *out, const struct lb_spec *wanted, const struct lb_spec *offered)
{
    if (wanted->ribs != offered->ribs)
        lb_buf_printf(out, "%d rib%s instead of %d", (int)offered->ribs, offered->ribs == 1 ? "" : "s",
                      (int)wanted->ribs);
    append_size(out, wanted, offered);
    append_class(out, wanted->grade, offered->grade);
    append_section(out, wanted->section, offered->section);
}

static void append_length(struct lb_buf *out, const char *before, int32_t micrometres)
{
    if (!micrometres)
        return;
    lb_buf_puts(out, before);
    lb_decimal_print(out, micrometres * (LB_MILLION / MILLIMETRE));
}

void lb_dimension_show(struct lb_buf *out, const struct lb_spec *spec)
{
    if (spec->kind == LB_SPEC_BELT) {
        lb_buf_printf(out, "%d", (int)spec->ribs);
        append_length(out, "PK", spec->length);
    } else if (spec->kind == LB_SPEC_THREAD) {
        append_length(out, "M", spec->diameter);
        append_length(out, "x", spec->pitch);
        append_length(out, "x", spec->length);
        if (spec->grade[0])
            lb_buf_printf(out, " %s", spec->grade);
    } else if (spec->kind == LB_SPEC_O_RING) {
        append_length(out, "O-ring ", spec->inside);
        append_length(out, "x", spec->section);
    }
}
