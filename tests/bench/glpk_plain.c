/* GLPK by itself on LP files: what somebody gets who writes the plain model down and calls the solver.
 *
 *     glpk_plain SECONDS FILE...
 *
 * glp_intopt with its presolver, everything else as it comes; at most SECONDS a file. One JSON line each:
 * file, optimal, objective (null: nothing found), seconds (on the clock, of glp_intopt alone). */
#include <glpk.h>

#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

static double now(void)
{
    struct timespec at;
    clock_gettime(CLOCK_MONOTONIC, &at);
    return (double)at.tv_sec + 1e-9 * (double)at.tv_nsec;
}

static bool solve(const char *path, double seconds)
{
    glp_prob *problem = glp_create_prob();
    glp_iocp settings;
    if (glp_read_lp(problem, NULL, path)) {
        fprintf(stderr, "glpk_plain: %s is no LP file that GLPK reads\n", path);
        return false;
    }
    glp_init_iocp(&settings);
    settings.presolve = GLP_ON;
    settings.tm_lim = (int)(seconds * 1000);
    settings.msg_lev = GLP_MSG_OFF;
    double begun = now();
    int failed = glp_intopt(problem, &settings);
    double took = now() - begun;
    int status = glp_mip_status(problem);
    printf("{\"file\": \"%s\", \"optimal\": %s, \"objective\": ", path,
           !failed && status == GLP_OPT ? "true" : "false");
    if (status == GLP_OPT || status == GLP_FEAS)
        printf("%.4f", glp_mip_obj_val(problem));
    else
        printf("null");
    printf(", \"seconds\": %.6f}\n", took);
    fflush(stdout);
    glp_delete_prob(problem);
    return true;
}

int main(int argc, char **argv)
{
    double seconds = argc > 2 ? strtod(argv[1], NULL) : 0;
    if (seconds <= 0) {
        fprintf(stderr, "usage: glpk_plain SECONDS FILE...\n");
        return 2;
    }
    glp_term_out(GLP_OFF);
    for (int i = 2; i < argc; i++)
        if (!solve(argv[i], seconds))
            return 3;
    return 0;
}
