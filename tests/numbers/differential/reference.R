#!/usr/bin/env Rscript
# SPDX-License-Identifier: GPL-3.0-or-later
# reference.R COUNT SEED FOLDER: random small-sample cases of each method with the answers of R and its package survival, as
# lines of the check values (tests/data/check-values/README.md; the tolerance "*" is that of all keys), one file a method.
suppressPackageStartupMessages(library(survival))
arguments <- commandArgs(trailingOnly = TRUE)
count <- as.integer(arguments[1]); seed <- as.integer(arguments[2]); folder <- arguments[3]
kind <- paste("reference library: R", paste(R.version$major, R.version$minor, sep = "."))

number <- function(x) {                 # 15 digits where they read back equal
  short <- sprintf("%.15g", x)
  ifelse(is.na(x), "null", ifelse(as.numeric(short) == x, short, sprintf("%.17g", x)))
}
json <- function(x) {
  if (is.null(x)) return("null")
  if (is.list(x) && !is.null(names(x)))
    return(paste0("{", paste0('"', names(x), '":', vapply(x, json, ""), collapse = ","), "}"))
  if (is.list(x)) return(paste0("[", paste(vapply(x, json, ""), collapse = ","), "]"))
  if (is.character(x)) return(paste0('"', x, '"'))
  if (is.logical(x) && !anyNA(x)) return(tolower(as.character(x)))
  if (inherits(x, "single_number")) return(number(unclass(x)))
  paste0("[", paste(number(x), collapse = ","), "]")
}
one <- function(x) structure(as.numeric(x), class = "single_number")
ones <- function(...) lapply(list(...), function(x) if (is.character(x) || is.list(x) || length(x) != 1) x else one(x))

# A case is a function that draws an input and answers list(input, expect, tolerance).
write_cases <- function(method, draw, source) {
  out <- file(file.path(folder, paste0("r-", method, ".jsonl")), "w")
  set.seed(seed)
  for (i in seq_len(count)) {
    case <- draw()
    line <- list(id = sprintf("r-%s-%d", method, i), source = source, source_kind = kind,
                 input = c(list(method = method), case$input), expect = case$expect, tolerance = case$tolerance)
    cat(json(line), "\n", sep = "", file = out)
  }
  close(out)
}
case <- function(input, expect, relative = 1e-8, absolute = 1e-10)
  list(input = input, expect = expect, tolerance = list("*" = ones(rel = relative, abs = absolute)))
some <- function(low, high) sample(low:high, 1)
level <- function() sample(c(0.8, 0.9, 0.95, 0.99), 1)
sample_values <- function(n) {          # a workshop's readings: rounded, so that there are ties; now and then skewed
  centre <- runif(1, -5, 60); spread <- 10^runif(1, -2, 1)
  raw <- switch(some(1, 3), rnorm(n), rexp(n), runif(n))
  values <- round(centre + spread * raw, some(1, 4))
  if (n > 1 && all(values == values[1])) values[1] <- values[1] + spread
  values
}

write_cases("describe", function() {
  x <- sample_values(some(4, 30)); n <- length(x); d <- x - mean(x)
  m2 <- mean(d^2); g1 <- mean(d^3) / m2^1.5; g2 <- mean(d^4) / m2^2 - 3
  q <- unname(quantile(x, c(0.25, 0.5, 0.75)))
  case(list(values = x),
       ones(n = n, mean = mean(x), sd = sd(x), min = min(x), max = max(x), q1 = q[1], median = q[2], q3 = q[3],
            skewness = g1 * sqrt(n * (n - 1)) / (n - 2), kurtosis = (n - 1) / ((n - 2) * (n - 3)) * ((n + 1) * g2 + 6),
            autocorrelation = acf(x, lag.max = 1, plot = FALSE)$acf[2]))
}, "mean, sd, quantile type 7, acf; moments by the formulas of Joanes and Gill")

write_cases("proportion", function() {
  n <- some(1, 200); k <- some(0, n); level <- level()
  exact <- binom.test(k, n, conf.level = level)$conf.int
  wilson <- suppressWarnings(prop.test(k, n, conf.level = level, correct = FALSE))$conf.int
  jeffreys <- qbeta(c((1 - level) / 2, (1 + level) / 2), k + 0.5, n - k + 0.5)
  if (k == 0) jeffreys[1] <- 0
  if (k == n) jeffreys[2] <- 1
  case(ones(k = k, n = n, confidence = level),
       list(estimate = one(k / n), exact = as.numeric(exact), wilson = as.numeric(wilson), jeffreys = jeffreys))
}, "binom.test, prop.test without correction, qbeta")

