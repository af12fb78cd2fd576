/* Where on the vehicle: words from front/rear, left/right, upper/lower, inner/outer.
 * Two positions match unless they contradict: `front` matches `front left`, `left` does not match `right`.
 *
 *     lb_position need, part;
 *     if (lb_position_parse("front left", &need) && lb_position_parse("left", &part))
 *         fits = lb_position_match(need, part);
 */
#ifndef LB_BASE_POSITION_H
#define LB_BASE_POSITION_H

#include <stdbool.h>

/* A set of words as bits; 0: anywhere. */
typedef unsigned char lb_position;

/* Reads words separated by blanks, `-`, `,` or `/`, without case; false, *out untouched, when there is
 * another word. Naming both words of a pair is let pass: both sides. NULL and blank are anywhere. */
bool lb_position_parse(const char *text, lb_position *out);
bool lb_position_match(lb_position a, lb_position b);

#endif
