/* How much a word that a title has says for it. The formula is Okapi BM25: S. E. Robertson, S. Walker et al.,
 * "Okapi at TREC-3" (1994), with the logarithm as in S. Robertson, H. Zaragoza, "The Probabilistic Relevance
 * Framework: BM25 and Beyond" (2009), eq. 3.15.
 *
 *     double idf = lb_bm25_idf(titles, titles_with_word);
 *     double score = idf * lb_bm25_weight(frequency, length, average, k1, b);
 */
#ifndef LB_FIND_BM25_H
#define LB_FIND_BM25_H

#include <stdint.h>

/* ln ((N - n + 0.5) / (n + 0.5)), at least 1e-6: 0 < n <= N. */
double lb_bm25_idf(int64_t documents, int64_t with_term);
/* f (k1 + 1) / (f + k1 (1 - b + b length / average)): 0 for f = 0, k1 + 1 at the most. */
double lb_bm25_weight(double frequency, double length, double average, double k1, double b);

#endif