write_cases("compare", function() {
  before <- sample_values(some(2, 14)); after <- round(before[1] + sd(before) * rnorm(some(2, 14)), some(1, 5))
  if (all(after == after[1])) after[1] <- after[1] + 1
  level <- level()
  t <- t.test(after, before, conf.level = level)
  w <- suppressWarnings(wilcox.test(after, before))
  expect <- list(difference = one(mean(after) - mean(before)), interval = as.numeric(t$conf.int), t = one(t$statistic),
                 df = one(t$parameter), p = one(t$p.value), rank_u = one(w$statistic), rank_p = one(w$p.value),
                 variance_ratio = one(var(after) / var(before)))
  if (length(before) > 2 && length(after) > 2) {
    deviations <- c(abs(before - median(before)), abs(after - median(after)))
    side <- factor(rep(1:2, c(length(before), length(after))))
    a <- anova(lm(deviations ~ side))
    if (a[["Mean Sq"]][2] > 1e-18) expect <- c(expect, ones(spread_f = a[["F value"]][1], spread_p = a[["Pr(>F)"]][1]))
  }
  case(list(before = before, after = after, confidence = one(level)), expect, 1e-7)
}, "t.test, wilcox.test, anova of the deviations from the medians")

write_cases("compare-shares", function() {
  n1 <- some(1, 40); n2 <- some(1, 40); k1 <- some(0, n1); k2 <- some(0, n2)
  p <- fisher.test(matrix(c(k1, n1 - k1, k2, n2 - k2), 2))$p.value
  case(list(before = ones(k = k1, n = n1), after = ones(k = k2, n = n2), confidence = one(0.9)),
       ones(difference = k2 / n2 - k1 / n1, p = p))
}, "fisher.test")

write_cases("fix", function() {
  n1 <- some(1, 40); n2 <- some(1, 40); k1 <- some(0, n1); k2 <- some(0, n2)
  p <- fisher.test(matrix(c(k2, n2 - k2, k1, n1 - k1), 2), alternative = "less")$p.value
  case(list(before = ones(k = k1, n = n1), after = ones(k = k2, n = n2), tolerated = one(0.1), confidence = one(0.9),
            attempt = one(1), strict = FALSE),
       ones(fisher = p, confidence = pbinom(k2, n2, 0.1, lower.tail = FALSE)))
}, "fisher.test with alternative less, pbinom")

write_cases("adjust", function() {
  p <- round(runif(some(1, 12))^some(1, 4), 5)
  case(list(p = p), list(holm = p.adjust(p, "holm")))
}, "p.adjust")

write_cases("line", function() {
  n <- some(3, 15); x <- round(runif(n, 0, 20), 2); y <- round(2 + runif(1, -3, 3) * x + rnorm(n), 2)
  if (length(unique(x)) < 2) x[1] <- x[1] + 1
  level <- level(); fit <- lm(y ~ x); s <- summary(fit)
  case(list(x = x, y = y, confidence = one(level)),
       list(slope = one(coef(fit)[2]), intercept = one(coef(fit)[1]), se_slope = one(s$coefficients[2, 2]),
            se_intercept = one(s$coefficients[1, 2]), residual_sd = one(s$sigma), r2 = one(s$r.squared),
            slope_interval = as.numeric(confint(fit, 2, level))), 1e-7)
}, "lm")

write_cases("groups", function() {
  sizes <- sample(2:7, some(2, 5), replace = TRUE); values <- round(rnorm(sum(sizes), 10, 2), 3)
  group <- factor(rep(seq_along(sizes), sizes)); a <- anova(lm(values ~ group))
  case(list(groups = unname(split(values, group))),
       ones(f = a[["F value"]][1], df_between = a$Df[1], df_within = a$Df[2], p = a[["Pr(>F)"]][1]), 1e-7)
}, "anova of lm")

write_cases("median", function() {
  x <- sample_values(some(6, 40)); n <- length(x); level <- sample(c(0.8, 0.9, 0.95), 1)
  r <- 1:floor(n / 2); cover <- 1 - 2 * pbinom(r - 1, n, 0.5); r <- max(r[cover >= level]); s <- sort(x)
  case(list(values = x, confidence = one(level)),
       ones(median = median(x), low = s[r], high = s[n + 1 - r], coverage = 1 - 2 * pbinom(r - 1, n, 0.5)))
}, "pbinom")

