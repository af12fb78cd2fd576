/* The rows of service maps that have all words of a query: those of fastenings and consumables, by what is
 * fastened and with what (keys `m` of catalog/terms.h).
 *
 *     lb_map_lists_open(&lists, pairs, titles, &err);
 *     lb_map_rows(lists, query, 400, &rows, &err);      // "thermostat bolts": rows 17, 4711
 *     lb_map_lists_close(lists);
 */
#ifndef LB_FIND_MAP_ROWS_H
#define LB_FIND_MAP_ROWS_H

#include "find/query.h"

/* The lists that were read, kept from query to query. */
struct lb_map_lists;

/* Borrows both. */
LB_CHECK lb_status lb_map_lists_open(struct lb_map_lists **out, struct lb_pairs *pairs,
                                     struct lb_titles *titles, struct lb_error *err);
void lb_map_lists_close(struct lb_map_lists *lists);
/* Appends the rows in which each slot of the query is had in one of its ways, or as it was typed, ascending,
 * `most` at the most (rows that are gone may be among them). Not those whose component alone has all slots:
 * the component itself is meant; and not those whose part type alone has: titles say as much. */
LB_CHECK lb_status lb_map_rows(struct lb_map_lists *lists, const struct lb_query *query, size_t most,
                               struct lb_ids *rows, struct lb_error *err);
/* Whether some row has the word as it was typed. */
LB_CHECK lb_status lb_map_has(struct lb_map_lists *lists, const struct lb_query_word *word, bool *has,
                              struct lb_error *err);

#endif
