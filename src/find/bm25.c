#include "find/bm25.h"

#include <math.h>

/* A word in more than half of all titles would count against a title that has it; it counts for next to
 * nothing instead, so that having it is never worse than lacking it. */
#define LEAST_IDF 1e-6

double lb_bm25_idf(int64_t documents, int64_t with_term)
{
    double idf = log(((double)(documents - with_term) + 0.5) / ((double)with_term + 0.5));
    return idf > LEAST_IDF ? idf : LEAST_IDF;
}

double lb_bm25_weight(double frequency, double length, double average, double k1, double b)
{
    double saturation = k1 * (1 - b + b * length / average);
    return frequency > 0 ? frequency * (k1 + 1) / (frequency + saturation) : 0;
}