write_cases("weibull", function() {
  n <- some(5, 25); life <- round(rweibull(n, runif(1, 0.8, 4), 1000), 1) + 1; stop <- round(runif(n, 300, 2500), 1)
  failed <- life[life <= stop]; stopped <- stop[life > stop]
  if (length(unique(failed)) < 2) { failed <- c(200, 400); stopped <- c(500, 500) }
  level <- level(); at <- 500; z1 <- qnorm(level); z2 <- qnorm((1 + level) / 2)
  time <- c(failed, stopped); ended <- rep(1:0, c(length(failed), length(stopped)))
  fit <- survreg(Surv(time, ended) ~ 1, dist = "weibull", control = survreg.control(maxiter = 200, rel.tolerance = 1e-13))
  v <- vcov(fit); mu <- unname(coef(fit)); s <- fit$scale
  k <- log(-log(0.9)); se10 <- sqrt(v[1, 1] + (s * k)^2 * v[2, 2] + 2 * s * k * v[1, 2])
  u <- (log(at) - mu) / s; seu <- sqrt(v[1, 1] / s^2 + u^2 * v[2, 2] + 2 * u / s * v[1, 2])
  case(list(failed = as.list(lapply(failed, one)), stopped = as.list(lapply(stopped, one)), confidence = one(level), at = one(at)),
       list(shape = one(1 / s), scale = one(exp(mu)), shape_interval = exp(c(-1, 1) * z2 * sqrt(v[2, 2])) / s,
            scale_interval = exp(mu + c(-1, 1) * z2 * sqrt(v[1, 1])), b10 = one(exp(mu + s * k)),
            b10_low = one(exp(mu + s * k - z1 * se10)), survival = one(exp(-exp(u))),
            survival_low = one(exp(-exp(u + z1 * seu)))), 1e-5)
}, "survreg with the delta method")

write_cases("survival", function() {
  n <- some(3, 20); time <- round(rexp(n, 0.05) + 1, some(0, 1)); ended <- rbinom(n, 1, 0.7)
  if (sum(ended) == 0) ended[1] <- 1
  fit <- survfit(Surv(time, ended) ~ 1, conf.type = "log-log"); hit <- fit$n.event > 0
  se <- ifelse(fit$surv > 0, fit$surv * fit$std.err, NA); q <- quantile(fit, 0.5)
  case(list(times = time, ended = ended),
       list(time = fit$time[hit], at_risk = fit$n.risk[hit], survival = fit$surv[hit], se = se[hit],
            median = one(unname(q$quantile)), median_interval = as.numeric(c(q$lower, q$upper))))
}, "survfit with log-log intervals")

write_cases("gauge", function() {
  persons <- some(2, 4); parts <- some(3, 8); trials <- some(2, 3)
  part <- rnorm(parts, 10, 1); person <- rnorm(persons, 0, sample(c(0, 0.3), 1)); cross <- sample(c(0, 0.3), 1)
  grid <- expand.grid(trial = 1:trials, part = 1:parts, person = 1:persons)
  both <- matrix(rnorm(parts * persons, 0, cross), parts)
  y <- round(part[grid$part] + person[grid$person] + both[cbind(grid$part, grid$person)] + rnorm(nrow(grid), 0, 0.2), 3)
  a <- anova(lm(y ~ factor(person) * factor(part), grid)); ms <- a[["Mean Sq"]]; df <- a$Df
  pooled <- pf(ms[3] / ms[4], df[3], df[4], lower.tail = FALSE) > 0.25
  error <- if (pooled) (ms[3] * df[3] + ms[4] * df[4]) / (df[3] + df[4]) else ms[4]
  below <- if (pooled) error else ms[3]
  av2 <- max(0, (ms[1] - below) / (parts * trials)) + if (pooled) 0 else max(0, (ms[3] - error) / trials)
  pv2 <- max(0, (ms[2] - below) / (persons * trials)); grr <- sqrt(error + av2)
  values <- lapply(1:persons, function(p) lapply(1:parts, function(q) y[grid$person == p & grid$part == q]))
  case(list(values = values, way = "anova"),
       ones(ev = sqrt(error), av = sqrt(av2), grr = grr, pv = sqrt(pv2), tv = sqrt(error + av2 + pv2),
            grr_share = grr / sqrt(error + av2 + pv2)), 1e-7, 1e-8)
}, "anova of lm, components by the expected mean squares")

