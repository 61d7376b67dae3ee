/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Distributions. num-dist.c is the only file that speaks to libRmath: its header renames struct members by macros, its
 * rank table is unguarded global state, and its noncentral t is only an approximation above a noncentrality of 37.62.
 * Everything here is thread-safe. An argument outside its range gives NAN.
 */

double num_normal_density (double z);
double num_normal_lower (double z);
double num_normal_upper (double z);
double num_normal_lower_log (double z);
double num_normal_between (double low, double high);
double num_normal_quantile (double p);
double num_t_lower (double t, double df);
double num_t_upper (double t, double df);
double num_t_quantile (double p, double df);
double num_noncentral_t_lower (double t, double df, double ncp);
double num_chi_square_density (double x, double df);
double num_chi_square_lower (double x, double df);
double num_chi_square_upper (double x, double df);
double num_chi_square_quantile (double p, double df);
double num_f_lower (double f, double df_above, double df_below);
double num_f_upper (double f, double df_above, double df_below);
double num_beta_lower (double x, double a, double b);
double num_beta_upper (double x, double a, double b);
double num_beta_lower_log (double x, double a, double b);
double num_beta_quantile (double p, double a, double b);
double num_beta_quantile_upper (double p, double a, double b);
double num_beta_function_log (double a, double b);
double num_gamma_function_log (double x);
double num_binomial_lower (double k, double n, double share);
double num_binomial_upper (double k, double n, double share);
double num_hypergeometric (double k, double marked, double unmarked, double drawn);
double num_hypergeometric_lower (double k, double marked, double unmarked, double drawn);
double num_range_upper (double range, double size);
double num_rank_sum_lower (double u, double m, double n);
