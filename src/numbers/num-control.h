/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "num-status.h"

/*
 * Control charts: their constants, which are computed rather than typed in, the signals, and the charts of single values,
 * of subgroups and of counts.
 */

/* A pattern complete at a point; rules are numbered as by Nelson 1984. */
typedef struct
{
  size_t index;
  unsigned rule;
} NumSignal;

#define NUM_SIGNALS_A_POINT 5 /* signals that one point can give at most */
#define NUM_RULES_ALL ((1u << 1) | (1u << 2) | (1u << 3) | (1u << 5) | (1u << 6))
#define NUM_RULES_COUNTS ((1u << 1) | (1u << 2))
#define NUM_RULE_ONE (1u << 1)

double num_range_mean (size_t size);
double num_range_sd (size_t size);
double num_deviation_mean (size_t size);
double num_moving_range (const double *values, size_t n);
size_t num_signals (const double *z, size_t n, unsigned rules, NumSignal *out);

/* The chart of single values with moving ranges of two. */
typedef struct
{
  double mean;
  double mr_bar;
  double lower;
  double upper;
  double mr_upper;
} NumIndividuals;

NumStatus num_individuals (const double *values, size_t n, NumIndividuals *out, NumSignal *signals, size_t *signal_count);

typedef enum
{
  NUM_SPREAD_RANGE,
  NUM_SPREAD_DEVIATION
} NumSpread;

/* One subgroup on its two charts. */
typedef struct
{
  double mean;
  double lower;
  double upper;
  double spread;        /* the range or deviation seen */
  double spread_centre; /* the one expected */
  double spread_lower;
  double spread_upper;
} NumSubgroup;

NumStatus num_subgroups (const NumSample *groups, size_t count, NumSpread spread, double *mean, NumSubgroup *points,
                         NumSignal *mean_signals, size_t *mean_count, NumSignal *spread_signals, size_t *spread_count);

/* One point of a chart of shares or rates. */
typedef struct
{
  double value;
  double lower;
  double upper;
} NumRatePoint;

NumStatus num_fraction_chart (const double *counts, const double *sizes, size_t n, double *mean, NumRatePoint *points,
                              NumSignal *signals, size_t *signal_count);
NumStatus num_count_chart (const double *counts, const double *sizes, size_t n, double *mean, NumRatePoint *points,
                           NumSignal *signals, size_t *signal_count);