constants <- local({
  known <- list()
  function(size) {
    key <- as.character(size)
    if (is.null(known[[key]])) {
      tail <- function(w) 1 - ptukey(w, size, Inf)
      d2 <- integrate(tail, 0, 20, rel.tol = 1e-9)$value
      second <- integrate(function(w) 2 * w * tail(w), 0, 20, rel.tol = 1e-9)$value
      known[[key]] <<- list(d2 = d2, d3 = sqrt(second - d2^2), c4 = sqrt(2 / (size - 1)) * exp(lgamma(size / 2) - lgamma((size - 1) / 2)))
    }
    known[[key]]
  }
})
write_cases("subgroups", function() {
  size <- some(2, 8); k <- some(2, 8); values <- round(rnorm(size * k, 20, 1), 3); chart <- sample(c("range", "deviation"), 1)
  groups <- unname(split(values, rep(1:k, each = size))); of <- constants(size)
  seen <- vapply(groups, function(g) if (chart == "range") diff(range(g)) else sd(g), 0)
  unit <- if (chart == "range") of$d2 else of$c4; spread <- if (chart == "range") of$d3 else sqrt(1 - of$c4^2)
  sigma <- mean(seen) / unit
  case(list(groups = groups, chart = chart),
       ones(mean = mean(values), lower = mean(values) - 3 * sigma / sqrt(size), upper = mean(values) + 3 * sigma / sqrt(size),
            spread = unit * sigma, spread_lower = max(0, unit - 3 * spread) * sigma, spread_upper = (unit + 3 * spread) * sigma),
       1e-6)
}, "ptukey integrated, lgamma")

write_cases("tolerance", function() {
  n <- some(2, 60); coverage <- sample(c(0.75, 0.9, 0.95, 0.99), 1); level <- level(); sides <- some(1, 2)
  if (sides == 1)
    return(case(ones(n = n, coverage = coverage, confidence = level, sides = 1),
                ones(k = qt(level, n - 1, qnorm(coverage) * sqrt(n)) / sqrt(n)), 1e-6))
  half <- function(z) vapply(z, function(one_z) sqrt(qchisq(coverage, 1, one_z^2)), 0)
  excess <- function(k) 2 * integrate(function(z) pchisq((n - 1) * half(z)^2 / k^2, n - 1, lower.tail = FALSE) *
                                        dnorm(z, 0, 1 / sqrt(n)), 0, 9 / sqrt(n), rel.tol = 1e-9)$value - level
  howe <- qnorm((1 + coverage) / 2) * sqrt((n - 1) * (1 + 1 / n) / qchisq(1 - level, n - 1))
  case(ones(n = n, coverage = coverage, confidence = level, sides = 2),
       ones(k = uniroot(excess, howe * c(0.9, 1.1), tol = 1e-10, extendInt = "upX")$root, k_howe = howe), 1e-6)
}, "qt with noncentrality; the integral of ISO 16269-6 by integrate and uniroot")

write_cases("capability", function() {
  x <- sample_values(some(4, 30)); x <- x + rnorm(length(x)) * 1e-3; n <- length(x); level <- level()
  lower <- mean(x) - runif(1, 1, 6) * sd(x); upper <- mean(x) + runif(1, 1, 6) * sd(x)
  within <- mean(abs(diff(x))) / (2 / sqrt(pi)); z <- qnorm((1 + level) / 2)
  cpk <- min(upper - mean(x), mean(x) - lower) / (3 * within); ppk <- min(upper - mean(x), mean(x) - lower) / (3 * sd(x))
  wide <- function(c) c + c(-1, 1) * z * sqrt(1 / (9 * n) + c^2 / (2 * (n - 1)))
  case(list(values = x, lower = one(lower), upper = one(upper), target = one(mean(x) + 0.3 * sd(x)), confidence = one(level)),
       ones(cp = (upper - lower) / (6 * within), cpk = cpk, pp = (upper - lower) / (6 * sd(x)), ppk = ppk,
            cpm = (upper - lower) / (6 * sqrt(var(x) * 1.09)), cpk_low = wide(cpk)[1], ppk_high = wide(ppk)[2],
            sd_within = within), 1e-7)
}, "the formulas of NIST 6.1.6 and Bissell 1990")
